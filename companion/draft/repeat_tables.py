"""The exact cost of the cheapest reading of every stretch of a treadling up to a given length.

Dynamic programming over lengths, for all starts at once: a stretch is a pick, two shorter stretches, a shorter stretch
repeated, or a shorter one woven forth and back. With n picks and stretches up to w the work is n w w / 2 additions.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from companion.draft.repeats import MARK_COST, PICK_COST, Back, Repeat, SequencePart, SymbolRun, Turn, series

LONGEST_STRETCH = 8_000
"""Beyond this the costs of a table, kept as 16-bit numbers, could overflow."""
_COLUMNS_AT_ONCE = 2_048


class Shorter(NamedTuple):
    """One way to read a stretch: a shorter one from the same start, `times` times or turned back."""

    length: int
    how: int | Turn


class StretchTable:
    """Costs of all stretches up to `longest` picks of the sequence `symbols` (numbers from 0)."""

    def __init__(self, symbols: Sequence[int], longest: int) -> None:
        self.symbols = tuple(symbols)
        self._sequence = np.array(self.symbols, dtype=np.int32)
        self.longest = min(longest, len(self.symbols), LONGEST_STRETCH)
        self.odd_radius, self.even_radius = palindrome_radii(self.symbols)
        n = len(self.symbols)
        self._periodic: dict[int, NDArray[np.int32]] = {}
        # Row = length; the first by the start of a stretch, the second by its end.
        self._by_start = np.zeros((self.longest + 1, n + 1), dtype=np.int16)
        self._by_end = np.zeros((self.longest + 1, n + 1), dtype=np.int16)
        for length in range(1, self.longest + 1):
            self._fill(length)

    def cost(self, start: int, length: int) -> int:
        """Return the cost of the cheapest reading of `length` picks from `start`."""
        return int(self._by_start[length, start])

    def costs_by_end(self) -> NDArray[np.int16]:
        """Return the costs as ends x lengths, int16: entry (end, length) is of the stretch that stops before `end`."""
        return np.ascontiguousarray(self._by_end.T)

    def period_holds(self, period: int) -> NDArray[np.int32]:
        """Return for each start how many picks from there equal the pick `period` later, int32."""
        if period not in self._periodic:
            self._periodic[period] = _matches_from(self._sequence, period)
        return self._periodic[period]

    def part(self, start: int, length: int) -> SequencePart:
        """Return a cheapest reading of a stretch; of several a repeat, else a turn, else with a long first part."""
        # Marked parts nest only as deep as lengths can be halved, but unmarked ones may lie side by side by the
        # hundred: those are kept on a list.
        parts: list[SequencePart] = []
        waiting = [(start, length)]
        while waiting:
            start, length = waiting.pop()
            marked = self._marked(start, length)
            if marked is not None:
                parts.append(marked)
            elif self.cost(start, length) == PICK_COST * length:
                parts.append(SymbolRun(self.symbols[start : start + length]))
            else:
                first = self._first_part(start, length)
                waiting += [(start + first, length - first), (start, first)]
        return series(parts)

    def _marked(self, start: int, length: int) -> SequencePart | None:
        """Return the stretch as a repeat or a turn where that is a cheapest reading."""
        for way in self._ways(start, length):
            if self.cost(start, way.length) + MARK_COST == self.cost(start, length):
                body = self.part(start, way.length)
                return Back(body, way.how) if isinstance(way.how, Turn) else Repeat(body, way.how)
        return None

    def _first_part(self, start: int, length: int) -> int:
        """Return the longest first part in a cheapest reading as two."""
        both = self._by_start[1:length, start] + self._by_end[length - 1 : 0 : -1, start + length]
        return int(np.flatnonzero(both == self.cost(start, length))[-1]) + 1

    def _ways(self, start: int, length: int) -> Iterator[Shorter]:
        for period in _divisors(length):
            if self.period_holds(period)[start] >= length - period:
                yield Shorter(period, length // period)
        half, odd = divmod(length, 2)
        if half == 0 or length < 3:
            return
        if odd and self.odd_radius[start + half] > half:
            yield Shorter(half + 1, Turn.ONCE)
        if not odd and self.even_radius[start + half] >= half:
            yield Shorter(half, Turn.TWICE)
        if not odd and self.odd_radius[start + half] >= half:
            yield Shorter(half + 1, Turn.POINT)

    def _fill(self, length: int) -> None:
        starts = len(self.symbols) - length + 1
        best = np.full(starts, PICK_COST * length, dtype=np.int16)
        for first in range(0, starts, _COLUMNS_AT_ONCE):
            here = slice(first, min(first + _COLUMNS_AT_ONCE, starts))
            ends = slice(here.start + length, here.stop + length)
            if length > 1:
                split = self._by_start[1:length, here] + self._by_end[length - 1 : 0 : -1, ends]
                np.minimum(best[here], split.min(axis=0), out=best[here])
        for body, holds in self._shorter_everywhere(length, starts):
            marked = self._by_start[body, :starts] + np.int16(MARK_COST)
            np.copyto(best, marked, where=holds & (marked < best))
        self._by_start[length, :starts] = best
        self._by_end[length, length:] = best

    def _shorter_everywhere(self, length: int, starts: int) -> Iterator[tuple[int, NDArray[np.bool_]]]:
        """Yield each shorter body with the starts at which it makes up a stretch of this length; as `_ways`."""
        for period in _divisors(length):
            yield period, self.period_holds(period)[:starts] >= length - period
        half, odd = divmod(length, 2)
        if length < 3:
            return
        odd_radius = self.odd_radius[half : half + starts]
        if odd:
            yield half + 1, odd_radius > half
        else:
            yield half, self.even_radius[half : half + starts] >= half
            yield half + 1, odd_radius >= half


def palindrome_radii(symbols: Sequence[int]) -> tuple[NDArray[np.int32], NDArray[np.int32]]:
    """Return for each pick the widest palindrome round it (picks on one side, with it) and round the gap before it.

    Both are (picks, int32). G. Manacher, "A new linear-time on-line algorithm for finding the smallest initial
    palindrome of a string", Journal of the ACM 22 (1975), 346-351.
    """
    n = len(symbols)
    radii = []
    for gap in (0, 1):
        radius = [0] * n
        left, right = 0, -1
        for centre in range(n):
            size = 1 - gap
            if centre <= right:
                size = min(radius[left + right - centre + gap], right - centre + 1)
            while (
                centre + size < n
                and centre - size - gap >= 0
                and symbols[centre + size] == symbols[centre - size - gap]
            ):
                size += 1
            radius[centre] = size
            if centre + size - 1 > right:
                left, right = centre - size - gap + 1, centre + size - 1
        radii.append(np.array(radius, dtype=np.int32))
    return radii[0], radii[1]


def _matches_from(sequence: NDArray[np.int32], period: int) -> NDArray[np.int32]:
    n = len(sequence)
    mismatch = np.full(n, n, dtype=np.int32)
    compared = n - period
    at = np.arange(n, dtype=np.int32)
    mismatch[compared:] = at[compared:]
    differs = sequence[:compared] != sequence[period:]
    mismatch[:compared][differs] = at[:compared][differs]
    return np.minimum.accumulate(mismatch[::-1])[::-1] - at


def _divisors(length: int) -> Iterator[int]:
    """Yield the proper divisors of a length, rising."""
    return (part for part in range(1, length // 2 + 1) if length % part == 0)
