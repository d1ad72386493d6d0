"""A touch on each quarter of the draft: what it changes, and that a second touch takes it back."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.facing import FROM_RIGHT
from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import Lifted
from companion.present.draft_sheet import Corner, DraftPart, Quarter, Square, draft_sheet
from companion.present.draft_touch import can_change, can_edit, changed
from companion.present.draft_words import sheet_words, square_words
from companion.present.harness import Box
from tests.screens.warps import twill_draft

DRAFT = twill_draft()
LIFTED = replace(DRAFT, lifting=Lifted(DRAFT.sheds()))


@pytest.mark.parametrize(
    ("draft", "square"),
    [
        (DRAFT, Square(Quarter.TIE_UP, 0, 3)),
        (DRAFT, Square(Quarter.TIE_UP, 0, 0)),
        (DRAFT, Square(Quarter.TREADLING, 2, 5)),
        (DRAFT, Square(Quarter.TREADLING, 1, 5)),
        (LIFTED, Square(Quarter.TREADLING, 0, 0)),
        (LIFTED, Square(Quarter.TREADLING, 3, 0)),
        (DRAFT, Square(Quarter.WARP_COLOURS, 7, 0)),
        (DRAFT, Square(Quarter.WEFT_COLOURS, 0, 7)),
    ],
    ids=str,
)
def test_a_second_touch_takes_the_first_one_back(draft, square):
    once = changed(draft, square)
    assert once != draft
    assert changed(once, square) == draft


def test_a_touch_changes_just_what_lies_under_it():
    assert changed(DRAFT, Square(Quarter.TIE_UP, 0, 3)).lifting.tieup[0] == shed_of([1, 2, 4])
    assert changed(DRAFT, Square(Quarter.TREADLING, 2, 5)).lifting.treadling[5] == treadle_set([2, 3])
    assert changed(LIFTED, Square(Quarter.TREADLING, 3, 0)).lifting.plan[0] == shed_of([1, 2, 4])
    assert changed(DRAFT, Square(Quarter.WARP_COLOURS, 7, 0)).warp == (0,) * 7 + (1,) + (0,) * 16
    assert changed(DRAFT, Square(Quarter.WEFT_COLOURS, 0, 7)).weft[7] == 0


def test_an_end_moves_to_the_shaft_touched_and_off_it_when_it_is_there():
    moved = changed(DRAFT, Square(Quarter.THREADING, 5, 3))
    assert (DRAFT.threading[5], moved.threading[5]) == (1, 3)
    assert changed(moved, Square(Quarter.THREADING, 5, 3)).threading[5] is None
    assert moved.threading[:5] + moved.threading[6:] == DRAFT.threading[:5] + DRAFT.threading[6:]


def test_the_cloth_cannot_be_changed_itself_nor_can_the_only_yarn():
    assert not can_change(Square(Quarter.CLOTH, 0, 0), DRAFT)
    assert changed(DRAFT, Square(Quarter.CLOTH, 0, 0)) == DRAFT
    one_yarn = replace(DRAFT, yarns=DRAFT.yarns[:1], weft=(0,) * DRAFT.picks)
    assert not can_change(Square(Quarter.WEFT_COLOURS, 0, 0), one_yarn)
    assert can_change(Square(Quarter.WEFT_COLOURS, 0, 0), DRAFT)


def test_squares_too_small_for_a_finger_are_not_edited():
    assert can_edit(draft_sheet(DRAFT, Box(0, 0, 800, 400), 30, FROM_RIGHT))
    assert not can_edit(draft_sheet(DRAFT, Box(0, 0, 800, 40), 30, FROM_RIGHT))


@pytest.mark.parametrize(
    ("quarter", "column", "row", "words"),
    [
        (Quarter.THREADING, 11, 2, "end 12 on shaft 3"),
        (Quarter.TIE_UP, 1, 3, "treadle 2, shaft 4"),
        (Quarter.TREADLING, 1, 4, "pick 5, treadle 2"),
        (Quarter.CLOTH, 1, 4, "end 2, pick 5"),
        (Quarter.WARP_COLOURS, 1, 0, "end 2 of oat wool"),
        (Quarter.WEFT_COLOURS, 0, 2, "pick 3 with indigo"),
    ],
)
def test_every_square_is_named_as_weavers_count(quarter, column, row, words):
    assert square_words(DRAFT, Square(quarter, column, row)) == words


def test_what_part_of_the_draft_is_shown_is_said():
    assert sheet_words(DRAFT, draft_sheet(DRAFT, Box(0, 0, 800, 480), 16, FROM_RIGHT)) == "24 ends · 12 picks"
    part = draft_sheet(DRAFT, Box(0, 0, 300, 210), 16, FROM_RIGHT, Corner(4, 3))
    assert sheet_words(DRAFT, part) == "ends 5 to 17 of 24 · picks 4 to 10 of 12"
    shafts = draft_sheet(
        replace(DRAFT, shafts=8), Box(0, 0, 788, 350), 48, FROM_RIGHT, Corner(shaft=9), DraftPart.THREADING
    )
    assert sheet_words(DRAFT, shafts) == "ends 1 to 15 of 24 · shafts 5 to 8 of 8"
    sinking = replace(DRAFT, rising=False)
    assert (
        sheet_words(sinking, draft_sheet(sinking, Box(0, 0, 800, 480), 16, FROM_RIGHT))
        == "24 ends · 12 picks · ties sink"
    )


def test_a_lift_plan_is_named_by_its_shafts():
    assert square_words(LIFTED, Square(Quarter.TREADLING, 1, 4)) == "pick 5, shaft 2"
