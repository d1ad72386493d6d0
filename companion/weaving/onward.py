"""What "next" means here: the one thing that the weaver most likely just did. Pure."""

from __future__ import annotations

from companion.weaving.decide import finish_piece, re_tie, resume, start_piece, weave_pick
from companion.weaving.errors import WeavingError
from companion.weaving.events import Event
from companion.weaving.progress import Progress
from companion.weaving.state import re_tie_due
from companion.weaving.warp import Warp


def onward(warp: Warp, progress: Progress) -> Event:
    """Return the event that a press of "next" stands for.

    On a pause the weaver is back; a finished piece is followed by the next one; a piece at its end is finished; where
    another tie-up is due it is tied; else the pick is woven. Raises WeavingError at the end of the warp.
    """
    now = progress.now
    if now.paused:
        return resume(warp, progress)
    if now.finished:
        if now.piece + 1 >= len(warp.pieces):
            raise WeavingError(f"warp {warp.name!r} is woven to its end")
        return start_piece(warp, progress)
    if now.next_pick >= warp.pieces[now.piece].picks:
        return finish_piece(warp, progress)
    if re_tie_due(warp, now) is not None:
        return re_tie(warp, progress)
    return weave_pick(warp, progress)


def onward_tying_apart(warp: Warp, progress: Progress) -> Event:
    """Return the event that "next" stands for where cords are ticked on a list: nothing is taken for tied unsaid.

    So two quick presses at the end of a stage are one pick. Raises WeavingError where another tie-up is due.
    """
    now = progress.now
    if not now.paused and not now.finished and re_tie_due(warp, now) is not None:
        return weave_pick(warp, progress)
    return onward(warp, progress)
