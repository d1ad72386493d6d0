"""A loom in the trade's words, with a picture of each kind that is the same on the screen and on the help page."""

from __future__ import annotations

import pytest

from companion.draft.units import Units
from companion.present.loom_drawing import ACROSS, Disc, Stroke, loom_drawing
from companion.present.loom_kinds import DOES, KINDS, kind_button, loom_in_full, loom_words
from companion.present.looms import ask_loom_facts
from companion.present.which_loom import ask_loom
from companion.remap.loom.loom import Action, Loom
from companion.weaving.warp import LoomProfile
from companion.workshop.places import asset
from tests.present.draw_looms import path, picture


def test_each_kind_is_called_as_the_trade_calls_it():
    assert KINDS == {
        Action.RISING: "jack",
        Action.SINKING: "counterbalance",
        Action.COUNTERMARCHE: "countermarche",
        Action.LEVERS: "table loom with levers",
    }
    assert loom_words(Loom(4, 6)) == "4 shafts, 6 treadles, jack"
    assert loom_words(Loom(8, 0, Action.LEVERS)) == "8 shafts, table loom with levers"
    assert loom_in_full(Loom(8, 0, Action.LEVERS)) == "8 shafts, table loom with levers"
    reach_2 = Loom(4, 6, Action.COUNTERMARCHE, reach=2)
    assert loom_in_full(reach_2) == "4 shafts, 6 treadles, countermarche, up to 2 adjacent treadles under a foot"


@pytest.mark.parametrize("action", list(Action))
def test_a_picture_stays_in_its_frame_and_is_unlike_the_others(action):
    drawing = loom_drawing(action)
    for shape in drawing:
        points = (
            shape.points if isinstance(shape, Stroke) else [shape.centre] if isinstance(shape, Disc) else shape.corners
        )
        assert all(0 <= value <= ACROSS for point in points for value in point)
    assert [other for other in Action if loom_drawing(other) == drawing] == [action]


@pytest.mark.parametrize("action", list(Action))
def test_the_help_page_shows_the_pictures_of_the_screen_and_says_how_to_tell_each(action):
    """Written by `python -m tests.present.draw_looms`."""
    assert path(action).read_text(encoding="utf-8") == picture(action)
    page = asset("help/looms.md").read_text(encoding="utf-8")
    assert f"(pictures/{path(action).name})" in page
    assert f"`{action.value}`" in page


def kinds_asked(asked):
    return {answer.words: (answer.detail, answer.drawn) for answer in asked.answers}


def test_both_questions_of_the_kind_show_the_pictures_and_what_is_seen():
    every = {kind_button(action): (DOES[action], loom_drawing(action)) for action in Action}
    facts = ask_loom_facts(LoomProfile("Floor loom", Loom(4, 6)), "", Units.METRIC)
    (kind,) = (answer for answer in facts.answers if answer.words == "Jack")
    assert kinds_asked(kind.leads_to()) == every
    treadles = ask_loom("towel")
    (six,) = (answer for answer in treadles.answers if answer.words == "6 treadles")
    with_treadles = {words: shown for words, shown in every.items() if words != "Table loom"}
    assert kinds_asked(six.leads_to()) == with_treadles
    assert "Table loom" in [answer.words for answer in treadles.answers]
