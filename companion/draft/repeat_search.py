"""The cheapest reading of a treadling as nested repeats and turns.

Exact up to `EXACT_PICKS` picks: `repeat_tables` knows the cost of every stretch. In longer treadlings it knows every
stretch up to `WINDOW` picks; the reading is then a cheapest path from the first pick to the last whose steps are such
stretches and repeats, any number of times, of a body that is such a stretch. That path is still exact when nothing
longer than the window is repeated or turned. When something is, the most promising of those repeats and turns become
further steps, shortest bodies first so that they nest, and the reading is the best one found.

A body that is itself a repeat ((1 2 1 2)x3) is not considered beyond the window: the shorter body (1 2)x6 says it.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

import numpy as np
from numpy.typing import NDArray

from companion.draft.repeat_tables import StretchTable
from companion.draft.repeats import MARK_COST, PICK_COST, Back, Repeat, SequencePart, SymbolRun, Turn, cost, series

EXACT_PICKS = 1_000
"""The longest treadling of which the reading is always exact."""
WINDOW = 256
"""The longest stretch of which a longer treadling knows the exact cost; a power of two."""
_PROMISING_TURNS = 32
_WORK_PER_PICK = 8
"""Long bodies are only read while their lengths add up to this many times the treadling."""

Item = TypeVar("Item", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Reading(Generic[Item]):
    """A reading: `items[symbol]` is what a symbol of `part` stands for. `exact`: no reading is cheaper."""

    part: SequencePart
    items: tuple[Item, ...]
    cost: int
    exact: bool


def read_repeats(sequence: Sequence[Item], *, exact_picks: int = EXACT_PICKS, window: int = WINDOW) -> Reading[Item]:
    """Return the cheapest reading of a sequence, such as of what is pressed and thrown at each pick.

    `read_repeats("abababc")` reads `(a b)x3 c`. The time grows with the cube of `exact_picks` and the square of
    `window`, a power of two.
    """
    symbol_of: dict[Item, int] = {}
    symbols = [symbol_of.setdefault(item, len(symbol_of)) for item in sequence]
    items = tuple(symbol_of)
    if len(symbols) <= max(exact_picks, window):
        table = StretchTable(symbols, len(symbols))
        return Reading(table.part(0, len(symbols)), items, table.cost(0, len(symbols)), exact=True)
    search = _LongSearch(symbols, window)
    part = search.part(0, len(symbols))
    return Reading(part, items, cost(part), search.exact or cost(part) <= search.least_conceivable(len(items)))


@dataclass(frozen=True, slots=True)
class _Step:
    """The last step of a path: from `start`, a stretch of the table, or a `body` (start, stop) repeated or turned."""

    start: int
    body: tuple[int, int] | None = None
    how: int | Turn = 1


@dataclass(frozen=True, slots=True)
class _Paths:
    """Cheapest paths from one pick: `costs[k]` and the last step `steps[k]` to reach the k-th pick after it."""

    costs: NDArray[np.int32]
    steps: tuple[_Step, ...]


@dataclass(frozen=True, slots=True)
class _RepeatedBody:
    """A long body worth reading, and the places where it makes up a step: (start, stop, how)."""

    start: int
    stop: int
    uses: tuple[tuple[int, int | Turn], ...]


class _LongSearch:
    """Paths over one long sequence of symbols."""

    def __init__(self, symbols: Sequence[int], window: int) -> None:
        self._symbols = tuple(symbols)
        self._window = window
        self._table = StretchTable(symbols, window)
        self._costs_by_end = self._table.costs_by_end()
        self._squares = self._primitive_squares()
        # For each stop the long steps that end there: (start, body, how, cost of the step).
        self._long_steps: dict[int, list[tuple[int, tuple[int, int], int | Turn, int]]] = {}
        self._known: dict[tuple[int, ...], tuple[int, _Paths]] = {}
        self._add_long_steps()

    def cost(self, start: int, stop: int) -> int:
        """Return the cost of the best reading found of the picks `start` to `stop`."""
        return int(self._paths(start, stop)[1].costs[-1])

    def part(self, start: int, stop: int) -> SequencePart:
        """Return the best reading found of the picks `start` to `stop`."""
        base, paths = self._paths(start, stop)
        parts: list[SequencePart] = []
        at = stop - start
        while at:
            step = paths.steps[at]
            begin = step.start - base
            if step.body is None:
                parts.append(self._table.part(step.start, at - begin))
            else:
                body = self.part(*step.body)
                parts.append(Back(body, step.how) if isinstance(step.how, Turn) else Repeat(body, step.how))
            at = begin
        return series(reversed(parts)) if parts else SymbolRun(())

    def least_conceivable(self, items: int) -> int:
        """Return a cost that no reading of the whole goes below, with so many different items in it.

        With two marks or more each item must still be written once. With one mark the rest is written out: all but a
        single repeat, or half of a single turn. A body longer than the window is that much writing by itself.
        """
        n = len(self._symbols)
        written = [n - n // 2, self._window + 1]
        for period in range(1, min(self._window, n // 2) + 1):
            stretch = int(self._table.period_holds(period).max()) + period
            written.append(n - (stretch // period - 1) * period)
        one_mark = PICK_COST * min(written) + MARK_COST
        return min(one_mark, PICK_COST * items + 2 * MARK_COST)

    def _paths(self, start: int, stop: int) -> tuple[int, _Paths]:
        """Return the paths of a stretch and where they were worked out: an equal stretch earlier will do."""
        word = self._symbols[start:stop]
        if word not in self._known:
            self._known[word] = (start, self._walk(start, stop))
        return self._known[word]

    def _walk(self, start: int, stop: int) -> _Paths:
        costs = np.zeros(stop - start + 1, dtype=np.int32)
        steps = [_Step(start)]
        # (period, stop) of a repeat under way: its cost with all before it, and its start.
        under_way: dict[tuple[int, int], tuple[int, int]] = {}
        for end in range(start + 1, stop + 1):
            longest = min(self._window, end - start)
            totals = costs[end - start - longest : end - start] + self._costs_by_end[end, longest:0:-1]
            least = int(totals.argmin())
            best, step = int(totals[least]), _Step(end - longest + least)
            for period in self._squares[end]:
                first = end - 2 * period
                if first < start:
                    continue
                begun = int(costs[first - start]) + self._table.cost(first, period) + MARK_COST, first
                repeat = min(under_way.get((period, end - period), begun), begun)
                under_way[period, end] = repeat
                if repeat[0] <= best:
                    best, origin = repeat
                    step = _Step(origin, (origin, origin + period), (end - origin) // period)
            for first, body, how, marked in self._long_steps.get(end, ()):
                if first >= start and int(costs[first - start]) + marked <= best:
                    best = int(costs[first - start]) + marked
                    step = _Step(first, body, how)
            costs[end - start] = best
            steps.append(step)
        return _Paths(costs, tuple(steps))

    def _primitive_squares(self) -> list[list[int]]:
        """Return for each stop the periods, up to the window, of the primitive squares that end there."""
        n = len(self._symbols)
        found: list[list[int]] = [[] for _ in range(n + 1)]
        for period in range(1, min(self._window, n // 2) + 1):
            square = self._table.period_holds(period) >= period
            for prime in _prime_factors(period):
                part = period // prime
                square &= self._table.period_holds(part) < period - part
            for first in np.flatnonzero(square).tolist():
                found[first + 2 * period].append(period)
        return found

    def _add_long_steps(self) -> None:
        n = len(self._symbols)
        costs = self._paths(0, n)[1].costs
        bodies = [*self._long_repeats(costs), *self._long_turns(costs)]
        self.exact = not bodies and not self._has_long_turn()
        work = 0
        for body in sorted(bodies, key=lambda body: (body.stop - body.start, body.start)):
            work += body.stop - body.start
            if work > _WORK_PER_PICK * n:
                break
            marked = self.cost(body.start, body.stop) + MARK_COST
            for stop, how in body.uses:
                self._long_steps.setdefault(stop, []).append((body.start, (body.start, body.stop), how, marked))
        if bodies:
            # What was read before the last steps were known may be cheaper with them.
            self._known.clear()

    def _long_repeats(self, costs: NDArray[np.int32]) -> Iterator[_RepeatedBody]:
        """Yield long bodies that are repeated: each run of repeats from its first and its likeliest start."""
        for first, stop, period in _long_runs(self._symbols, self._window):
            last = stop - 2 * period
            rise = costs[first + period : last + period + 1] - costs[first : last + 1]
            for start in sorted({first, first + int(rise.argmin())}):
                times = range(2, (stop - start) // period + 1)
                yield _RepeatedBody(start, start + period, tuple((start + k * period, k) for k in times))

    def _long_turns(self, costs: NDArray[np.int32]) -> Iterator[_RepeatedBody]:
        """Yield bodies woven forth and back over more than the window, those that promise to save the most."""
        promising = []
        for turn, radii in ((Turn.ONCE, self._table.odd_radius), (Turn.TWICE, self._table.even_radius)):
            for centre in np.flatnonzero(radii > self._window // 2).tolist():
                radius = int(radii[centre])
                forth = centre + (turn is Turn.ONCE)
                ends = costs[forth : centre + radius + 1]
                for way in {int(ends.argmax()), len(ends) - 1}:
                    saving = int(ends[way]) - int(costs[forth]) - MARK_COST
                    if saving > 0:
                        promising.append((-saving, centre - way, forth, forth + way, turn))
        for _, start, forth, stop, turn in sorted(promising, key=lambda found: found[:4])[:_PROMISING_TURNS]:
            point = ((stop - 1, Turn.POINT),) if turn is Turn.ONCE else ()
            yield _RepeatedBody(start, forth, ((stop, turn), *point))

    def _has_long_turn(self) -> bool:
        widest = max(2 * int(self._table.odd_radius.max()) - 1, 2 * int(self._table.even_radius.max()))
        # A stretch turned at a point is a palindrome and one pick more.
        return widest >= self._window


def _long_runs(symbols: Sequence[int], window: int) -> Iterator[tuple[int, int, int]]:
    """Yield (start, stop, period) where a period above the window holds twice over and no part of it does."""
    sequence = np.array(symbols)
    n = len(sequence)
    names = _names_of_blocks(sequence, window // 2)
    probes = np.arange(0, len(names), window // 2)
    runs: dict[int, list[tuple[int, int]]] = {}
    for period in range(1, n // 2 + 1):
        # A period that holds for two long periods holds for a whole block at one of the probes.
        here = probes[: np.searchsorted(probes, len(names) - period)]
        if period > window and not (names[here] == names[here + period]).any():
            continue
        differs = np.flatnonzero(sequence[:-period] != sequence[period:])
        edges = np.concatenate(([-1], differs, [n - period]))
        wide = np.flatnonzero(edges[1:] - edges[:-1] > period)
        runs[period] = [(int(edges[gap]) + 1, int(edges[gap + 1]) + period) for gap in wide.tolist()]
        if period <= window:
            continue
        parts = [run for prime in _prime_factors(period) for run in runs.get(period // prime, ())]
        for first, stop in runs[period]:
            if not any(begin <= first and first + period <= end for begin, end in parts):
                yield first, stop, period


def _names_of_blocks(sequence: NDArray[np.int_], block: int) -> NDArray[np.int_]:
    """Return for each start a number that stands for the `block` symbols from there, equal for equal ones only.

    By doubling: R. M. Karp, R. E. Miller, A. L. Rosenberg, "Rapid identification of repeated patterns in strings, trees
    and arrays", 4th ACM Symposium on Theory of Computing (1972), 125-136.
    """
    names, length = sequence, 1
    while length < block:
        pairs = names[:-length] * (int(names.max()) + 1) + names[length:]
        names = np.unique(pairs, return_inverse=True)[1]
        length *= 2
    return names


def _prime_factors(number: int) -> Iterator[int]:
    factor = 2
    while number > 1:
        if number % factor == 0:
            yield factor
            while number % factor == 0:
                number //= factor
        factor += 1
