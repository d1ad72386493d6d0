"""What of the dressing was noted and is not mended yet: ends, dents, and sheds of the test weave. Pure."""

from __future__ import annotations

from typing import NamedTuple

from companion.weaving.dressing_events import DressingMistake, DressingTask


class ToMend(NamedTuple):
    """A mistake of a task that waits to be mended: ends (dents when sleying) `first` to `last` (indices), and words.

    `of_sheds`: they are sheds of the test weave, by their index there.
    """

    task: DressingTask
    first: int
    last: int
    note: str = ""
    of_sheds: bool = False

    @property
    def place(self) -> tuple[DressingTask, int, int]:
        """What it is told apart by: the task, and where in it."""
        return self.task, self.first, self.last


def with_mistake(waiting: tuple[ToMend, ...], mistake: DressingMistake) -> tuple[ToMend, ...]:
    """Return what waits after a mistake was noted: one that is mended settles those within its ends."""
    task, first, last = mistake.task, mistake.first, mistake.last
    if mistake.mended:
        return tuple(one for one in waiting if not settles(mistake, one))
    others = tuple(one for one in waiting if one.place != (task, first, last))
    return (*others, ToMend(task, first, last, mistake.note))


def settles(mistake: DressingMistake, one: ToMend) -> bool:
    """Tell whether a mistake that was mended is this one, or holds it."""
    same = mistake.mended and mistake.task is one.task and not one.of_sheds
    return same and mistake.first <= one.first and one.last <= mistake.last
