"""Which sound goes with what just happened; a sound only repeats what the screen shows."""

from __future__ import annotations

from enum import Enum

from companion.weaving.events import Event, PickTakenOut, PickWoven
from companion.weaving.pick_view import PickView


class Sound(Enum):
    """The sounds, by the names of their files."""

    WOVEN = "woven"
    CHANGE = "change"
    REFUSED = "refused"


def sound_of(event: Event | None, view: PickView | None) -> Sound | None:
    """Return the sound for what happened: `event` is on disk, or None where a command could not be carried out.

    `view` is the pick that is next now.

    A pick on disk ticks; it sounds otherwise where the next one has another shuttle or another tie-up; what could not
    be done sounds low. Anything else is silent.
    """
    if event is None:
        return Sound.REFUSED
    if not isinstance(event, PickWoven | PickTakenOut):
        return None
    return Sound.CHANGE if view is None or view.changes or view.re_tie is not None else Sound.WOVEN
