"""The tie-up that is on a loom now, square by square to be touched: shafts by treadles, a page at a time."""

from __future__ import annotations

from dataclasses import dataclass, replace

from companion.draft.masks import is_raised, with_shaft
from companion.remap.loom.loom import Action, Loom, Tie, TieUp
from companion.weaving.warp import LoomProfile

_KEYS = {
    Action.RISING: "filled: tied",
    Action.SINKING: "crossed: tied",
    Action.COUNTERMARCHE: "filled: up, crossed: down",
}


@dataclass(frozen=True, slots=True)
class TieSquare:
    """Where a cord may hang (indices from 0); `way` is 1 for a shaft tied up, -1 for down, 0 for no cord."""

    treadle: int
    shaft: int
    way: int


@dataclass(frozen=True, slots=True)
class CurrentTieUpSigns:
    """Everything that the screen says: rows of squares, the highest shaft first, treadle 1 on the left.

    `number` is the page of so many (`of`), for a loom whose squares do not all fit the screen.
    """

    headline: str
    detail: str
    rows: tuple[tuple[TieSquare, ...], ...]
    number: int
    of: int


def current_tieup_signs(profile: LoomProfile, number: int, across: int, down: int) -> CurrentTieUpSigns:
    """Return a page of the loom's squares, at most `across` treadles by `down` shafts (each 1 or more).

    After the last page comes the first. Pages are about as large as one another, so that no square jumps far.
    """
    loom = profile.loom
    treadles, shafts = _blocks(loom.treadles, across), _blocks(loom.shafts, down)
    of = len(treadles) * len(shafts)
    number %= of
    at_shafts, at_treadles = divmod(number, len(treadles))
    part = f" · page {number + 1} of {of}" if of > 1 else ""
    present = _whole(profile.present, loom)
    return CurrentTieUpSigns(
        f"{profile.name}: touch what is tied",
        f"shafts upwards, treadles from the left; {_KEYS[loom.action]}{part}",
        tuple(
            tuple(TieSquare(treadle, shaft, _way(present[treadle], shaft)) for treadle in treadles[at_treadles])
            for shaft in reversed(shafts[at_shafts])
        ),
        number,
        of,
    )


def with_square_touched(profile: LoomProfile, square: TieSquare) -> LoomProfile:
    """Return the loom with the cord of a square changed: none, then one; on a countermarche up, then down, then none.

    A touch makes the tie-up known: treadles that were not told of are untied.
    """
    present = _whole(profile.present, profile.loom)
    tie = present[square.treadle]
    up, down = _next_way(_way(tie, square.shaft), profile.loom.action)
    changed = Tie(with_shaft(tie.up, square.shaft, up), with_shaft(tie.down, square.shaft, down))
    return replace(profile, present=(*present[: square.treadle], changed, *present[square.treadle + 1 :]))


def _next_way(way: int, action: Action) -> tuple[bool, bool]:
    if action is Action.COUNTERMARCHE:
        return {0: (True, False), 1: (False, True), -1: (False, False)}[way]
    tied = way == 0
    return (False, tied) if action is Action.SINKING else (tied, False)


def _way(tie: Tie, shaft: int) -> int:
    return int(is_raised(tie.up, shaft)) - int(is_raised(tie.down, shaft))


def _whole(present: TieUp | None, loom: Loom) -> TieUp:
    known = present or ()
    return (*known, *(Tie() for _ in range(loom.treadles - len(known))))


def _blocks(count: int, most: int) -> tuple[range, ...]:
    blocks = -(-count // most)
    each = -(-count // blocks)
    return tuple(range(begin, min(begin + each, count)) for begin in range(0, count, each))
