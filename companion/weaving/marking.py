"""The command that marks a square of a gamp; like those of `decide` it returns the event, or raises WeavingError."""

from __future__ import annotations

from companion.draft.gamp import Area
from companion.weaving.bounds import MOST_MARKED_SQUARES, short_enough
from companion.weaving.errors import WeavingError
from companion.weaving.events import SquareMarked
from companion.weaving.progress import Progress
from companion.weaving.squares_marked import is_on, mark_of
from companion.weaving.warp import Warp


def mark_square(
    warp: Warp, progress: Progress, area: Area, starred: bool = True, text: str = "", piece: int | None = None
) -> SquareMarked:
    """Return the event of a square of a piece (index; None: the one on the loom) marked, at any time.

    Without star and words a mark that stands is taken away.
    """
    number = progress.now.piece if piece is None else piece
    if not is_on(warp, number, area):
        raise WeavingError("there is no such square on this warp")
    text = short_enough(text)
    there = mark_of(progress.now, number, area)
    if there is None and not starred and not text:
        raise WeavingError(f"{area.name or 'this square'} bears no mark; there is none to take away")
    if there is None and len(progress.now.squares) >= MOST_MARKED_SQUARES:
        raise WeavingError(f"{MOST_MARKED_SQUARES:,} squares are marked; take a mark away first")
    return SquareMarked(number, area.first_end, area.last_end, area.first_pick, area.last_pick, starred, text)
