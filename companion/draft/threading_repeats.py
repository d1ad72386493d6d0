"""The threading read as repeats in the phase in which it is drafted: a repeat begins where it begins to repeat.

The cheapest reading (`repeat_search`) may begin a repeat anywhere within its run, since turned and shifted it is
sometimes shorter to write. Who threads goes by the draft: `(1 2 3 2)x3 1` begins with 1, not with 2. So of all readings
without turns whose repeats begin where a run of them begins, or where another repeat has ended, this is the cheapest.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from companion.draft.repeats import MARK_COST, PICK_COST, Repeat, SequencePart, SymbolRun, series

_LONGEST_BODY = 400
"""No longer stretch is looked for as a repeat: more ends than that are no figure."""


@dataclass(frozen=True, slots=True)
class _Run:
    """From `start` to `stop` every symbol equals the one `period` before it, for two periods at least."""

    start: int
    stop: int
    period: int


def read_threading(symbols: Sequence[int]) -> SequencePart:
    """Return the reading of a threading: `1 2 3 2 1 2 3 2 1 2` reads `(1 2 3 2)x2 1 2`."""
    return _StretchReader(symbols).part(0, len(symbols))


class _StretchReader:
    """Reads stretches of one threading, each word once."""

    def __init__(self, symbols: Sequence[int]) -> None:
        self._symbols = tuple(symbols)
        self._runs = tuple(_runs(self._symbols))
        self._known: dict[tuple[int, ...], tuple[int, SequencePart]] = {}

    def part(self, start: int, stop: int) -> SequencePart:
        """Return the reading of the ends `start` to `stop`."""
        return self._read(start, stop)[1]

    def _read(self, start: int, stop: int) -> tuple[int, SequencePart]:
        """Return cost and reading of a stretch."""
        word = self._symbols[start:stop]
        if word not in self._known:
            self._known[word] = self._work_out(start, stop)
        return self._known[word]

    def _work_out(self, start: int, stop: int) -> tuple[int, SequencePart]:
        # For each end where a repeat may begin: its periods, and where the run of each stops.
        begins: dict[int, list[tuple[int, int]]] = {}
        inside = [run for run in self._runs if run.start < stop and run.stop > start]
        inside = [_Run(max(run.start, start), min(run.stop, stop), run.period) for run in inside]
        # The whole stretch as one repeat of the same is what is read already.
        inside = [run for run in inside if run.stop - run.start >= 2 * run.period]
        ended = sorted({at for run in inside for at in range(run.start + 2 * run.period, run.stop + 1, run.period)})
        for run in inside:
            begins.setdefault(run.start, []).append((run.period, run.stop))
            last = run.stop - 2 * run.period
            for at in ended[bisect_right(ended, run.start) : bisect_right(ended, last)]:
                if (at - run.start) % run.period:
                    begins.setdefault(at, []).append((run.period, run.stop))
        costs = [0] * (stop - start + 1)
        steps: list[tuple[int, int]] = [(1, 1)] * (stop - start)
        for at in range(stop - 1, start - 1, -1):
            # Of readings that cost the same the one whose first part reaches furthest.
            least, reach, step = PICK_COST + costs[at + 1 - start], 1, (1, 1)
            for period, until in begins.get(at, ()):
                body = self._read(at, at + period)[0] + MARK_COST
                for times in range((until - at) // period, 1, -1):
                    ends = times * period
                    cost = body + costs[at + ends - start]
                    if (cost, -ends) < (least, -reach):
                        least, reach, step = cost, ends, (period, times)
            costs[at - start], steps[at - start] = least, step
        parts: list[SequencePart] = []
        at = start
        while at < stop:
            period, times = steps[at - start]
            once = SymbolRun((self._symbols[at],)) if times == 1 else self.part(at, at + period)
            parts.append(once if times == 1 else Repeat(once, times))
            at += period * times
        return costs[0], series(parts)


def _runs(symbols: tuple[int, ...]) -> Iterator[_Run]:
    """Yield every run that reaches as far as it can to both sides, under its shortest period."""
    sequence = np.array(symbols, dtype=np.int64)
    known: set[tuple[int, int]] = set()
    for period in range(1, min(len(sequence) // 2, _LONGEST_BODY) + 1):
        equal = np.concatenate(([False], sequence[period:] == sequence[:-period], [False]))
        edges = np.flatnonzero(equal[1:] != equal[:-1]).reshape(-1, 2)
        for first, after in edges[edges[:, 1] - edges[:, 0] >= period].tolist():
            # Twice a period is a period, too.
            if (first, after + period) not in known:
                known.add((first, after + period))
                yield _Run(first, after + period, period)
