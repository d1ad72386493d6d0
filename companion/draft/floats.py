"""Floats: how far a thread lies over others without interlacing, on the face and on the back.

Convention: floats are counted within the woven piece. A run that reaches an edge counts with the length it has in the
piece, as a thread at the edge is held by nothing beyond it. Lengths are in crossings: plain weave has floats of 1.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from companion.draft.cloth import Crossings, Surface

_CELLS_AT_ONCE = 2_000_000
"""Bounds the memory of a cloth of which no two picks are alike: some 50 MB."""


class Threads(Enum):
    """One of the two ways that threads run."""

    WARP = "warp"
    WEFT = "weft"


@dataclass(frozen=True, slots=True)
class Float:
    """One float: `thread` is the end (warp) or pick (weft); it passes `length` threads, the first of them `first`."""

    thread: int
    first: int
    length: int


@dataclass(frozen=True, slots=True)
class LongestFloats:
    """The longest floats of the warp or of the weft on one surface.

    `count` floats have this `length`; `places` names the first of them, by thread and then along it.
    """

    threads: Threads
    surface: Surface
    length: int
    count: int
    places: tuple[Float, ...]


@dataclass(frozen=True, slots=True)
class NeverInterlacing:
    """The ends and picks (indices) that lie wholly above or wholly below the other threads."""

    ends: tuple[int, ...]
    picks: tuple[int, ...]


def longest_floats(woven: Crossings, places: int = 3) -> tuple[LongestFloats, ...]:
    """Return the longest floats: warp on the face, weft on the face, warp on the back, weft on the back.

    At most `places` places are named of each. A cloth without picks or ends has floats of length 0.
    """
    warp_lines = np.ascontiguousarray(woven.raised[woven.shed_of_pick].T)
    weft_lines = woven.raised[:, woven.shaft_of_end]
    warp = _longest_runs(warp_lines, woven.ends_of_shaft > 0)
    weft = _longest_runs(weft_lines, woven.picks_of_shed > 0)
    found = []
    for surface in Surface:
        warp_up = surface is Surface.FACE
        for threads, runs, line_of_thread in (
            (Threads.WARP, warp[warp_up], woven.shaft_of_end),
            (Threads.WEFT, weft[not warp_up], woven.shed_of_pick),
        ):
            found.append(_spread(threads, surface, runs, line_of_thread, places))
    return tuple(found)


def never_interlacing(woven: Crossings) -> NeverInterlacing:
    """Return the ends that are up (or down) at every pick and the picks that lie over (or under) every end."""
    idle_shaft = (woven.raised == woven.raised[:1]).all(axis=0)
    used = np.flatnonzero(woven.ends_of_shaft)
    idle_shed = (woven.raised[:, used] == woven.raised[:, used[:1]]).all(axis=1)
    return NeverInterlacing(
        ends=tuple(np.flatnonzero(idle_shaft[woven.shaft_of_end]).tolist()),
        picks=tuple(np.flatnonzero(idle_shed[woven.shed_of_pick]).tolist()),
    )


@dataclass(slots=True)
class _Runs:
    """The longest runs met so far: their length, and the line and start of each."""

    length: int = 0
    lines: tuple[NDArray[np.intp], ...] = ()
    starts: tuple[NDArray[np.intp], ...] = ()

    def take(self, lines: NDArray[np.intp], starts: NDArray[np.intp], lengths: NDArray[np.intp]) -> None:
        longest = int(lengths.max(initial=0))
        if longest == 0 or longest < self.length:
            return
        chosen = lengths == longest
        kept = longest == self.length
        self.lines = (*self.lines, lines[chosen]) if kept else (lines[chosen],)
        self.starts = (*self.starts, starts[chosen]) if kept else (starts[chosen],)
        self.length = longest


def _longest_runs(lines: NDArray[np.bool_], used: NDArray[np.bool_]) -> dict[bool, _Runs]:
    """Return the longest runs of True and of False along the used rows of `lines`."""
    best = {True: _Runs(), False: _Runs()}
    length = lines.shape[1]
    numbers = np.flatnonzero(used)
    if length == 0:
        return best
    rows_at_once = max(1, _CELLS_AT_ONCE // length)
    for first in range(0, len(numbers), rows_at_once):
        rows = numbers[first : first + rows_at_once]
        part = lines[rows]
        begins = np.ones(part.shape, dtype=np.bool_)
        np.not_equal(part[:, 1:], part[:, :-1], out=begins[:, 1:])
        starts = np.flatnonzero(begins)
        lengths = np.diff(starts, append=part.size)
        values = part.ravel()[starts]
        for value, runs in best.items():
            chosen = values == value
            runs.take(rows[starts[chosen] // length], starts[chosen] % length, lengths[chosen])
    return best


def _spread(
    threads: Threads, surface: Surface, runs: _Runs, line_of_thread: NDArray[np.intp], places: int
) -> LongestFloats:
    """Spread runs, found once per different line, over all the threads that lie like that line."""
    if not runs.lines:
        return LongestFloats(threads, surface, 0, 0, ())
    lines, starts = np.concatenate(runs.lines), np.concatenate(runs.starts)
    threads_alike = np.bincount(line_of_thread)
    starts_of: dict[int, list[int]] = {}
    for line, start in zip(lines.tolist(), starts.tolist(), strict=True):
        starts_of.setdefault(line, []).append(start)
    first_threads = np.flatnonzero(np.isin(line_of_thread, lines))[:places].tolist()
    named = [
        Float(thread, start, runs.length)
        for thread in first_threads
        for start in starts_of[int(line_of_thread[thread])]
    ]
    return LongestFloats(threads, surface, runs.length, int(threads_alike[lines].sum()), tuple(named[:places]))
