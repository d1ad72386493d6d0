"""Squares marked while weaving or later: of each the newest mark stands, held against a plain dictionary."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.gamp import Area
from companion.weaving import decide
from companion.weaving.errors import ContradictionError, WeavingError
from companion.weaving.events import Entry, SquareMarked
from companion.weaving.marking import mark_square
from companion.weaving.progress import begin, evolve
from tests.weaving.world import AtLoom, lever_draft, lever_warp

WARP = lever_warp(lever_draft([0, 1] * 4), lever_draft([2, 2]))
AREAS = (Area(0, 4, 0, 4, "first"), Area(4, 8, 0, 4), Area(0, 4, 4, 8))
MARKS = st.tuples(st.sampled_from(AREAS), st.booleans(), st.sampled_from(["", "soft", "lies flat"]))


def standing(loom):
    return {(one.area.first_end, one.area.first_pick): (one.starred, one.text) for one in loom.progress.now.squares}


@given(st.lists(st.one_of(MARKS, st.just("undo"), st.just("weave")), max_size=12))
@settings(max_examples=60)
def test_the_newest_mark_of_a_square_stands_whatever_is_marked_and_undone(deeds):
    loom, told = AtLoom(WARP), [{}]
    for deed in deeds:
        if deed == "weave":
            if loom.progress.now.next_pick < 8:
                loom.weave(1)
                told.append(told[-1])
        elif deed == "undo":
            if len(told) > 1:
                loom.do(decide.undo)
                told.pop()
        else:
            area, starred, text = deed
            after = dict(told[-1])
            after.pop((area.first_end, area.first_pick), None)
            if not starred and not text and after == told[-1]:
                with pytest.raises(WeavingError, match="no mark"):
                    mark_square(WARP, loom.progress, area, starred, text)
                continue
            if starred or text:
                after[area.first_end, area.first_pick] = (starred, text)
            loom.do(mark_square, area, starred, text)
            told.append(after)
    assert standing(loom) == told[-1]


def test_a_piece_that_is_off_the_loom_is_marked_later_and_on_a_pause():
    loom = AtLoom(WARP)
    loom.weave(8)
    for step in (decide.finish_piece, decide.start_piece, decide.pause):
        loom.do(step)
    loom.do(mark_square, AREAS[0], text="the soft one", piece=0)
    (one,) = loom.progress.now.squares
    assert (one.piece, one.area, one.text) == (0, Area(0, 4, 0, 4), "the soft one")
    with pytest.raises(WeavingError, match="no such square"):
        mark_square(WARP, loom.progress, AREAS[0])


@pytest.mark.parametrize(
    "bounds", [(0, 0, 9, 0, 4), (0, 4, 4, 0, 4), (0, 0, 4, 0, 9), (2, 0, 4, 0, 2), (-1, 0, 4, 0, 2)]
)
def test_a_journal_that_marks_what_is_not_on_the_warp_does_not_belong_to_it(bounds):
    with pytest.raises(ContradictionError, match="not on this warp"):
        evolve(WARP, begin(WARP), Entry(1, 0, SquareMarked(*bounds)))
