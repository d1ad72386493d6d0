"""Finding the place with a real finger: in the picture of the piece, and in the few touches after it."""

from __future__ import annotations

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.model import Section
from companion.draft.units import Units
from companion.present.asking import Asked
from companion.present.find import ask_on, ask_place
from companion.present.find_questions import WHERE_IN_PIECE
from companion.present.first_look import DRESSED
from companion.present.place_search import begin_search
from companion.weaving import decide
from companion.weaving.events import ClothTold
from tests.screens.at_the_loom import at_the_screen, events_in, shows
from tests.screens.looked_at import texts_clipped, touch_targets
from tests.screens.stage import Stage
from tests.weaving.world import AtLoom, lever_draft, lever_warp

MOST_PAGES = 60


@pytest.fixture
def journal_path(tmp_path, display):
    return tmp_path / "towel.journal"


def banded_warp():
    """Plain weave with four picks of another weft, never at the same distance."""
    weft = [1 if pick in (10, 21, 43, 75) else 0 for pick in range(90)]
    return lever_warp(lever_draft(weft, sheds=(0b0101, 0b1010), ends=60))


def point_at(stage, place):
    """Touch the picture there and have the places that fit shown; return their picks (indices)."""
    picture = next(one for one in touch_targets(stage.app.place.ask) if hasattr(one, "place_at"))
    stage.drag([picture.place_at(*place)])
    stage.touch(stage.app.place.ask.button("Show what fits"))
    return [answer.rows[0] for answer in stage.app.place.ask.asked.answers]


def test_a_finger_in_the_picture_of_the_piece_leads_to_what_lies_there_in_every_window(journal_path):
    from companion.present.piece_map import PieceMap
    from companion.present.weave import WeaveButton

    drawn = PieceMap(0, 90)
    with at_the_screen(journal_path, banded_warp()) as stage:
        stage.touch(stage.app.place.ask.button(DRESSED))
        for pick in (2, 3):
            stage.key("space")
            stage.until(shows(stage, f"pick {pick} of 90"))
        stage.touch(stage.app.place.weave.button(WeaveButton.FIND))

        def asked():
            return stage.app.place.ask.asked

        while asked().pointed is None:
            stage.touch(stage.app.place.ask.button("Not sure"))
        assert asked().words == WHERE_IN_PIECE
        for size in ((800, 480), (800, 1280)):
            stage.resize(*size)
            assert texts_clipped(stage.app.place.ask) == []
            shown = point_at(stage, drawn.place_of(84))
            assert 84 in shown, (size, shown)
            assert max(abs(one - 84) for one in shown) <= 3
            for _ in range(2):
                stage.touch(stage.app.place.ask.button("Back"))
        point_at(stage, drawn.place_of(40))
        stage.touch(stage.app.place.ask.button("Pick 41"))
        stage.until(lambda: len(events_in(journal_path)) == 3)
    assert events_in(journal_path)[-1] == ClothTold(woven=tuple(range(2, 41)))


def pages_of_finding():
    """Every kind of page that finding the place may lead to, once, from a place that a jump has made unclear."""
    loom = AtLoom(lever_warp(lever_draft([0, 1, 2] * 8 + [0] * 30, [Section("border", 24), Section("body", 30)])))
    loom.weave(6)
    loom.do(decide.jump, 9)
    first = ask_place(loom.warp, loom.progress, FROM_LEFT, Units.METRIC)
    search = begin_search(loom.warp, loom.progress, FROM_LEFT, Units.METRIC)
    waiting, met = [first, ask_on(search.within(search.among & False))], {}
    unsure = first
    while not unsure.words.startswith("Nothing"):
        unsure = next(answer for answer in unsure.foot if answer.words == "Not sure").leads_to()
        waiting.append(unsure)
    while waiting and len(met) < MOST_PAGES:
        asked = waiting.pop(0)
        kind = "".join(letter for letter in asked.words if not letter.isdigit())
        if met.setdefault(kind, asked) is not asked:
            continue
        for answer in (*asked.foot, *asked.answers, *asked.strips, *asked.pad):
            step = answer.leads_to() if answer.words else None
            waiting += [step] if isinstance(step, Asked) else []
        if asked.pointed is not None:
            waiting += [asked.pointed.leads_to(across, 0.5) for across in (0.1, 0.9)]
    return tuple(met.values())


def test_not_sure_and_what_leads_out_stand_at_the_same_place_on_every_page(display):
    from companion.screens.flow_place import FlowPlace
    from companion.screens.window import FellsideWindow

    pages = pages_of_finding()
    words = " ".join(page.words for page in pages)
    for kind in (
        "How did it come",
        "Nothing tells them apart",
        "No place in this",
        "end? Pick",
        "from this picture",
    ):
        assert kind in words
    window = FellsideWindow(lambda window: FlowPlace(Asked("Well?", ()), window.surroundings, lambda _result: None))
    with Stage(window) as stage:
        window.place.take_way_back(lambda: None)
        for size in ((800, 480), (480, 800), (1280, 800)):
            stage.resize(*size)
            places = {}
            for number, page in enumerate(pages):
                # The first page stands first, where Cancel would lead to nothing else than Back.
                window.place._flow.begin(Asked("Before", ()) if number else page)
                if number:
                    window.place.lead_on(page)
                stage.pump(2)
                for button in window.place.ask.foot.buttons:
                    corner = tuple(map(round, button.to_window(*button.pos)))
                    places.setdefault(button.text, {}).setdefault(corner, page.words)
            for name in ("Not sure", "Back", "Cancel"):
                assert len(places[name]) == 1, (size, name, places[name])
