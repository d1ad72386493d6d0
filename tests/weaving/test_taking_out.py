"""Taking out, against the picks as they were woven, backwards."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.weaving import decide
from companion.weaving.errors import WeavingError
from companion.weaving.pick_view import this_pick
from companion.weaving.state import side_of
from companion.weaving.taking_out import pick_below_fell, taking_out
from tests.weaving.world import AtLoom, lever_draft, lever_warp, two_stage_warp


@settings(max_examples=80, deadline=None)
@given(st.lists(st.integers(0, 2), min_size=3, max_size=12), st.data())
def test_taking_out_is_weaving_backwards(weft, data):
    loom = AtLoom(lever_warp(lever_draft(weft)))
    woven = []
    for _ in range(2):
        for _ in range(data.draw(st.integers(1, len(weft)))):
            if (view := this_pick(loom.warp, loom.progress)) is None:
                break
            woven.append((view.pick, view.shed, view.shuttle, view.comes_from.opposite, view.comes_from))
            loom.weave(1)
        loom.do(decide.jump, data.draw(st.integers(0, len(weft) - 1)))
    picks = data.draw(st.integers(1, len(woven)))
    steps = taking_out(loom.warp, loom.progress, picks)
    assert [(s.pick, s.shed, s.shuttle, s.pull_from, s.pull_to) for s in steps] == woven[::-1][:picks]
    for step in steps:
        assert loom.do(decide.take_out).event.pick == step.pick
        assert side_of(loom.warp.pieces[0], loom.now, step.yarn) is step.pull_to
        assert this_pick(loom.warp, loom.progress).comes_from is step.pull_to


def test_taking_out_across_a_re_tie_says_so():
    loom = AtLoom(two_stage_warp())
    loom.weave(4)
    loom.do(decide.re_tie)
    loom.weave(2)
    assert [step.re_tie for step in taking_out(loom.warp, loom.progress, 4)] == [None, None, 0, None]


def test_no_more_can_be_taken_out_than_lies_there():
    loom = AtLoom(lever_warp(lever_draft([0] * 4)))
    loom.weave(2)
    with pytest.raises(WeavingError, match="2 lie in the cloth"):
        taking_out(loom.warp, loom.progress, 3)
    loom.do(decide.take_out)
    loom.do(decide.take_out)
    with pytest.raises(WeavingError, match="none to take out"):
        loom.do(decide.take_out)


def test_a_fault_lies_so_many_rows_below_the_newest_pick():
    loom = AtLoom(lever_warp(lever_draft([0] * 9)))
    loom.weave(4)
    loom.do(decide.jump, 1)
    loom.weave(2)
    # Woven 1 2 3 4 2 3: pick index 2 lies newest at the top, index 3 two below it.
    assert [pick_below_fell(loom.progress, rows) for rows in range(6)] == [2, 1, 3, 2, 1, 0]
    with pytest.raises(WeavingError, match="no pick lies 6 below"):
        pick_below_fell(loom.progress, 6)
