"""Dressing is folded like weaving: whatever is done and undone, it stands as the slow model of a loom has it."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.sley import Sley
from companion.weaving.decide import pause, resume, undo, write_note
from companion.weaving.dressing import (
    BACK_TO_FRONT,
    FRONT_TO_BACK,
    TASKS,
    is_untouched,
    mistakes_of,
    next_task,
    sley_of,
    state_of,
    steps_of,
)
from companion.weaving.dressing_commands import (
    begin_task,
    find_shed_wrong,
    go_on_dressing,
    note_mistake,
    plan_sley,
    settle_task,
    take_out_dressing,
)
from companion.weaving.dressing_events import Dressed, DressingTask, SleyPlanned, TaskBegun, TaskState
from companion.weaving.errors import ContradictionError, WeavingError
from companion.weaving.events import Entry, PickWoven
from companion.weaving.one_event import AWAY_MS
from companion.weaving.progress import begin, carry_on, evolve, fold
from companion.weaving.trial_weave import trial_sheds
from tests.oracles.dressing_by_hand import DressedLoom
from tests.weaving.world import AtLoom, lever_draft, lever_warp, two_stage_warp

THREADING, SLEYING, WINDING, TEST = (
    DressingTask.THREADING,
    DressingTask.SLEYING,
    DressingTask.WINDING,
    DressingTask.TEST_WEAVE,
)
STEPPED = (WINDING, THREADING, SLEYING, TEST)
SLEYED = Sley((2, 0, 3, 1, 2), 4.0)


def warp_of(ends=8, sley=SLEYED):
    return lever_warp(replace(lever_draft([0, 1] * 4, ends=ends), sley=sley))


COMMANDS = st.one_of(
    st.builds(partial, st.just(go_on_dressing), task=st.sampled_from(STEPPED), count=st.integers(1, 4)),
    st.builds(partial, st.just(go_on_dressing), task=st.just(THREADING), count=st.integers(1, 4)),
    st.builds(partial, st.just(take_out_dressing), task=st.sampled_from(STEPPED), count=st.integers(1, 3)),
    st.builds(partial, st.just(begin_task), task=st.sampled_from(TASKS), from_last=st.none() | st.booleans()),
    st.builds(partial, st.just(settle_task), task=st.sampled_from(TASKS), state=st.sampled_from(TaskState)),
    st.builds(
        partial,
        st.just(plan_sley),
        sley=st.sampled_from([Sley((1,) * 8), Sley((4, 4), 5.0), Sley((1, 2, 0, 5))]),
    ),
    st.builds(partial, st.just(find_shed_wrong), test=st.integers(0, 5)),
    st.builds(partial, st.just(note_mistake), task=st.sampled_from(TASKS), first=st.integers(0, 9)),
    st.just(undo),
    st.just(undo),
    st.just(pause),
    st.just(resume),
    st.builds(partial, st.just(write_note), text=st.just("calm")),
)


def check_against_model(loom):
    dressing = loom.now.dressing
    model = DressedLoom(
        loom.entries,
        lambda task, dents: {
            WINDING: 8,
            THREADING: 8,
            SLEYING: len(SLEYED.dents if dents is None else dents),
            TEST: 6,
        }[task],
    )
    for task in TASKS:
        here = dressing.of(task)
        assert here.done == len(model.piles[task])
        assert here.from_last == model.last_first[task]
        assert here.state.value == model.said[task]
    assert list(dressing.wrong) == model.wrong
    assert dressing.mistakes == model.mistakes
    assert (None if dressing.sley is None else dressing.sley.dents) == model.dents


@settings(max_examples=120)
@given(st.lists(COMMANDS, max_size=40))
def test_whatever_is_done_and_undone_the_loom_stands_as_the_slow_model_has_it(commands):
    loom = AtLoom(warp_of())
    refused = 0
    for command in commands:
        before = loom.progress
        try:
            loom.do(command)
        except WeavingError:
            refused += 1
            assert loom.progress is before
        check_against_model(loom)
    assert fold(loom.warp, loom.entries) == loom.progress
    settled = loom.progress.settled
    assert carry_on(loom.warp, settled, loom.entries[settled.number :]) == loom.progress


@settings(max_examples=60)
@given(st.lists(st.tuples(COMMANDS, st.integers(0, 2 * AWAY_MS)), max_size=25))
def test_every_moment_is_spent_on_one_task_or_at_the_loom(commands):
    loom, spent = AtLoom(warp_of()), 0
    for command, gap_ms in commands:
        loom.gap_ms, before = gap_ms, loom.now
        try:
            loom.do(command)
        except WeavingError:
            continue
        if before.number and not before.paused and gap_ms <= AWAY_MS:
            spent += gap_ms
    now = loom.now
    assert now.at_loom_ms + sum(here.ms for here in now.dressing.tasks) == spent


def test_the_pace_of_weaving_knows_nothing_of_threading():
    loom = AtLoom(warp_of(), gap_ms=60_000)
    loom.do(begin_task, task=THREADING)
    for _ in range(8):
        loom.do(go_on_dressing, task=THREADING)
    assert (loom.now.at_loom_ms, loom.now.dressing.of(THREADING).ms) == (0, 8 * 60_000)
    loom.weave(2)
    # The way from the last end to the first pick was still the threading's; then the loom's own time begins.
    assert (loom.now.at_loom_ms, loom.now.dressing.of(THREADING).ms) == (60_000, 9 * 60_000)
    assert loom.now.dressing.task is None


def test_no_time_of_dressing_leaks_into_the_weaving():
    # Planning dents, a mistake between two tasks, a pause at the end, something taken back: all of it is dressing.
    loom = AtLoom(warp_of(), gap_ms=60_000)
    loom.do(plan_sley, sley=Sley((4, 4), 5.0))
    loom.do(settle_task, task=WINDING, state=TaskState.DONE)
    loom.do(note_mistake, task=THREADING, first=2)
    loom.do(begin_task, task=SLEYING)
    loom.do(settle_task, task=SLEYING, state=TaskState.DONE)
    loom.do(write_note, text="calm")
    loom.do(undo)
    loom.do(pause)
    times = {task: loom.now.dressing.of(task).ms for task in TASKS if loom.now.dressing.of(task).ms}
    assert (loom.now.at_loom_ms, times) == (0, {WINDING: 60_000, THREADING: 60_000, SLEYING: 5 * 60_000})
    loom.do(resume)
    loom.weave(2)
    assert (loom.now.at_loom_ms, loom.now.block_began_at_loom_ms) == (2 * 60_000, 0)
    # Once anything is woven only what is dressed takes from the time at the loom.
    loom.do(write_note, text="calm")
    assert loom.now.at_loom_ms == 3 * 60_000


def test_once_every_task_is_settled_no_time_is_dressing():
    loom = AtLoom(warp_of(), gap_ms=60_000)
    for number, task in enumerate(TASKS):
        loom.do(settle_task, task=task, state=TaskState.SKIPPED if number == 1 else TaskState.DONE)
    dressed = sum(here.ms for here in loom.now.dressing.tasks)
    loom.do(pause)
    loom.do(resume)
    loom.do(write_note, text="calm")
    assert sum(here.ms for here in loom.now.dressing.tasks) == dressed
    assert loom.now.at_loom_ms == 2 * 60_000


def test_a_plan_of_the_dents_is_no_dressing_begun():
    loom = AtLoom(warp_of(), gap_ms=60_000)
    loom.do(pause)
    loom.do(resume)
    loom.do(plan_sley, sley=Sley((4, 4), 5.0))
    assert loom.now.dressing.of(SLEYING).ms == 60_000
    assert is_untouched(loom.now.dressing)


def test_a_task_is_done_when_all_its_ends_are_or_when_the_weaver_says_so():
    loom = AtLoom(warp_of())
    assert next_task(loom.warp, loom.now.dressing, BACK_TO_FRONT) is WINDING
    loom.do(settle_task, task=WINDING, state=TaskState.SKIPPED)
    loom.do(settle_task, task=DressingTask.BEAMING, state=TaskState.DONE)
    loom.do(go_on_dressing, task=THREADING, count=8)
    assert state_of(loom.warp, loom.now.dressing, THREADING) is TaskState.DONE
    assert next_task(loom.warp, loom.now.dressing, BACK_TO_FRONT) is SLEYING
    assert next_task(loom.warp, loom.now.dressing, FRONT_TO_BACK) is SLEYING
    loom.do(take_out_dressing, task=THREADING)
    assert next_task(loom.warp, loom.now.dressing, BACK_TO_FRONT) is THREADING


def test_both_orders_have_every_task_once():
    assert set(BACK_TO_FRONT) == set(FRONT_TO_BACK) == set(DressingTask)
    assert len(BACK_TO_FRONT) == len(FRONT_TO_BACK) == len(DressingTask)
    assert FRONT_TO_BACK.index(SLEYING) < FRONT_TO_BACK.index(THREADING) < FRONT_TO_BACK.index(DressingTask.BEAMING)


@pytest.mark.parametrize(
    ("command", "told"),
    [
        (partial(go_on_dressing, task=THREADING, count=9), "9 ends more, and 8 are left"),
        (partial(go_on_dressing, task=THREADING, count=0), "give 1 to 8"),
        (partial(go_on_dressing, task=DressingTask.BEAMING), "not counted step by step"),
        (partial(take_out_dressing, task=THREADING), "nothing of threading is done"),
        (partial(settle_task, task=THREADING, state=TaskState.TO_DO), "threading is to do already"),
        (partial(plan_sley, sley=SLEYED), "that is the plan there is already"),
        (partial(find_shed_wrong, test=6), "has no shed 7; give 1 to 6"),
        (partial(note_mistake, task=THREADING, first=8), "threading has 8 ends; give 1 to 8"),
        (partial(note_mistake, task=THREADING, first=3, last=2), "the lower first"),
        (partial(note_mistake, task=THREADING, first=3, note="x" * 20_000), "write at most"),
    ],
)
def test_what_cannot_be_meant_is_refused_and_nothing_happens(command, told):
    loom = AtLoom(warp_of())
    with pytest.raises(WeavingError, match=told):
        loom.do(command)
    assert loom.now.number == 0


def test_the_side_stays_while_ends_are_done_and_the_plan_while_dents_are():
    loom = AtLoom(warp_of())
    loom.do(begin_task, task=THREADING, from_last=True)
    loom.do(go_on_dressing, task=THREADING, count=3)
    with pytest.raises(WeavingError, match="3 ends are done from the other side"):
        loom.do(begin_task, task=THREADING, from_last=False)
    loom.do(go_on_dressing, task=SLEYING)
    with pytest.raises(WeavingError, match="1 dents are sleyed by the plan there is"):
        loom.do(plan_sley, sley=Sley((4, 4)))


def test_sleying_needs_a_plan():
    loom = AtLoom(warp_of(sley=Sley()))
    with pytest.raises(WeavingError, match="no dents are planned yet"):
        loom.do(go_on_dressing, task=SLEYING)
    loom.do(plan_sley, sley=Sley((4, 4), 3.0))
    assert sley_of(loom.warp, loom.now.dressing) == Sley((4, 4), 3.0)
    assert steps_of(loom.warp, loom.now.dressing, SLEYING) == mistakes_of(loom.warp, loom.now.dressing, SLEYING) == 2


@pytest.mark.parametrize(
    "event",
    [
        Dressed(THREADING, 1),
        Dressed(THREADING, 0, 9),
        Dressed(THREADING, 0, -1),
        Dressed(DressingTask.HEADING, 0),
        SleyPlanned((41,)),
        SleyPlanned((1,), float("inf")),
        SleyPlanned((-1, 2)),
    ],
)
def test_a_journal_that_tells_of_what_cannot_be_does_not_belong_to_the_warp(event):
    with pytest.raises(ContradictionError, match="entry 1 tells of"):
        evolve(warp_of(), begin(warp_of()), Entry(1, 0, event))


def test_begun_from_the_other_side_in_the_middle_is_a_contradiction():
    entries = [Entry(1, 0, Dressed(THREADING, 0, 2)), Entry(2, 1, TaskBegun(THREADING, True))]
    with pytest.raises(ContradictionError, match="from the other side"):
        fold(warp_of(), entries)


def test_weaving_goes_on_as_if_nothing_had_been_told_of_the_dressing():
    dressed, plain = AtLoom(warp_of()), AtLoom(warp_of())
    dressed.do(go_on_dressing, task=THREADING, count=8)
    for loom in (dressed, plain):
        loom.weave(5)
    assert [entry.event for entry in dressed.entries[1:]] == [PickWoven(pick) for pick in range(5)]
    assert dressed.now.cloth == plain.now.cloth
    assert dressed.now.shuttles == plain.now.shuttles


def test_each_treadle_is_tried_alone_then_plain_weave():
    sheds = trial_sheds(two_stage_warp())
    assert [shed.pressed for shed in sheds] == [(0,), (1,), (), ()]
    assert [shed.plain for shed in sheds] == [False, False, True, True]
    levers = trial_sheds(warp_of())
    assert [shed.pressed for shed in levers] == [(0,), (1,), (2,), (3,), (0, 2), (1, 3)]
