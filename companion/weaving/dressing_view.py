"""One step of threading, sleying or winding as the weaver needs it: what now, what then, what was done last. Pure.

`Work` is what is the same for a whole sitting (the order of the ends, the groups, the counts up to each end); a view
is then looked up in it, so that the ten-thousandth end shows as fast as the first.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from itertools import accumulate, pairwise

import numpy as np
from numpy.typing import NDArray

from companion.draft.sley import ends_before
from companion.draft.threading_groups import groups_of
from companion.draft.winding_list import wound_turns
from companion.weaving.dressing import Dressing, sley_of, state_of, steps_of, tasks_on
from companion.weaving.dressing_events import DressingTask, TaskState
from companion.weaving.trial_weave import TrialShed, trial_sheds
from companion.weaving.warp import Warp


@dataclass(frozen=True, slots=True)
class DressingStep:
    """One end or dent to be done. `ends` are its ends (indices): one when winding or threading, those of a dent else.

    `shafts` has the shaft (index) of each, None for an end on no shaft; `yarns` the yarn (index) of each.
    """

    ends: tuple[int, ...]
    shafts: tuple[int | None, ...]
    yarns: tuple[int, ...]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Work:
    """A task as it is stepped from one side: its steps in order, and the step after each group (`stops`).

    `single` steps are done with one press where groups are not: one, or when winding as many as are wound in a turn.
    """

    task: DressingTask
    steps: tuple[DressingStep, ...]
    stops: tuple[int, ...]
    single: int
    _before: NDArray[np.int32]

    def on_shafts(self, steps: range) -> tuple[int, ...]:
        """Return how many ends of these steps hang on each shaft."""
        return tuple((self._before[steps.stop] - self._before[steps.start]).tolist())

    def group_at(self, step: int) -> int:
        """Return the group (index) that a step belongs to; the last one for the place after the last step."""
        return min(bisect_right(self.stops, step), len(self.stops) - 1)

    def steps_of_group(self, group: int) -> range:
        """Return the steps of a group."""
        return range(self.stops[group - 1] if group else 0, self.stops[group])

    def next_from(self, done: int, one_by_one: bool = False) -> range:
        """Return the steps of one press after so many: what is left of a group, or one (a turn) where `one_by_one`."""
        stop = self.steps_of_group(self.group_at(done)).stop if self.stops else 0
        return range(done, min(done + self.single, stop) if one_by_one else max(stop, done))

    def back_from(self, done: int, one_by_one: bool = False, pressed_at: int = 0) -> int:
        """Return how many steps to take out to come back to where the newest press began, or the newest group.

        `pressed_at` is how many were done before that press, 0 where that is not known. With `one_by_one` it is one
        step, or one turn.
        """
        if not done:
            return 0
        began = max(self.steps_of_group(self.group_at(done - 1)).start, pressed_at)
        if one_by_one:
            began += (done - 1 - began) // self.single * self.single
        return done - began


def work_of(warp: Warp, dressing: Dressing, task: DressingTask, most: int) -> Work:
    """Return a task that is stepped end by end (dent by dent), in groups of at most `most`, from the side it goes from.

    Groups of dents hold as many ends as groups of the threading may. When winding, `most` ends are wound in a turn, and
    turns that are alike follow one another in a group: `24 sand`. Raises DraftError for a length that is no group.
    """
    draft, from_last = warp.pieces[0].draft, dressing.of(task).from_last
    if task is DressingTask.SLEYING:
        firsts = ends_before(sley_of(warp, dressing))
        rows = [tuple(range(first, min(after, draft.ends))) for first, after in pairwise(firsts)]
        stops = _stops_of_dents(rows, most)
    else:
        rows = [(end,) for end in range(draft.ends)]
        stops = [group.last + 1 for group in groups_of(draft, most)]
        if task is DressingTask.WINDING:
            stops = list(accumulate(turn.times * len(turn.yarns) for turn in wound_turns(draft, most)))
    if from_last:
        rows = [row[::-1] for row in reversed(rows)]
        stops = [len(rows) - stop for stop in reversed(stops[:-1])] + [len(rows)] if stops else []
    steps = tuple(
        DressingStep(row, tuple(draft.threading[end] for end in row), tuple(draft.warp[end] for end in row))
        for row in rows
    )
    before = np.zeros((len(steps) + 1, draft.shafts), dtype=np.int32)
    for at, step in enumerate(steps):
        for shaft in step.shafts:
            if shaft is not None:
                before[at + 1, shaft] += 1
    single = most if task is DressingTask.WINDING else 1
    return Work(task, steps, tuple(stops), single, before.cumsum(axis=0, dtype=np.int32))


def _stops_of_dents(rows: list[tuple[int, ...]], most: int) -> list[int]:
    stops: list[int] = []
    began, held = 0, 0
    for dent, row in enumerate(rows):
        if dent > began and held + len(row) > most:
            stops.append(dent)
            began, held = dent, 0
        held += len(row)
    return [*stops, len(rows)] if rows else []


@dataclass(frozen=True, slots=True)
class DressingView:
    """Where a stepped task stands. `now` are the steps to do next, `then` those of the group after, `last` the newest.

    `group` of `groups` (index, number) is that of `now`; `just_done` are the ends on each shaft of the group that ended
    with the newest step, empty where none did. `left` are the heddles left on each shaft: those of the loom where they
    are told (`told`), else those still to be threaded. With nothing left to do `now` is empty.
    """

    task: DressingTask
    done: int
    total: int
    from_last: bool
    group: int
    groups: int
    now: tuple[DressingStep, ...]
    then: tuple[DressingStep, ...]
    last: tuple[DressingStep, ...]
    just_done: tuple[int, ...]
    left: tuple[int, ...]
    told: bool


def view_dressing(
    warp: Warp, dressing: Dressing, work: Work, one_by_one: bool = False, lasting: int = 8
) -> DressingView:
    """Return where a task stands, end by end (`one_by_one`) or by what is left of a group; `lasting` steps are last."""
    here = dressing.of(work.task)
    done, total = here.done, len(work.steps)
    group = work.group_at(done) if work.stops else 0
    now = work.next_from(done, one_by_one)
    then = range(now.stop, min(now.stop + len(now), total)) if one_by_one else _after(work, group)
    ended = work.steps_of_group(work.group_at(done - 1)) if done else range(0)
    in_all = work.on_shafts(range(total))
    used = work.on_shafts(range(done))
    heddles = warp.loom.heddles
    told = work.task is DressingTask.THREADING and len(heddles) >= len(in_all)
    return DressingView(
        work.task,
        done,
        total,
        here.from_last,
        group,
        len(work.stops),
        tuple(work.steps[at] for at in now),
        tuple(work.steps[at] for at in then),
        work.steps[max(done - lasting, 0) : done],
        work.on_shafts(ended) if ended.stop == done else (),
        tuple(have - gone for have, gone in zip(heddles if told else in_all, used, strict=False)),
        told,
    )


def _after(work: Work, group: int) -> range:
    return work.steps_of_group(group + 1) if group + 1 < len(work.stops) else range(0)


@dataclass(frozen=True, slots=True)
class TaskView:
    """A task in the order of the weaver: what became of it, how much is done of how much, its time."""

    task: DressingTask
    state: TaskState
    done: int
    total: int
    ms: int


def view_tasks(warp: Warp, dressing: Dressing, order: tuple[DressingTask, ...]) -> tuple[TaskView, ...]:
    """Return the tasks of the warp in this order."""
    return tuple(
        TaskView(
            task,
            state_of(warp, dressing, task),
            dressing.of(task).done,
            steps_of(warp, dressing, task),
            dressing.of(task).ms,
        )
        for task in tasks_on(warp, order)
    )


@dataclass(frozen=True, slots=True)
class TrialView:
    """The shed of the test weave that is next: its index, of how many, and whether it was found wrong before."""

    test: int
    total: int
    shed: TrialShed
    was_wrong: bool


def view_trial(warp: Warp, dressing: Dressing) -> TrialView | None:
    """Return the shed to look at now; None when all were right, or there is none."""
    sheds, test = trial_sheds(warp), dressing.of(DressingTask.TEST_WEAVE).done
    return TrialView(test, len(sheds), sheds[test], test in dressing.wrong) if test < len(sheds) else None
