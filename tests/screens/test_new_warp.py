"""More told of a new warp by touch: measures, further pieces, and that it is tied already; in a real window."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest

from companion.draft.model import Lifted
from companion.draft.reading import read_draft
from companion.draft.units import Units
from companion.draft.wif_write import write_wif
from companion.present.new_warp import Fact, fact_words
from companion.present.piece_feet import FEET_SAME
from companion.present.plan_words import early_warnings
from companion.weaving.amounts import warp_left
from companion.weaving.progress import begin
from companion.workshop.places import asset
from tests.screens.looked_at import SIZES, texts_clipped, touch_targets
from tests.screens.newcomer import choose, choose_listed, go_to_the_cords, opened
from tests.screens.stage import Stage
from tests.screens.warps import twill_draft


@pytest.fixture
def home(tmp_path, display, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    documents = tmp_path / "Documents"
    documents.mkdir()
    towel = twill_draft()
    sheds = towel.sheds()
    napkin = replace(towel, title="Napkin", lifting=Lifted(tuple(reversed(sheds))))
    other = replace(towel, title="Scarf", threading=tuple(reversed(towel.threading)))
    for name, draft in (("towel", towel), ("napkin", napkin), ("scarf", other)):
        (documents / f"{name}.wif").write_bytes(write_wif(draft))
    return tmp_path


def to_the_tie_up(stage):
    for words in ("Open a draft", "towel", "4 treadles", "Jack"):
        choose_listed(stage, words)
    stage.until(lambda: stage.app.place.signs.accept == "Set up the loom")


def to_more_of_the_warp(stage):
    to_the_tie_up(stage)
    stage.touch(stage.app.place.button("Tell more"))


def row(stage, fact):
    words = fact_words(fact, Units.METRIC)
    while words not in {button.text for button in stage.app.place.ask.ids.answers.children}:
        choose(stage, "More")
    return stage.app.place.ask.button(words)


def tell(stage, fact, *steps):
    stage.pump(4)
    stage.touch(row(stage, fact))
    for step in (*steps, "Done"):
        choose(stage, step)


def the_warp(name):
    from companion.workshop import app

    with app.shelf().open_to_read(name) as journal:
        return journal.warp, [type(entry.event).__name__ for entry in journal.entries()]


def test_what_is_told_of_a_warp_counts_at_the_loom(home):
    program = opened()
    with program, Stage(program.window) as stage:
        to_more_of_the_warp(stage)
        assert row(stage, Fact.LENGTH).detail == "not set"
        tell(stage, Fact.LENGTH, "7", "0")
        assert row(stage, Fact.LENGTH).detail == "70 cm"
        tell(stage, Fact.PICKS_PER_CM, *"2.5")
        tell(stage, Fact.TAKE_UP)
        tell(stage, Fact.SHRINKAGE, "9")
        tell(stage, Fact.WIDTH, "6", "0")
        tell(stage, Fact.FRINGE)
        tell(stage, Fact.WASTE, "5", "5")
        # 12 picks at 2.5 per cm are 4.8 cm; a tenth of the warp is taken up: 4.8 / 0.9 = 5.3; fringe 20, waste 55.
        assert stage.app.place.ask.ids.detail.text.startswith("It takes 81 cm of warp: 11 cm short")
        choose(stage, "Weave it")
        go_to_the_cords(stage)
    warp, _events = the_warp("Towel")
    assert (warp.winding.length_cm, warp.winding.take_up, warp.winding.shrinkage) == (70, 0.1, 0.09)
    assert (warp.width_cm, warp.loom.loom_waste_cm) == (60, 55)
    assert (warp.pieces[0].picks_per_cm, warp.pieces[0].fringe_cm) == (2.5, 20)
    assert warp_left(warp, begin(warp)).short_piece == 0
    assert early_warnings(warp, begin(warp), Units.METRIC) == ("the warp is 11 cm short for piece 1 (Towel)",)


def test_a_fact_is_left_out_again_and_the_tie_up_is_one_touch_away(home):
    program = opened()
    with program, Stage(program.window) as stage:
        to_more_of_the_warp(stage)
        tell(stage, Fact.LENGTH)
        stage.touch(row(stage, Fact.LENGTH))
        choose(stage, "Leave it out")
        assert row(stage, Fact.LENGTH).detail == "not set"
        choose(stage, "Back")
        assert stage.app.place.ids.headline.text == "It fits"


def test_a_warp_wider_than_the_loom_is_told_of_and_what_was_told_stays(home):
    from companion.remap.loom.loom import Loom
    from companion.weaving.warp import LoomProfile
    from companion.workshop import app
    from companion.workshop.looms_file import save_looms

    save_looms(app.looms_file(), [LoomProfile("Small loom", Loom(4, 4), weaving_width_cm=45)])
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "towel", "Small loom"):
            choose(stage, words)
        stage.until(lambda: stage.app.place.signs.accept == "Set up the loom")
        stage.touch(stage.app.place.button("Tell more"))
        tell(stage, Fact.WIDTH)
        choose(stage, "Weave it")
        assert "50 cm wide in the reed; loom 'Small loom' weaves 45 cm" in stage.app.place.ask.ids.detail.text
        assert texts_clipped(stage.app.place) == []
        tell(stage, Fact.WIDTH, "4", "0")
        choose(stage, "Weave it")
        go_to_the_cords(stage)
    assert the_warp("Towel")[0].width_cm == 40


def test_another_piece_is_woven_on_the_same_warp_and_one_threaded_otherwise_is_refused(home):
    program = opened()
    with program, Stage(program.window) as stage:
        to_more_of_the_warp(stage)
        choose(stage, "Add a piece")
        stage.until(lambda: stage.app.place.ask.ids.words.text == "Which draft next?")
        rows = [(row.text, row.detail) for row in reversed(stage.app.place.ask.ids.answers.children)]
        assert rows[0] == ("Towel", "once more")
        # Of the drafts in Documents those that fit come first, though the scarf is newer.
        assert [(name, detail.replace("just now", "")) for name, detail in rows[1:4]] == [
            ("napkin", "Napkin ·  · Documents"),
            ("towel", "Towel ·  · Documents"),
            ("scarf", "threaded differently"),
        ]
        # They are told of like drafts anywhere: with a little of their cloth.
        assert all(answer.picture is not None for answer in stage.app.place.ask.asked.answers[1:4])
        choose_listed(stage, "scarf")
        stage.until(lambda: stage.app.place.ask.ids.detail.text.startswith("Scarf is threaded differently"))
        assert texts_clipped(stage.app.place) == []
        choose_listed(stage, "napkin")
        stage.until(lambda: stage.app.place.ask.ids.words.text == "Towel")
        assert stage.app.place.ask.button("2 pieces").detail == "no tie changes between them"
        tell(stage, Fact.SPACER)
        choose(stage, "Weave it")
        go_to_the_cords(stage)
    warp, _events = the_warp("Towel and 1 more")
    assert [piece.name for piece in warp.pieces] == ["Towel", "Napkin"]
    assert [piece.spacer_cm for piece in warp.pieces] == [5, 0]
    assert warp.pieces[0].stages[0].tieup == warp.pieces[1].stages[0].tieup


def test_pieces_are_woven_in_the_order_that_changes_fewest_cords(home):
    from companion.remap.loom.loom import Action, Loom
    from companion.remap.loom.tieup_text import parse_tieup
    from companion.weaving.warp import LoomProfile
    from companion.workshop import app
    from companion.workshop.looms_file import save_looms

    tied = parse_tieup("1 3, 2 4, 1 2 3, 2 3 4", Action.RISING)
    save_looms(app.looms_file(), [LoomProfile("Floor loom", Loom(4, 4), tied)])
    apron = replace(twill_draft(), title="Apron", lifting=Lifted((*(tie.up for tie in tied),) * 3))
    (home / "Documents" / "apron.wif").write_bytes(write_wif(apron))
    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "Open a draft")
        choose_listed(stage, "towel")
        choose(stage, "Floor loom")
        stage.until(lambda: stage.app.place.signs.accept == "Set up the loom")
        stage.touch(stage.app.place.button("Tell more"))
        choose(stage, "Add a piece")
        stage.until(lambda: stage.app.place.ask.ids.words.text == "Which draft next?")
        choose_listed(stage, "apron")
        stage.until(lambda: stage.app.place.ask.ids.words.text == "Towel")
        choose(stage, "2 pieces")
        rows = [(row.text, row.detail) for row in reversed(stage.app.place.ask.ids.answers.children)]
        # The apron is on the loom already, and the towel takes "1 2, 1 4, 2 3, 3 4": 2 + 2 + 1 + 1 cords. Woven
        # first, it would take these, and the apron as many again.
        assert rows == [("1. Apron", "no tie changes before"), ("2. Towel", "6 ties change before")]
        choose(stage, "Done")
        # What is on the warp is woven once more in a touch, and a draft may lie in any folder.
        ask = stage.app.place.ask
        for pieces, words in ((3, ["Apron"]), (4, ["Any folder", "Documents", "towel"])):
            choose(stage, "Add a piece")
            stage.until(lambda: ask.ids.words.text == "Which draft next?")
            rows = [(row.text, row.detail) for row in reversed(ask.ids.answers.children)]
            assert rows[:2] == [("Apron", "once more"), ("Towel", "once more")]
            for one in words:
                assert "." not in [answer.detail for answer in ask.asked.answers]
                shown = [ask.ids.answers, ask.foot.children[0]]
                stage.until(lambda one=one, shown=shown: any(row.text == one for box in shown for row in box.children))
                choose(stage, one)
            stage.until(lambda pieces=pieces: any(row.text == f"{pieces} pieces" for row in ask.ids.answers.children))
        choose(stage, "Weave it")
        stage.until(lambda: app.shelf().names())
        stage.pump(4)
    (name,) = app.shelf().names()
    warp, _events = the_warp(name)
    assert [piece.draft.title for piece in warp.pieces] == ["Apron", "Apron", "Towel", "Towel"]
    assert warp.pieces[0].stages[0].tieup == tied


def test_the_same_feet_for_every_piece_are_chosen_by_touch_and_kept_when_a_piece_is_added(home):
    for number in (1, 4, 2):
        draft = read_draft(asset(f"drafts/diversified-plain-weave-four-shaft-{number}.txt").read_bytes())
        (home / "Documents" / f"mat{number}.wif").write_bytes(write_wif(replace(draft, title=f"Mat {number}")))
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "mat1", "8 treadles", "Jack"):
            choose_listed(stage, words)
        stage.until(lambda: stage.app.place.signs.accept == "Set up the loom")
        stage.touch(stage.app.place.button("Tell more"))
        headline = stage.app.place.ask.ids.words

        def add(name):
            choose(stage, "Add a piece")
            stage.until(lambda: headline.text == "Which draft next?")
            choose_listed(stage, name)
            stage.until(lambda: headline.text == "Mat 1")

        add("mat4")
        assert stage.app.place.ask.button("Feet").detail == "they differ"
        choose(stage, "Feet")
        stage.until(lambda: headline.text == "Which feet?")
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(stage.app.place) == []
        choose(stage, FEET_SAME)
        assert stage.app.place.ask.button("Feet").detail == "the same in every piece"
        add("mat2")
        assert stage.app.place.ask.button("Feet").detail == "the same in every piece"
        choose(stage, "Weave it")
        go_to_the_cords(stage)
    warp, _events = the_warp("Mat 1 and 2 more")
    assert len(warp.pieces) == 3
    assert len({piece.footings for piece in warp.pieces}) == 1
    assert len({piece.stages[0].tieup for piece in warp.pieces}) > 1


def test_a_piece_is_left_out_again(home):
    program = opened()
    with program, Stage(program.window) as stage:
        to_more_of_the_warp(stage)
        choose(stage, "Add a piece")
        stage.until(lambda: stage.app.place.ask.ids.words.text == "Which draft next?")
        choose(stage, "napkin")
        stage.until(lambda: stage.app.place.ask.ids.words.text == "Towel")
        for words in ("2 pieces", "1. Towel", "Leave it out"):
            choose(stage, words)
        stage.until(lambda: stage.app.place.ask.ids.words.text == "Towel")
        choose(stage, "Weave it")
        go_to_the_cords(stage)
    warp, _events = the_warp("Towel")
    assert warp.pieces[0].draft.title == "Napkin"


def test_a_search_for_an_order_shows_a_sign_of_life_and_is_stopped_or_left(home, monkeypatch):
    from companion.remap.pieces import plan_pieces
    from companion.wiring import new_warp

    asked = []

    def endless(drafts, loom, present, should_stop, so_far):
        asked.append(should_stop)
        found = plan_pieces(drafts, loom, present=present)
        if len(asked) > 1:
            so_far(found)
        while not should_stop():
            pass
        return found

    monkeypatch.setattr(new_warp, "plan_pieces", endless)
    monkeypatch.setattr(new_warp, "TELL_EVERY_S", 0.05)
    program = opened()
    with program, Stage(program.window) as stage:
        ask = stage.app.place.ask
        to_more_of_the_warp(stage)
        ask = stage.app.place.ask
        choose(stage, "Add a piece")
        stage.until(lambda: ask.ids.words.text == "Which draft next?")
        choose(stage, "napkin")
        assert ask.ids.words.text == "Looking for the order"
        stage.until(lambda: ask.ids.detail.text.endswith(" s so far"))
        choose(stage, "Back")
        stage.until(asked[0])
        assert ask.ids.words.text == "Towel"
        choose(stage, "Add a piece")
        stage.until(lambda: ask.ids.words.text == "Which draft next?")
        choose(stage, "napkin")
        stage.until(lambda: " s so far: an order with " in ask.ids.detail.text)
        choose(stage, "Stop")
        stage.until(lambda: ask.ids.words.text == "Towel")
        assert ask.button("2 pieces")


def test_a_tie_up_that_is_on_the_loom_already_is_said_with_the_same_touch(home):
    program = opened()
    with program, Stage(program.window) as stage:
        to_the_tie_up(stage)
        stage.touch(stage.app.place.button("Tied: weave on"))
        assert stage.app.place.cords is None
        stage.touch(stage.app.place.weave.ids.next_area)
        stage.until(lambda: stage.app.place.weave.ids.count.text == "pick 2 of 12")
    _warp, events = the_warp("Towel")
    assert events[:3] == ["TieUpAccepted", "ReTied", "PickWoven"]


@pytest.mark.parametrize("text_scale", [1.0, 1.3], ids=["usual", "large"])
def test_the_pages_of_a_new_warp_fit_every_window(home, text_scale):
    from companion.present.preferences import Preferences
    from companion.workshop.preference_file import preference_file, save_preferences

    def fits_every_window():
        for size in SIZES:
            stage.resize(*size)
            targets = touch_targets(stage.app.place)
            assert texts_clipped(stage.app.place) == []
            assert all(min(target.size) >= 48 and target.x >= 0 and target.right <= size[0] for target in targets)
            for one, other in combinations(targets, 2):
                assert one.right <= other.x or other.right <= one.x or one.top <= other.y or other.top <= one.y

    save_preferences(preference_file(), Preferences(text_scale=text_scale))
    program = opened()
    with program, Stage(program.window) as stage:
        to_the_tie_up(stage)
        fits_every_window()
        stage.touch(stage.app.place.button("Tell more"))
        fits_every_window()
        stage.touch(row(stage, Fact.LENGTH))
        fits_every_window()
        choose(stage, "Done")
        choose(stage, "Add a piece")
        stage.until(lambda: stage.app.place.ask.ids.words.text == "Which draft next?")
        fits_every_window()
        choose(stage, "napkin")
        stage.until(lambda: stage.app.place.ask.ids.words.text == "Towel")
        fits_every_window()
        choose_listed(stage, "2 pieces")
        fits_every_window()
