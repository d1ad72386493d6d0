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

_MANY_LINES = 512
"""From so many different threads on it is quicker to go through all of them side by side."""


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
    found = []
    for surface in Surface:
        warp_on_top = woven.raised == (surface is Surface.FACE)
        warp = _ThreadLines(warp_on_top.T, woven.shed_of_pick, woven.shaft_of_end)
        weft = _ThreadLines(~warp_on_top, woven.shaft_of_end, woven.shed_of_pick)
        for threads, lines in ((Threads.WARP, warp), (Threads.WEFT, weft)):
            length, count, named = lines.longest(places)
            found.append(LongestFloats(threads, surface, length, count, named))
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


@dataclass(frozen=True, slots=True, eq=False)
class _ThreadLines:
    """The threads of one direction, equal ones kept once as a line.

    At its `at`-th crossing, line `l` is on top where `on_top[l, kind_of_step[at]]`; thread `t` runs like line
    `line_of_thread[t]`.
    """

    on_top: NDArray[np.bool_]
    kind_of_step: NDArray[np.intp]
    line_of_thread: NDArray[np.intp]

    def longest(self, places: int) -> tuple[int, int, tuple[Float, ...]]:
        """Return the length of the longest floats, how many threads' floats have it, and the first of them."""
        by_line = _by_step if len(self.on_top) >= _MANY_LINES else _by_line
        longest, times = by_line(self.on_top, self.kind_of_step)
        length = int(longest[self.line_of_thread].max(initial=0))
        if length == 0:
            return 0, 0, ()
        reaches = (longest == length)[self.line_of_thread]
        named: list[Float] = []
        for thread in np.flatnonzero(reaches)[:places].tolist():
            starts, lengths = _floats_along(self.on_top[self.line_of_thread[thread], self.kind_of_step])
            named += [Float(thread, start, length) for start in starts[lengths == length].tolist()]
        return length, int(times[self.line_of_thread][reaches].sum()), tuple(named[:places])


def _by_line(on_top: NDArray[np.bool_], kind_of_step: NDArray[np.intp]) -> tuple[NDArray[np.int32], NDArray[np.int32]]:
    """Return for each line the length of its longest float and how often it has that length; line by line."""
    longest, times = np.zeros(len(on_top), np.int32), np.zeros(len(on_top), np.int32)
    for line, row in enumerate(on_top):
        lengths = _floats_along(row[kind_of_step])[1]
        if len(lengths):
            longest[line] = lengths.max()
            times[line] = np.count_nonzero(lengths == longest[line])
    return longest, times


def _by_step(on_top: NDArray[np.bool_], kind_of_step: NDArray[np.intp]) -> tuple[NDArray[np.int32], NDArray[np.int32]]:
    """Return the same as `_by_line`, for very many lines: all lines at once, crossing by crossing.

    The full matrix of lines x crossings is never made, so the memory stays that of a few numbers per line.
    """
    columns = np.ascontiguousarray(on_top.T).astype(np.int32)
    run, longest, times = (np.zeros(len(on_top), np.int32) for _ in range(3))
    longer, as_long = (np.zeros(len(on_top), np.bool_) for _ in range(2))
    for kind in kind_of_step.tolist():
        run += 1
        run *= columns[kind]
        np.greater(run, longest, out=longer)
        np.equal(run, longest, out=as_long)
        times += as_long
        np.copyto(times, 1, where=longer)
        np.maximum(longest, run, out=longest)
    return longest, times


def _floats_along(on_top: NDArray[np.bool_]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Return the starts and the lengths of the floats along one thread."""
    changes = np.flatnonzero(np.diff(on_top, prepend=False, append=False))
    return changes[::2], changes[1::2] - changes[::2]
