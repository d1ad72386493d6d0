"""From where a weaver says that the cloth ends to what must have happened since the journal's last pick.

Often there is one way only: on in order, or so many picks taken out. Where a jump, a section woven again or a length
lies between, there are several, and only the weaver knows.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from itertools import pairwise

from companion.weaving.state import State, following
from companion.weaving.warp import Piece


class Meanwhile(Enum):
    """What happened while the journal did not hear of it."""

    NOTHING = "nothing"
    WOVEN_ON = "woven on in order"
    LEFT_OUT = "the picks between were left out"
    TAKEN_OUT = "taken out"
    WOVEN_AGAIN = "woven again from an earlier pick"


@dataclass(frozen=True, slots=True)
class WayThere:
    """One way to the cloth that the weaver has: so many picks `taken_out`, then `woven` (indices, in order)."""

    meanwhile: Meanwhile
    taken_out: int = 0
    woven: tuple[int, ...] = ()


def ways_there(piece: Piece, state: State, pick: int) -> tuple[WayThere, ...]:
    """Return every way, the likeliest first, on which `pick` (index) came to lie newest; one where it is clear."""
    newest = state.cloth.newest
    if newest == pick and state.next_pick == following(piece, state, state.cloth, pick):
        return (WayThere(Meanwhile.NOTHING),)
    on = picks_on(piece, state, pick)
    out = next((above for above, lying in enumerate(state.cloth.newest_first()) if lying == pick), None)
    jumped = newest is not None and state.next_pick != following(piece, state, state.cloth, newest)
    ways = []
    if on is not None:
        ways.append(WayThere(Meanwhile.WOVEN_ON, woven=on))
        crosses_a_length = any(later <= earlier for earlier, later in pairwise(on))
        if len(on) > 1 and (jumped or crosses_a_length):
            ways.append(WayThere(Meanwhile.LEFT_OUT, woven=(pick,)))
    if out:
        ways.append(WayThere(Meanwhile.TAKEN_OUT, taken_out=out))
    if not ways:
        start = piece.section_picks(piece.section_at(pick)).start
        ways.append(WayThere(Meanwhile.WOVEN_AGAIN, woven=tuple(range(start, pick + 1))))
        if pick > start:
            ways.append(WayThere(Meanwhile.LEFT_OUT, woven=(pick,)))
    return tuple(ways)


def picks_on(piece: Piece, state: State, pick: int) -> tuple[int, ...] | None:
    """Return the picks woven in order from the one that is next until `pick` lies newest; None where it does not come.

    A section that is woven to a length is gone through as it would be now, once through the piece at the most.
    """
    cloth, after = state.cloth, state.next_pick
    woven: list[int] = []
    while after < piece.picks and len(woven) <= piece.picks:
        cloth = cloth.woven(after)
        woven.append(after)
        if after == pick:
            return tuple(woven)
        after = following(piece, state, cloth, after)
    return None


def picks_further(piece: Piece, state: State, count: int) -> tuple[int, ...] | None:
    """Return the next `count` picks in order, as they will be woven; None where the piece has not so many more."""
    cloth, after = state.cloth, state.next_pick
    woven: list[int] = []
    while after < piece.picks and len(woven) < count:
        cloth = cloth.woven(after)
        woven.append(after)
        after = following(piece, state, cloth, after)
    return tuple(woven) if len(woven) == count else None
