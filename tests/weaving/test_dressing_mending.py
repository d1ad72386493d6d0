"""How a mistake is mended: what belongs there, and how much comes out, against taking out one by one."""

from __future__ import annotations

from itertools import accumulate

import pytest

from companion.draft.sley import Sley
from companion.present.mending_words import mending_words
from companion.weaving.dressing_commands import begin_task, go_on_dressing, plan_sley, settle_task
from companion.weaving.dressing_events import DressingTask, TaskState
from companion.weaving.dressing_mending import DentMending, Mending, dent_mending_of, hanging, mending_of, sleyed
from tests.weaving.test_dressing_view import asset_warp
from tests.weaving.world import AtLoom

THREADING, SLEYING = DressingTask.THREADING, DressingTask.SLEYING


def threaded(done, from_last=False):
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    loom.do(begin_task, task=THREADING, from_last=from_last)
    loom.do(go_on_dressing, task=THREADING, count=done)
    return loom


@pytest.mark.parametrize("from_last", [False, True])
def test_as_many_ends_come_out_as_until_the_wrong_ones_are_out(from_last):
    loom = threaded(20, from_last)
    order = range(90)[::-1] if from_last else range(90)
    hang = list(order[:20])
    assert sorted(hang) == list(hanging(loom.warp, loom.now.dressing))
    for first, last in [(order[4], order[4]), tuple(sorted((order[7], order[10]))), (order[19], order[19])]:
        wrong = set(range(first, last + 1))
        still, out = list(hang), 0
        while wrong & set(still):
            still.pop()
            out += 1
        shafts = loom.warp.pieces[0].draft.threading[first : last + 1]
        assert mending_of(loom.warp, loom.now.dressing, first, last) == Mending(first, last, shafts, True, out)
    mending = mending_of(loom.warp, loom.now.dressing, order[20])
    assert (mending.threaded, mending.out) == (False, None)


def test_a_threading_that_was_only_said_to_be_done_hangs_whole_and_nothing_is_taken_out_of_the_count():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    assert not hanging(loom.warp, loom.now.dressing)
    loom.do(settle_task, task=THREADING, state=TaskState.DONE)
    assert hanging(loom.warp, loom.now.dressing) == range(90)
    mending = mending_of(loom.warp, loom.now.dressing, 5)
    assert (mending.threaded, mending.out) == (True, None)


def test_a_wrong_dent_says_its_ends_and_how_many_dents_come_out():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    dents = (1, 2, 0, 2) * 18
    loom.do(plan_sley, sley=Sley(dents, 4.0))
    loom.do(begin_task, task=SLEYING)
    loom.do(go_on_dressing, task=SLEYING, count=10)
    assert sleyed(loom.warp, loom.now.dressing) == range(10)
    after = list(accumulate(dents))
    for dent in range(10):
        first, last = after[dent] - dents[dent], after[dent] - 1
        assert dent_mending_of(loom.warp, loom.now.dressing, dent) == DentMending(dent, first, last, True, 10 - dent)
    beyond = dent_mending_of(loom.warp, loom.now.dressing, 10)
    assert (beyond.sleyed, beyond.out) == (False, None)


@pytest.mark.parametrize("from_last", [False, True])
def test_once_all_ends_hang_they_come_out_from_the_nearer_edge_and_out_of_the_reed_first(from_last):
    loom = threaded(90, from_last)
    for end in range(90):
        mending = mending_of(loom.warp, loom.now.dressing, end)
        begun_edge, other_edge = (90 - end, end + 1) if from_last else (end + 1, 90 - end)
        assert mending.out == other_edge
        assert mending.nearer == (begun_edge if begun_edge < other_edge else None)
        assert not mending.sleyed
    # While some do not hang yet, only the newest come out.
    assert mending_of(threaded(89, from_last).warp, threaded(89, from_last).now.dressing, 45).nearer is None
    loom.do(plan_sley, sley=Sley((2,) * 45, 4.0))
    loom.do(begin_task, task=SLEYING)
    loom.do(go_on_dressing, task=SLEYING, count=3)
    edge = mending_of(loom.warp, loom.now.dressing, 88 if from_last else 1)
    words = mending_words(edge)
    assert words.endswith("or thread the 2 ends from the nearer edge again; out of the reed first")
