"""How far the dressing of the loom is: a fold of its own over the events of `dressing_events`, part of the state.

Rules kept here:

- *Position.* Of each task so many ends (dents, sheds) are done, in order, from one side; the side can only be changed
  while nothing is done. A task is done when all of it is, or when the weaver says so.
- *Time.* While a task is in hand the time between entries (see `progress`) is its own and not time at the loom: the
  pace of weaving knows nothing of threading. So is the time up to any entry of the dressing, and from the last task
  to the last entry before the first pick. A pick woven ends the task in hand.
- *Plan.* The dents that the weaver set for this warp count, else those of the draft. Once dents are sleyed the plan
  stays as it is.
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from companion.draft.errors import DraftError
from companion.draft.model import Layout
from companion.draft.sley import Sley
from companion.remap.loom.loom import Action
from companion.weaving.bounds import LONGEST_TEXT, MOST_OPEN_FAULTS
from companion.weaving.dressing_events import (
    Dressed,
    DressingEvent,
    DressingMistake,
    DressingTakenOut,
    DressingTask,
    ShedFoundWrong,
    ShedPutRight,
    SleyPlanned,
    TaskBegun,
    TaskSettled,
    TaskState,
)
from companion.weaving.to_mend import ToMend, with_mistake
from companion.weaving.trial_weave import trial_sheds
from companion.weaving.warp import Warp

TASKS = tuple(DressingTask)
BACK_TO_FRONT = TASKS
"""The warp is beamed first, then threaded and sleyed from behind."""
FRONT_TO_BACK = (
    DressingTask.WINDING,
    DressingTask.SLEYING,
    DressingTask.THREADING,
    DressingTask.BEAMING,
    DressingTask.TIE_UP,
    DressingTask.TEST_WEAVE,
    DressingTask.HEADING,
)
"""The warp is sleyed first, then threaded and beamed from the front."""


MOST_BEGUN = 64
"""Of so many presses is known where they began."""


class TaskProgress(NamedTuple):
    """How far one task is: ends (dents, sheds) done, from which side, what was said of it, its time.

    `begun` tells how many were done before each of the newest presses that are still there, the newest last.
    """

    done: int = 0
    from_last: bool = False
    state: TaskState = TaskState.TO_DO
    ms: int = 0
    begun: tuple[int, ...] = ()


class Dressing(NamedTuple):
    """How far the dressing is. `task` is the one in hand; `tasks` go by `TASKS`; `sley` is the plan set for this warp.

    `wrong` are the sheds (indices of tests) that were found wrong and have not been right since; `mistakes` were
    noted so far, and those of `waiting` are not mended yet. `latest` is the task last in hand.
    """

    task: DressingTask | None = None
    tasks: tuple[TaskProgress, ...] = (TaskProgress(),) * len(TASKS)
    sley: Sley | None = None
    wrong: tuple[int, ...] = ()
    mistakes: int = 0
    waiting: tuple[ToMend, ...] = ()
    latest: DressingTask | None = None

    def of(self, task: DressingTask) -> TaskProgress:
        """Return how far a task is."""
        return self.tasks[TASKS.index(task)]


UNDRESSED = Dressing()
"""Nothing is told of the dressing."""


def is_untouched(dressing: Dressing) -> bool:
    """Tell whether no task was begun or settled so far; a plan of the dents may be there."""
    return dressing.task is None and all(here._replace(ms=0) == TaskProgress() for here in dressing.tasks)


def is_settled(dressing: Dressing) -> bool:
    """Tell whether of every task it is said that it is done, or passed over: nothing is left but to weave."""
    return all(here.state is not TaskState.TO_DO for here in dressing.tasks)


def sley_of(warp: Warp, dressing: Dressing) -> Sley:
    """Return the plan of the dents that counts."""
    return warp.pieces[0].draft.sley if dressing.sley is None else dressing.sley


def to_mend(dressing: Dressing) -> tuple[ToMend, ...]:
    """Return what was found wrong while dressing and is not mended yet, what was found first before the rest."""
    sheds = (ToMend(DressingTask.TEST_WEAVE, test, test, of_sheds=True) for test in dressing.wrong)
    return (*dressing.waiting, *sheds)


def plan_of_piece(warp: Warp, dressing: Dressing, piece: int) -> tuple[Sley, Layout]:
    """Return the plan by which the ends of a piece (index) lie, and their layout: no stated spacing where it counts."""
    draft = warp.pieces[piece].draft
    if dressing.sley is None or dressing.sley.ends != draft.ends:
        return draft.sley, draft.warp_layout
    return dressing.sley, Layout((), draft.warp_layout.thickness_cm)


def as_sleyed(warp: Warp, dressing: Dressing) -> Warp:
    """Return the warp as it lies in the dents that the weaver planned for it; itself where none were."""
    if dressing.sley is None:
        return warp
    pieces = []
    for index, piece in enumerate(warp.pieces):
        sley, layout = plan_of_piece(warp, dressing, index)
        pieces.append(replace(piece, draft=replace(piece.draft, sley=sley, warp_layout=layout)))
    return replace(warp, pieces=tuple(pieces))


def steps_of(warp: Warp, dressing: Dressing, task: DressingTask) -> int:
    """Return how many ends, dents or sheds a task has; 0 for one that is not stepped, or whose plan is not known."""
    match task:
        case DressingTask.WINDING | DressingTask.THREADING:
            return warp.pieces[0].draft.ends
        case DressingTask.SLEYING:
            return len(sley_of(warp, dressing).dents)
        case DressingTask.TEST_WEAVE:
            return len(trial_sheds(warp))
        case _:
            return 0


def mistakes_of(warp: Warp, dressing: Dressing, task: DressingTask) -> int:
    """Return among how many ends (dents when sleying) a mistake of this task can be."""
    return steps_of(warp, dressing, task) if task is DressingTask.SLEYING else warp.pieces[0].draft.ends


def state_of(warp: Warp, dressing: Dressing, task: DressingTask) -> TaskState:
    """Return what became of a task: as the weaver said, or done when all its ends are."""
    here = dressing.of(task)
    if here.state is TaskState.TO_DO and here.done and here.done == steps_of(warp, dressing, task):
        return TaskState.DONE
    return here.state


def tasks_on(warp: Warp, order: tuple[DressingTask, ...]) -> tuple[DressingTask, ...]:
    """Return the tasks of a warp in this order: a loom with levers has no treadles to tie."""
    levers = warp.loom.loom.action is Action.LEVERS
    return tuple(task for task in order if not (levers and task is DressingTask.TIE_UP))


def next_task(warp: Warp, dressing: Dressing, order: tuple[DressingTask, ...]) -> DressingTask | None:
    """Return the first task in this order that is still to do; None when the loom is dressed."""
    return next((task for task in tasks_on(warp, order) if state_of(warp, dressing, task) is TaskState.TO_DO), None)


def is_counted_out(warp: Warp, dressing: Dressing, task: DressingTask) -> bool:
    """Tell whether every end (dent, shed) of a task is counted as done: it is opened again only by taking some out."""
    there = steps_of(warp, dressing, task)
    return there > 0 and dressing.of(task).done == there


def fold_dressing(warp: Warp, dressing: Dressing, event: DressingEvent) -> Dressing:
    """Return the dressing after one of its events; raises ValueError, in words, where it cannot follow."""
    match event:
        case TaskBegun(task, from_last):
            here = dressing.of(task)
            _require(here.from_last == from_last or not here.done, f"{task.value} begun from the other side")
            return _with(dressing, task, here._replace(from_last=from_last))
        case Dressed(task, first, count):
            here = dressing.of(task)
            _require(first == here.done, f"{task.value} after {first}, and {here.done} are done")
            _require(1 <= count <= steps_of(warp, dressing, task) - here.done, f"{count} more of {task.value}")
            begun = (*here.begun[1 - MOST_BEGUN :], here.done)
            more = here._replace(done=here.done + count, state=TaskState.TO_DO, begun=begun)
            after = _with(dressing, task, more)
            if task is DressingTask.TEST_WEAVE:
                right = range(first, first + count)
                return after._replace(wrong=tuple(test for test in after.wrong if test not in right))
            return after
        case DressingTakenOut(task, count):
            here = dressing.of(task)
            _require(1 <= count <= here.done, f"{count} of {here.done} of {task.value} taken out")
            done = here.done - count
            begun = tuple(first for first in here.begun if first < done)
            return _with(dressing, task, here._replace(done=done, state=TaskState.TO_DO, begun=begun))
        case TaskSettled(task, state):
            after = _with(dressing, task, dressing.of(task)._replace(state=state))
            return after if state is TaskState.TO_DO else after._replace(task=None)
        case SleyPlanned(dents, reed_per_cm):
            _require(not dressing.of(DressingTask.SLEYING).done, "another sley plan while dents are sleyed")
            try:
                return dressing._replace(sley=Sley(dents, reed_per_cm))
            except DraftError as error:
                raise ValueError(str(error)) from error
        case ShedFoundWrong(test, note):
            _require(0 <= test < len(trial_sheds(warp)), f"shed {test + 1} of the test weave")
            _require(len(note) <= LONGEST_TEXT, f"{len(note):,} letters at once")
            others = tuple(other for other in dressing.wrong if other != test)
            task = DressingTask.TEST_WEAVE
            return dressing._replace(task=task, latest=task, wrong=(*others, test))
        case DressingMistake(task, first, last, _, note):
            _require(
                0 <= first <= last < mistakes_of(warp, dressing, task), f"a mistake in {task.value} beyond its ends"
            )
            _require(len(note) <= LONGEST_TEXT, f"{len(note):,} letters at once")
            waiting = with_mistake(dressing.waiting, event)
            _require(
                len(waiting) <= MOST_OPEN_FAULTS, f"more than {MOST_OPEN_FAULTS:,} mistakes that wait to be mended"
            )
            return dressing._replace(mistakes=dressing.mistakes + 1, waiting=waiting)
        case ShedPutRight(test, note):
            _require(test in dressing.wrong, f"shed {test + 1} of the test weave put right, which was not wrong")
            _require(len(note) <= LONGEST_TEXT, f"{len(note):,} letters at once")
            return dressing._replace(wrong=tuple(other for other in dressing.wrong if other != test))


def task_of(event: DressingEvent) -> DressingTask:
    """Return the task that an event belongs to."""
    match event:
        case SleyPlanned():
            return DressingTask.SLEYING
        case ShedFoundWrong() | ShedPutRight():
            return DressingTask.TEST_WEAVE
        case _:
            return event.task


def with_time(dressing: Dressing, task: DressingTask, spent_ms: int) -> Dressing:
    """Return the dressing with more time spent on a task, whichever is in hand."""
    if not spent_ms:
        return dressing
    here = dressing.of(task)
    return dressing._replace(tasks=_tasks_with(dressing, task, here._replace(ms=here.ms + spent_ms)))


def time_ms(dressing: Dressing) -> int:
    """Return the time spent on all tasks together."""
    return sum(here.ms for here in dressing.tasks)


def with_times_of(clock: Dressing, dressing: Dressing) -> Dressing:
    """Return the dressing with the times of another: taking something back gives no time back."""
    if clock.tasks is dressing.tasks:
        return dressing
    tasks = (here._replace(ms=spent.ms) for here, spent in zip(dressing.tasks, clock.tasks, strict=True))
    return dressing._replace(tasks=tuple(tasks))


def _with(dressing: Dressing, task: DressingTask, here: TaskProgress) -> Dressing:
    return dressing._replace(task=task, latest=task, tasks=_tasks_with(dressing, task, here))


def _tasks_with(dressing: Dressing, task: DressingTask, here: TaskProgress) -> tuple[TaskProgress, ...]:
    at = TASKS.index(task)
    return (*dressing.tasks[:at], here, *dressing.tasks[at + 1 :])


def _require(holds: bool, what: str) -> None:
    if not holds:
        raise ValueError(what)
