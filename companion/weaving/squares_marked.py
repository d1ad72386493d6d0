"""The fold of the squares that the weaver marked: of each square the newest mark counts."""

from __future__ import annotations

from dataclasses import replace

from companion.draft.gamp import Area
from companion.weaving.bounds import LONGEST_TEXT, MOST_MARKED_SQUARES
from companion.weaving.events import SquareMarked
from companion.weaving.state import MarkedSquare, State
from companion.weaving.warp import Warp


def square_marked(warp: Warp, state: State, event: SquareMarked) -> State:
    """Return the state with this mark in place of the one before; raises ValueError, in words, where it cannot follow.

    A mark without star and words takes the one before away.
    """
    area = Area(event.first_end, event.last_end, event.first_pick, event.last_pick)
    _require(is_on(warp, event.piece, area), "a square that is not on this warp")
    _require(len(event.text) <= LONGEST_TEXT, f"{len(event.text):,} letters at once")
    others = tuple(one for one in state.squares if (one.piece, one.area) != (event.piece, area))
    if not event.starred and not event.text:
        return state._replace(squares=others)
    _require(len(others) < MOST_MARKED_SQUARES, f"more than {MOST_MARKED_SQUARES:,} marked squares")
    return state._replace(squares=(*others, MarkedSquare(event.piece, area, event.starred, event.text, state.at_ms)))


def is_on(warp: Warp, piece: int, area: Area) -> bool:
    """Tell whether a piece (index) of the warp has all ends and picks of an area."""
    if not 0 <= piece < len(warp.pieces):
        return False
    draft = warp.pieces[piece].draft
    return 0 <= area.first_end < area.last_end <= draft.ends and 0 <= area.first_pick < area.last_pick <= draft.picks


def mark_of(state: State, piece: int, area: Area) -> MarkedSquare | None:
    """Return the mark on an area of a piece (index), whatever the area is called; None where there is none."""
    bare = replace(area, name="")
    return next((one for one in state.squares if (one.piece, one.area) == (piece, bare)), None)


def _require(holds: bool, what: str) -> None:
    if not holds:
        raise ValueError(what)
