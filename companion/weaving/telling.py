"""From where a weaver says that the cloth ends to what must have happened since the journal's last pick.

Often there is one way only: on in order, or so many picks taken out. Where a jump, a section woven again or a length
lies between, there are several, and only the weaver knows. The commands that tell it stand here too.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from itertools import islice, pairwise

from companion.weaving.bounds import MOST_TOLD
from companion.weaving.decide import on_the_loom
from companion.weaving.errors import WeavingError
from companion.weaving.events import ClothTold, SidesTold
from companion.weaving.progress import Progress
from companion.weaving.state import State, following, with_next_woven
from companion.weaving.warp import Piece, Warp


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
    woven: list[int] = []
    for after in islice(_in_order(piece, state), piece.picks + 1):
        woven.append(after)
        if after == pick:
            return tuple(woven)
    return None


def picks_further(piece: Piece, state: State, count: int) -> tuple[int, ...] | None:
    """Return the next `count` picks in order, as they will be woven; None where the piece has not so many more."""
    woven = tuple(islice(_in_order(piece, state), count))
    return woven if len(woven) == count else None


def _in_order(piece: Piece, state: State) -> Iterator[int]:
    """Yield the picks (indices) as they will be woven from the next one on; without end where no length is reached."""
    while state.next_pick < piece.picks:
        pick, cloth = state.next_pick, with_next_woven(state)
        yield pick
        state = state._replace(cloth=cloth, next_pick=following(piece, state, cloth, pick), anew=False)


def tell_cloth(
    warp: Warp,
    progress: Progress,
    taken_out: int = 0,
    woven: tuple[int, ...] = (),
    left: tuple[int, ...] = (),
    right: tuple[int, ...] = (),
    unknown: tuple[int, ...] = (),
) -> ClothTold:
    """Return the event of what the weaver says of the cloth: picks taken out of it, then picks (indices) woven.

    With it she may say where shuttles lie after that, as in `tell_sides`. Raises WeavingError for a cloth that cannot
    be.
    """
    piece = on_the_loom(warp, progress)
    if not taken_out and not woven:
        raise WeavingError("the cloth is as the journal has it; nothing to tell")
    if not 0 <= taken_out <= progress.now.cloth.picks:
        raise WeavingError(f"{progress.now.cloth.picks} picks lie in the cloth, so {taken_out} cannot be out of it")
    if any(not 0 <= pick < piece.picks for pick in woven):
        raise WeavingError(f"{piece.name} has {piece.picks} picks")
    if len(woven) > MOST_TOLD:
        raise WeavingError(f"{len(woven)} picks at once; tell them in parts of {MOST_TOLD} at the most")
    _require_shuttles(piece, (*left, *right, *unknown))
    return ClothTold(taken_out, woven, left, right, unknown)


def tell_sides(
    warp: Warp,
    progress: Progress,
    left: tuple[int, ...] = (),
    right: tuple[int, ...] = (),
    unknown: tuple[int, ...] = (),
) -> SidesTold:
    """Return the event of where the weaver sees the shuttles of these yarns (indices), or does not know where.

    Raises WeavingError where none is named, or one that has no side.
    """
    piece = on_the_loom(warp, progress)
    told = (*left, *right, *unknown)
    if not told:
        raise WeavingError("no shuttle is named; say of one where it lies")
    _require_shuttles(piece, told)
    return SidesTold(left, right, unknown)


def _require_shuttles(piece: Piece, yarns: tuple[int, ...]) -> None:
    if strange := [yarn for yarn in yarns if yarn not in piece.shuttles]:
        raise WeavingError(f"{piece.name} has no shuttle of yarn {strange[0] + 1}")
    if len(set(yarns)) < len(yarns):
        raise WeavingError("a shuttle lies on one side only; name each once")
    if by_hand := [yarn for yarn in yarns if yarn in piece.hand_laid]:
        raise WeavingError(f"{piece.draft.yarns[by_hand[0]].name} is laid in at each pick and lies on no side")
