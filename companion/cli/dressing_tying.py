"""The tie-up in the text stepper of dressing: one treadle after another, each tick on disk."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from companion.draft.units import counted
from companion.present.cords import change_words
from companion.present.wording import BETWEEN
from companion.weaving.cord_list import CordList, cord_list
from companion.weaving.decide import Command, re_tie, tie_treadle
from companion.weaving.dressing_commands import settle_task
from companion.weaving.dressing_events import DressingTask, TaskState
from companion.weaving.errors import WeavingError
from companion.weaving.progress import Progress
from companion.weaving.state import re_tie_due
from companion.weaving.warp import Warp


def treadles_to_tie(warp: Warp, progress: Progress) -> list[int]:
    """Return the treadles (indices) that are still to be tied for the first pick, from the left."""
    listed = _listed(warp, progress)
    return [] if listed is None else [one.treadle for one in listed.changes if one.treadle not in listed.done]


def tying_lines(warp: Warp, progress: Progress) -> Iterator[str]:
    """Yield the treadle to tie now, how many are tied, and the one after it; nothing where none is left to tie."""
    listed = _listed(warp, progress)
    left = treadles_to_tie(warp, progress)
    if listed is None or not left:
        return
    changes = {change.treadle: change_words(change, warp.loom.loom.action) for change in listed.changes}
    done = f"{len(listed.done)} of {counted(len(listed.changes), 'treadle')} tied"
    yield f"Tie-up{BETWEEN}{done}{BETWEEN}enter = this one is, d = all are"
    yield f"    {changes[left[0]]}"
    if left[1:]:
        yield f"  then {changes[left[1]]}"


def tie_next(warp: Warp, progress: Progress) -> list[Command]:
    """Return what enter does: the next treadle is tied; with the last one, or where none is left, the task is done."""
    left = treadles_to_tie(warp, progress)
    tick: list[Command] = [partial(tie_treadle, treadle=left[0])] if left else []
    return tick if left[1:] else [*tick, *all_tied(warp, progress)]


def untie_last(warp: Warp, progress: Progress) -> list[Command]:
    """Return what back does: the treadle that was ticked last is not tied; raises WeavingError where none was."""
    listed = _listed(warp, progress)
    ticked = [tick.treadle for tick in progress.now.ticks if listed is not None and tick.treadle in listed.done]
    if not ticked:
        raise WeavingError("no treadle is tied yet, so there is none to take back")
    return [partial(tie_treadle, treadle=ticked[-1], tied=False)]


def all_tied(warp: Warp, progress: Progress) -> list[Command]:
    """Return what says that the treadles are tied: for weaving too, where they are due."""
    done: Command = partial(settle_task, task=DressingTask.TIE_UP, state=TaskState.DONE)
    return [done] if re_tie_due(warp, progress.now) is None else [re_tie, done]


def _listed(warp: Warp, progress: Progress) -> CordList | None:
    return None if re_tie_due(warp, progress.now) is None else cord_list(warp, progress.now)
