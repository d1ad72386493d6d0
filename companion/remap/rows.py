"""Reach 2: the least row of columns for one group of targets, between two bounds that close in.

One search proves from below, one treadle more at a time; another looks for answers half-way between the bounds, so
that an answer worth having is known early. They take turns, and what either finds counts for both.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.remap.bounds import counting_bound, fooling_set
from companion.remap.search_runs import Columns, RowSearch
from companion.remap.search_watch import SearchPausedError, Watch

TURN = 16
"""Nodes of one turn."""


class Row:
    """One group of targets: at least `low` columns are needed, and `best` is a row that does."""

    def __init__(self, targets: Sequence[int]) -> None:
        self._targets = tuple(sorted(targets, key=lambda target: (target.bit_count(), target)))
        self._seeds = fooling_set(targets)
        self.low = max(len(self._seeds), counting_bound(len(targets), reach=2))
        self.best: Columns = tuple(targets)
        self._searches: dict[int, RowSearch] = {}

    def turn(self, watch: Watch) -> None:
        """Let both searches go on for a while, or until the bounds move. Raises SearchStoppedError."""
        for treadles in sorted({self.low, (self.low + len(self.best) - 1) // 2}):
            search = self._searches.get(treadles)
            if search is None:
                search = self._searches[treadles] = RowSearch(self._targets, self._seeds, treadles, watch)
            watch.allow(TURN)
            try:
                found = search.columns()
            except SearchPausedError:
                continue
            if found is None:
                self.low = treadles + 1
            else:
                self.best = found
            return

    def answers(self, watch: Watch) -> Iterator[Columns]:
        """Yield different answers with as many columns as the best one. Raises SearchStoppedError."""
        search = RowSearch(self._targets, self._seeds, len(self.best), watch)
        while (found := search.columns()) is not None:
            yield found
