"""The way in which a weaver dresses: which task comes next, how much one press does, how much "back" takes out."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import partial

from companion.draft.threading_groups import USUAL_GROUP
from companion.weaving.decide import Command
from companion.weaving.dressing import BACK_TO_FRONT, UNDRESSED, Dressing, next_task, sley_of, state_of, tasks_on
from companion.weaving.dressing_commands import go_on_dressing, settle_task, take_out_dressing
from companion.weaving.dressing_events import Dressed, DressingTakenOut, DressingTask, TaskState
from companion.weaving.dressing_view import DressingView, Work, view_dressing, view_trial, work_of
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

BY_ENDS = (DressingTask.WINDING, DressingTask.THREADING, DressingTask.SLEYING)
"""The tasks that are stepped end by end or in groups."""


@dataclass(frozen=True, slots=True)
class DressingWay:
    """The order of the tasks, the most ends of a group, how many are wound in a turn, and whether ends are done singly.

    What is the same at every step is worked out once and kept.
    """

    order: tuple[DressingTask, ...] = BACK_TO_FRONT
    group: int = USUAL_GROUP
    at_once: int = 1
    one_by_one: bool = False
    _works: dict[tuple[object, ...], Work] = field(default_factory=dict, repr=False, compare=False)

    def with_group(self, warp: Warp, group: int) -> DressingWay:
        """Return the way with groups of at most so many ends; raises DraftError for a length that is no group."""
        changed = replace(self, group=group)
        changed._work(warp, UNDRESSED, DressingTask.THREADING)
        return changed

    def make_ready(self, warp: Warp, progress: Progress) -> None:
        """Work out once, and keep, what the task in hand is stepped by: a second for ten thousand ends."""
        task = self.task(warp, progress)
        if task is not None:
            self.view(warp, progress, task)

    def task(self, warp: Warp, progress: Progress) -> DressingTask | None:
        """Return the task in hand, else the next that is to do; None when the loom is dressed."""
        dressing = progress.now.dressing
        if dressing.task is not None and state_of(warp, dressing, dressing.task) is TaskState.TO_DO:
            return dressing.task
        return next_task(warp, dressing, self.order)

    def after(self, warp: Warp, progress: Progress, task: DressingTask) -> DressingTask | None:
        """Return what is to do once this task is done; None where the loom is dressed then."""
        dressing = progress.now.dressing
        tasks = (one for one in tasks_on(warp, self.order) if one is not task)
        return next((one for one in tasks if state_of(warp, dressing, one) is TaskState.TO_DO), None)

    def view(self, warp: Warp, progress: Progress, task: DressingTask) -> DressingView | None:
        """Return where a task stands that is stepped by ends; None for another, or where no dents are planned."""
        dressing = progress.now.dressing
        if not self._by_ends(warp, dressing, task):
            return None
        return view_dressing(warp, dressing, self._work(warp, dressing, task), self.one_by_one)

    def go_on(self, warp: Warp, progress: Progress, task: DressingTask) -> Command:
        """Return the command of one press: these steps are done, this shed is right, this task is done.

        How many steps these are is told by how things stand when it is carried out: another press may come before it.
        """
        if self._by_ends(warp, progress.now.dressing, task):
            return partial(self._go_on, task)
        if task is DressingTask.TEST_WEAVE and view_trial(warp, progress.now.dressing) is not None:
            return partial(go_on_dressing, task=task)
        return partial(settle_task, task=task, state=TaskState.DONE)

    def back(self, warp: Warp, progress: Progress, task: DressingTask) -> Command:
        """Return the command of "back": out comes the newest end or shed, or what the newest press did of its group."""
        if self._by_ends(warp, progress.now.dressing, task):
            return partial(self._back, task)
        return partial(take_out_dressing, task=task)

    def _go_on(self, task: DressingTask, warp: Warp, progress: Progress) -> Dressed:
        dressing = progress.now.dressing
        steps = self._work(warp, dressing, task).next_from(dressing.of(task).done, self.one_by_one)
        return go_on_dressing(warp, progress, task, max(len(steps), 1))

    def _back(self, task: DressingTask, warp: Warp, progress: Progress) -> DressingTakenOut:
        dressing = progress.now.dressing
        here = dressing.of(task)
        pressed_at = here.begun[-1] if here.begun else 0
        count = self._work(warp, dressing, task).back_from(here.done, self.one_by_one, pressed_at)
        return take_out_dressing(warp, progress, task, max(count, 1))

    @staticmethod
    def _by_ends(warp: Warp, dressing: Dressing, task: DressingTask) -> bool:
        return task in BY_ENDS and (task is not DressingTask.SLEYING or bool(sley_of(warp, dressing).dents))

    def _work(self, warp: Warp, dressing: Dressing, task: DressingTask) -> Work:
        most = self.at_once if task is DressingTask.WINDING else self.group
        key = (warp.name, task, dressing.of(task).from_last, most, dressing.sley)
        if key not in self._works:
            self._works[key] = work_of(warp, dressing, task, most)
        return self._works[key]
