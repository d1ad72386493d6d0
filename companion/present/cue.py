"""Which sound goes with what just happened; a sound only repeats what the screen shows."""

from __future__ import annotations

from enum import Enum

from companion.weaving.events import PickTakenOut, PickWoven
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp


class Sound(Enum):
    """The sounds, by the names of their files."""

    WOVEN = "woven"
    CHANGE = "change"
    REFUSED = "refused"


def sound_of(warp: Warp, progress: Progress, problem: str) -> Sound | None:
    """Return the sound for how things stand after a command.

    A pick on disk ticks; it sounds otherwise where the next one has another shuttle or another tie-up; what could not
    be done sounds low. Anything else is silent.
    """
    if problem:
        return Sound.REFUSED
    newest = progress.trail[-1].entry.event if progress.trail else None
    if not isinstance(newest, PickWoven | PickTakenOut):
        return None
    view = this_pick(warp, progress)
    return Sound.CHANGE if view is None or view.changes or view.re_tie is not None else Sound.WOVEN
