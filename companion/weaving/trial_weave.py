"""The test weave: each treadle pressed alone, then plain weave, and the shed that must open; what a wrong one tells.

A treadle alone shows its cords; plain weave shows the threading, because there every two neighbours lie apart:
where two rise together, one of them hangs on a wrong shaft, or two have changed places.
"""

from __future__ import annotations

from itertools import combinations
from typing import NamedTuple

from companion.draft.masks import NO_SHAFT, Shed, common, complement, shafts_of, shed_of, union
from companion.draft.model import Draft
from companion.draft.tabby import tabby_sheds
from companion.remap.loom.loom import Action, TieUp
from companion.weaving.warp import Warp


class TrialShed(NamedTuple):
    """One shed to look at: `pressed` treadles (indices; levers on a lever loom), shafts that must be `up` and `down`.

    `plain`: a shed of plain weave; where no one or two treadles open it, `pressed` is empty and it is lifted by hand.
    A shaft that is neither up nor down is left alone by a single treadle of a countermarche loom.
    """

    pressed: tuple[int, ...]
    up: Shed
    down: Shed
    plain: bool = False


def trial_sheds(warp: Warp) -> tuple[TrialShed, ...]:
    """Return the sheds of the test weave of a warp: each tied treadle of its first tie-up alone, then plain weave."""
    return (*_alone(warp), *_plain(warp))


def _alone(warp: Warp) -> list[TrialShed]:
    draft, threaded = warp.pieces[0].draft, warp.pieces[0].draft.threaded_shafts()
    if warp.loom.loom.action is Action.LEVERS:
        return [_lifted((shaft - 1,), shed_of((shaft,)), threaded) for shaft in shafts_of(threaded)]
    return treadle_sheds(warp, draft, _first_tieup(warp))


def treadle_sheds(warp: Warp, draft: Draft, tieup: TieUp) -> list[TrialShed]:
    """Return the shed that each tied treadle of a tie-up opens by itself."""
    threaded = draft.threaded_shafts()
    found = []
    for treadle, tie in enumerate(tieup):
        up, down = common(tie.up, threaded), common(tie.down, threaded)
        if up == down == NO_SHAFT:
            continue
        match warp.loom.loom.action:
            case Action.COUNTERMARCHE:
                found.append(TrialShed((treadle,), up, down))
            case Action.SINKING:
                found.append(TrialShed((treadle,), common(complement(down, draft.shafts), threaded), down))
            case _:
                found.append(_lifted((treadle,), up, threaded))
    return found


def _plain(warp: Warp) -> list[TrialShed]:
    threaded = warp.pieces[0].draft.threaded_shafts()
    sheds = tabby_sheds(warp.pieces[0].draft.threading) or ()
    return [_lifted(_opened_by(warp, shed, threaded), shed, threaded)._replace(plain=True) for shed in sheds]


def _opened_by(warp: Warp, shed: Shed, threaded: Shed) -> tuple[int, ...]:
    """Return the one treadle, or the two, that open exactly this shed; none where there are none."""
    tieup = _first_tieup(warp)
    if warp.loom.loom.action is Action.LEVERS:
        return tuple(shaft - 1 for shaft in shafts_of(shed))
    sunk = common(complement(shed, warp.pieces[0].draft.shafts), threaded)
    for treadles in (1, 2):
        for pressed in combinations(range(len(tieup)), treadles):
            up = common(union(tieup[treadle].up for treadle in pressed), threaded)
            down = common(union(tieup[treadle].down for treadle in pressed), threaded)
            if {
                Action.SINKING: down == sunk,
                Action.COUNTERMARCHE: (up, down) == (shed, sunk),
            }.get(warp.loom.loom.action, up == shed):
                return pressed
    return ()


def _first_tieup(warp: Warp) -> TieUp:
    stages = warp.pieces[0].stages
    return stages[0].tieup if stages else ()


def _lifted(pressed: tuple[int, ...], up: Shed, threaded: Shed) -> TrialShed:
    return TrialShed(pressed, up, common(complement(up, max(shafts_of(threaded), default=1)), threaded))


class NeighboursAlike(NamedTuple):
    """What to look at where two neighbours rise together in plain weave: the `ends` (indices) and their shafts."""

    ends: tuple[int, ...]
    shafts: tuple[int | None, ...]


def ends_near(warp: Warp, end: int, reach: int = 2) -> NeighboursAlike:
    """Return the ends round the one that was touched, with the shaft that each must hang on."""
    threading = warp.pieces[0].draft.threading
    ends = tuple(range(max(end - reach, 0), min(end + reach + 1, len(threading))))
    return NeighboursAlike(ends, tuple(threading[at] for at in ends))
