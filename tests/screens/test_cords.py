"""Under the loom: the list of cords in a real window, ticked by touch, on disk, and there again after a break."""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import replace
from itertools import combinations

import pytest

from companion.present.button_words import BACK
from companion.present.cords import (
    ALL_TIED,
    LOOK_AT_THEM,
    REST_TIED,
    TICK_FIRST,
    TIED_ALREADY,
    TIED_TOO,
    not_shown_words,
)
from companion.remap.loom.loom import Footing, Loom
from companion.weaving.events import Paused, PickWoven, Resumed, ReTied, TieUpAccepted, TreadleTied, Undone
from companion.weaving.warp import Stage
from tests.screens.at_the_loom import at_the_screen, events_in
from tests.screens.looked_at import SIZES, texts_clipped, touch_targets
from tests.screens.newcomer import go_to_the_cords
from tests.weaving.world import two_stage_warp


@pytest.fixture
def journal_path(tmp_path, display):
    return tmp_path / "two.journal"


def accepted(path, *more):
    from companion.journal.store import Journal

    with Journal.create(path, two_stage_warp(), at_ms=0) as journal:
        for event in (TieUpAccepted(), *more):
            journal.append(event, 0)


@contextmanager
def under_the_loom(path, **shown):
    """Open a new warp that its weaver says is threaded."""
    with at_the_screen(path, **shown) as stage:
        go_to_the_cords(stage)
        yield stage


def holds(path, number):
    def held():
        return len(events_in(path)) == number

    return held


def test_a_tie_up_just_taken_is_ticked_treadle_by_treadle_before_the_first_pick(journal_path):
    accepted(journal_path)
    with under_the_loom(journal_path) as stage:
        cords = stage.app.place.cords
        assert cords.row(0).ids.above.text == "tie 1 2"
        stage.key("space")
        assert (cords.ids.detail.text, events_in(journal_path)) == (TICK_FIRST, [TieUpAccepted()])
        stage.touch(cords.row(1))
        stage.until(lambda: cords.row(1).done)
        assert cords.button(REST_TIED)
        stage.touch(cords.row(0))
        stage.until(lambda: cords.signs.complete)
        stage.touch(cords.button(ALL_TIED))
        stage.until(holds(journal_path, 4))
        assert stage.app.place.weave.parent is stage.app.place
        stage.key("space")
        stage.until(holds(journal_path, 5))
    assert events_in(journal_path)[1:] == [TreadleTied(0, 1), TreadleTied(0, 0), ReTied(0), PickWoven(0)]


def test_that_all_is_tied_with_nothing_ticked_is_asked_once_more_and_undo_brings_the_list_back(journal_path):
    from companion.present.weave import WeaveButton

    accepted(journal_path)
    with under_the_loom(journal_path) as stage:
        cords = stage.app.place.cords
        stage.touch(cords.button(TIED_ALREADY))
        assert cords.ids.detail.text == "Nothing is ticked: are all 2 treadles tied like this?"
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(cords) == []
        stage.touch(cords.button(LOOK_AT_THEM))
        assert events_in(journal_path) == [TieUpAccepted()]
        stage.touch(cords.button(TIED_ALREADY))
        stage.touch(cords.button(TIED_TOO))
        # On disk it is a moment before the screen hears of it.
        stage.until(lambda: stage.app.place._progress.now.number == 2)
        stage.touch(stage.app.place.weave.button(WeaveButton.UNDO))
        stage.touch(stage.app.place.ask.button("Undo it"))
        stage.until(lambda: stage.app.place.weave.message.startswith("undone: "))
        stage.key("space")
        stage.until(lambda: stage.app.place.cords is not None)
    assert events_in(journal_path) == [TieUpAccepted(), ReTied(0), Undone(2)]


def test_between_stages_next_leads_to_the_list_and_two_quick_presses_tie_nothing(journal_path):
    with at_the_screen(journal_path, two_stage_warp()) as stage:
        for pick in range(3):
            stage.key("space")
            stage.until(holds(journal_path, pick + 1))
        # Both presses are made before the news of the first one is there.
        stage.app.post(stage.app.place.go_on)
        stage.app.post(stage.app.place.go_on)
        stage.until(lambda: stage.app.place.weave.signs.ties_first)
        assert events_in(journal_path) == [PickWoven(pick) for pick in range(4)]
        stage.key("space")
        cords = stage.app.place.cords
        assert cords.ids.headline.text == "Tie stage 2 of 2"
        assert (cords.row(0).ids.above.text, cords.row(0).ids.below.text) == ("untie 1 2", "tie 3 4")
        stage.touch(cords.row(0))
        stage.until(lambda: cords.row(0).done)
        stage.touch(cords.row(0))
        stage.until(lambda: not cords.row(0).done)
        stage.touch(cords.button(BACK))
        assert stage.app.place.weave.parent is stage.app.place
    assert events_in(journal_path)[4:] == [TreadleTied(1, 0), TreadleTied(1, 0, tied=False)]


def test_what_was_ticked_is_there_again_after_a_break(journal_path):
    accepted(journal_path, TreadleTied(0, 1), Paused())
    with at_the_screen(journal_path) as stage:
        stage.until(holds(journal_path, 4))
        assert [stage.app.place.cords.row(treadle).done for treadle in (0, 1)] == [False, True]
    assert events_in(journal_path)[3] == Resumed()


@pytest.mark.parametrize("text_scale", [1.0, 1.3], ids=["usual", "large"])
def test_the_list_fits_with_large_rows_that_lie_apart(journal_path, text_scale):
    accepted(journal_path, TreadleTied(0, 1))
    with at_the_screen(journal_path, text_scale=text_scale) as stage:
        for size in SIZES:
            stage.resize(*size)
            cords = stage.app.place.cords
            assert texts_clipped(cords) == []
            boxes = [(*target.to_window(*target.pos), *target.size) for target in touch_targets(cords)]
            assert len(boxes) == 5
            for x, y, width, height in boxes:
                assert min(width, height) >= 48
                assert min(x, y) >= 0
                assert x + width <= size[0] + 1
                assert y + height <= size[1] + 1
            for one, other in combinations(boxes, 2):
                assert (
                    one[0] + one[2] <= other[0] + 1
                    or other[0] + other[2] <= one[0] + 1
                    or one[1] + one[3] <= other[1] + 1
                    or other[1] + other[3] <= one[1] + 1
                )
            # The caution is no small print on any window: a fiftieth of the shorter side, and in its box.
            assert cords.ids.caution.font_size * 0.711 >= min(size) / 50
            assert cords.ids.caution.height <= cords.ids.caution.parent.height
            # Read with the head under the loom: the treadle's number is at least a fourteenth of the shorter side high.
            assert cords.row(0).ids.number.font_size * 0.711 >= min(size) / 14


def test_for_the_left_hand_the_last_button_comes_first(journal_path):
    accepted(journal_path, TreadleTied(0, 1))
    with at_the_screen(journal_path, mirrored=True) as stage:
        cords = stage.app.place.cords
        assert cords.button(cords.signs.tied).x < cords.width / 4
        assert cords.button(BACK).x > cords.width / 4
        stage.touch(cords.button(BACK))
        assert stage.app.place.cords is None


def many_treadles():
    """A warp with ten treadles to tie, more than a small window shows at once."""
    warp = two_stage_warp()
    (piece,) = warp.pieces
    tied = Stage(0, 7, piece.stages[0].tieup + piece.stages[1].tieup * 4)
    feet = tuple(Footing(left=(treadle - 1,)) for treadle in (1, 2, 1, 2, 3, 4, 3, 4))
    return replace(
        warp,
        loom=replace(warp.loom, loom=Loom(4, 10)),
        pieces=(replace(piece, stages=(tied,), footings=feet),),
    )


def test_treadles_that_were_on_no_page_are_asked_about_before_all_is_said_to_be_tied(journal_path):
    from companion.journal.store import Journal

    with Journal.create(journal_path, many_treadles(), at_ms=0) as journal:
        journal.append(TieUpAccepted(), 0)
    with under_the_loom(journal_path, text_scale=1.3) as stage:
        stage.resize(800, 480)
        cords = stage.app.place.cords
        shown = sum(len(column.children) for column in cords.ids.columns.children)
        assert 1 < shown < 9
        stage.touch(cords.button(TIED_ALREADY))
        numbers = [str(treadle + 1) for treadle in range(shown, 10)]
        assert cords.ids.detail.text == not_shown_words(numbers)
        assert texts_clipped(cords) == []
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(cords) == []
        stage.resize(800, 480)
        assert cords.ids.detail.text == not_shown_words(numbers)
        # A second touch at the same place ties nothing, and shows what was not shown.
        stage.touch(cords.button(LOOK_AT_THEM))
        assert cords.row(shown)
        assert events_in(journal_path) == [TieUpAccepted()]
        stage.touch(cords.button(TIED_ALREADY))
        stage.touch(cords.button(TIED_TOO))
        stage.until(holds(journal_path, 2))
    assert events_in(journal_path) == [TieUpAccepted(), ReTied(0)]


def test_the_question_names_the_treadles():
    assert not_shown_words(["6"]) == "Treadle 6 was not shown: is it tied too?"
    assert not_shown_words(["5", "6"]) == "Treadles 5 and 6 were not shown: are they tied too?"
    assert not_shown_words(["4", "5", "6"]) == "Treadles 4, 5 and 6 were not shown: are they tied too?"


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_six_treadles_lie_on_one_page_and_their_shafts_stand_at_the_size_of_a_title(display, size):
    from kivy.clock import Clock

    from companion.present.cords import CordRow, CordSigns
    from companion.screens.cords import CordsScreen
    from companion.screens.look import look_of, window_sizes
    from companion.screens.theme import LIGHT

    rows = tuple(CordRow(treadle, str(treadle + 1), "", f"tie {treadle + 1} 7 8", False) for treadle in range(6))
    caution = "Warp slack, brake set, shafts and lams propped, nobody treads; the loom maker's word comes first"
    sizes = window_sizes(*size)
    signs = CordSigns("Tie the treadles", "18 ties at 6 treadles to make", caution, rows, "It is tied", False)
    cords = CordsScreen(signs, look_of(LIGHT), sizes, size=size)
    for _ in range(5):
        Clock.tick()
    shown = [cords.row(treadle) for treadle in range(6)]
    assert {int(row.ids.above.font_size) for row in shown} == {int(sizes.title)}
    assert texts_clipped(cords) == []
