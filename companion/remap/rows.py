"""Reach 2: the least row of columns for one group of targets, between two bounds that close in.

One search proves from below, one treadle more at a time; others look for answers one treadle better than the best.
Which branch a search takes first decides how late it meets an answer, by luck mostly; so several orders take
turns, and the first to meet one, or to see all there is, settles it for all.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.remap.search_runs import Columns, RowSearch
from companion.remap.search_watch import SearchPausedError, Watch

TURN = 16
"""Nodes of one turn."""


class Row:
    """One group of targets: at least `low` columns are needed, and `best` is a row that does."""

    def __init__(self, targets: Sequence[int], low: int) -> None:
        self.targets = tuple(targets)
        self.low = low
        self.best: Columns = tuple(targets)
        self._searches: list[tuple[int, RowSearch]] = []

    def turn(self, watch: Watch) -> None:
        """Let every search that still matters take its turn. Raises SearchStoppedError."""
        if not self._searches:
            self._searches = [
                (treadles, RowSearch(order, treadles, watch))
                for treadles in sorted({self.low, len(self.best) - 1})
                for order in _orders(self.targets)
            ]
        for treadles, search in self._searches:
            watch.allow(TURN)
            try:
                found = search.columns()
            except SearchPausedError:
                continue
            if found is None:
                self.low = max(self.low, treadles + 1)
            else:
                self.best = found
            self._searches = [(n, s) for n, s in self._searches if self.low <= n < len(self.best) and s is not search]
            wanted = {self.low, len(self.best) - 1} if self.low < len(self.best) else set()
            for missing in sorted(wanted - {n for n, _ in self._searches}):
                self._searches += [(missing, RowSearch(order, missing, watch)) for order in _orders(self.targets)]
            return

    def answers(self, watch: Watch) -> Iterator[Columns]:
        """Yield different answers with as many columns as the best one. Raises SearchStoppedError."""
        search = RowSearch(_orders(self.targets)[0], len(self.best), watch)
        while (found := search.columns()) is not None:
            yield found


def _orders(targets: Sequence[int]) -> list[list[int]]:
    small_first = sorted(targets, key=lambda target: (target.bit_count(), target))
    return [small_first]
