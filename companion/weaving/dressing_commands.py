"""What the weaver can do while dressing: commands like those of `decide`, each an event or a WeavingError."""

from __future__ import annotations

from companion.draft.sley import Sley
from companion.draft.units import counted
from companion.weaving.bounds import short_enough
from companion.weaving.dressing import Dressing, mistakes_of, sley_of, state_of, steps_of
from companion.weaving.dressing_events import (
    Dressed,
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
from companion.weaving.errors import WeavingError
from companion.weaving.progress import Progress
from companion.weaving.trial_weave import trial_sheds
from companion.weaving.warp import Warp

ONE_OF = {
    DressingTask.WINDING: "end",
    DressingTask.THREADING: "end",
    DressingTask.SLEYING: "dent",
    DressingTask.TEST_WEAVE: "shed",
}
"""What a stepped task counts."""


def begin_task(warp: Warp, progress: Progress, task: DressingTask, from_last: bool | None = None) -> TaskBegun:
    """Return the event of turning to a task, from the last end (dent) on or the first; as before where not said."""
    here = _ready(progress).of(task)
    side = here.from_last if from_last is None else from_last
    if side is not here.from_last and here.done:
        raise WeavingError(
            f"{here.done} {ONE_OF[task]}s are done from the other side; take them out first, or go on from there"
        )
    return TaskBegun(task, side)


def go_on_dressing(warp: Warp, progress: Progress, task: DressingTask, count: int = 1) -> Dressed:
    """Return the event of `count` more ends (dents, sheds) of a task done."""
    here, steps = _ready(progress).of(task), steps_of(warp, progress.now.dressing, task)
    if not steps:
        raise WeavingError(
            "no dents are planned yet; give a plan such as (1 1 2 2 0)x20, or say that the sleying is done"
            if task is DressingTask.SLEYING
            else f"{task.value} is not counted step by step; say that it is done"
        )
    left = steps - here.done
    if not left:
        raise WeavingError(f"{task.value} is done: all {steps} {ONE_OF[task]}s")
    if not 1 <= count <= left:
        raise WeavingError(f"{count} {ONE_OF[task]}s more, and {left} are left; give 1 to {left}")
    return Dressed(task, here.done, count)


def take_out_dressing(warp: Warp, progress: Progress, task: DressingTask, count: int = 1) -> DressingTakenOut:
    """Return the event of the newest `count` ends (dents, sheds) of a task out again."""
    here = _ready(progress).of(task)
    if not here.done:
        raise WeavingError(f"nothing of {task.value} is done, so there is nothing to take out")
    if not 1 <= count <= here.done:
        raise WeavingError(f"{here.done} {ONE_OF[task]}s are done; give 1 to {here.done}")
    return DressingTakenOut(task, count)


def settle_task(warp: Warp, progress: Progress, task: DressingTask, state: TaskState) -> TaskSettled:
    """Return the event of a task done, skipped, or to do again."""
    dressing = _ready(progress)
    if dressing.of(task).state is state and (state is not TaskState.TO_DO or state_of(warp, dressing, task) is state):
        raise WeavingError(f"{task.value} is {state.value} already")
    return TaskSettled(task, state)


def plan_sley(warp: Warp, progress: Progress, sley: Sley) -> SleyPlanned:
    """Return the event of another plan of the dents; not while dents are sleyed by the one before.

    A plan that leaves ends out, or has dents for more than there are, would be called sleyed with ends in no dent.
    """
    done = _ready(progress).of(DressingTask.SLEYING).done
    if done:
        raise WeavingError(f"{done} dents are sleyed by the plan there is; take them out before you set another")
    if sley == sley_of(warp, progress.now.dressing):
        raise WeavingError("that is the plan there is already")
    ends = warp.pieces[0].draft.ends
    if sley.dents and sley.ends != ends:
        planned = counted(sley.ends, "end")
        raise WeavingError(f"this plan has dents for {planned}, and the warp has {ends}: repeat it until they agree")
    return SleyPlanned(sley.dents, sley.reed_per_cm)


def find_shed_wrong(warp: Warp, progress: Progress, test: int, note: str = "") -> ShedFoundWrong:
    """Return the event of a shed (index of the test weave) that did not open as it must."""
    _ready(progress)
    tests = len(trial_sheds(warp))
    if not 0 <= test < tests:
        raise WeavingError(f"the test weave has no shed {test + 1}; give 1 to {tests}")
    return ShedFoundWrong(test, short_enough(note))


def put_shed_right(warp: Warp, progress: Progress, test: int, note: str = "") -> ShedPutRight:
    """Return the event of a shed (index of the test weave) that was found wrong and opens as it must now."""
    if test not in _ready(progress).wrong:
        raise WeavingError(f"shed {test + 1} of the test weave was not found wrong")
    return ShedPutRight(test, short_enough(note))


def note_mistake(
    warp: Warp,
    progress: Progress,
    task: DressingTask,
    first: int,
    last: int | None = None,
    mended: bool = False,
    note: str = "",
) -> DressingMistake:
    """Return the event of a mistake in the ends (dents) `first` to `last` (indices; one alone without `last`)."""
    dressing = _ready(progress)
    last, there = first if last is None else last, mistakes_of(warp, dressing, task)
    if not 0 <= first <= last < there:
        raise WeavingError(f"{task.value} has {there} {ONE_OF.get(task, 'end')}s; give 1 to {there}, the lower first")
    return DressingMistake(task, first, last, mended, short_enough(note))


def _ready(progress: Progress) -> Dressing:
    if progress.now.paused:
        raise WeavingError("you are on a pause; say first that you are back")
    return progress.now.dressing
