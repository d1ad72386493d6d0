"""Reach 2: the least row of columns for one group of targets, between two bounds that close in.

One search proves from below, one treadle more at a time; another allows one treadle more than that and often has an
answer before the first one is through. A third saves treadles at reach 1 (`savings`): what one treadle
under each foot can do, a foot on two can do as well, so its answers are a cheap upper bound. They take turns.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.remap.search.bounds import counting_bound, fooling_set
from companion.remap.search.runs import Columns, RowSearch
from companion.remap.search.savings import SavingsSearch
from companion.remap.search.watch import SearchPausedError, Watch

TURN = 16
"""Nodes of one turn; at reach 1 a node costs as the square of the number of targets."""
RESTARTS = 60
"""How long to look for columns to start from: they are worth a lot here."""


class Row:
    """One group of targets: at least `low` columns are needed, and `best` is a row that does."""

    def __init__(self, targets: Sequence[int]) -> None:
        self._targets = tuple(sorted(targets, key=lambda target: (target.bit_count(), target)))
        self._seeds = fooling_set(targets, RESTARTS)
        self.low = max(len(self._seeds), counting_bound(len(targets), reach=2))
        self.best: Columns = tuple(targets)
        self._searches: dict[int, RowSearch] = {}
        self._savings: SavingsSearch | None = None
        self._turn_saving = max(1, TURN * 400 // len(targets) ** 2)

    def turn(self, watch: Watch, enough: int | None) -> None:
        """Let the searches go on for a while, or until the bounds move. Raises SearchStoppedError.

        Where only the question matters whether `enough` columns do, one search asks just that.
        """
        most = len(self.best) - 1
        asked = {self.low, min(self.low + 1, most)} if enough is None else {min(max(enough, self.low), most)}
        for treadles in sorted(asked):
            if treadles not in self._searches:
                self._searches[treadles] = RowSearch(self._targets, self._seeds, treadles, watch)
            try:
                watch.allow(TURN)
                found = self._searches[treadles].columns()
                if found is None:
                    self.low = treadles + 1
                else:
                    self.best = found
                return
            except SearchPausedError:
                pass
        self._save_at_reach_one(watch)

    def _save_at_reach_one(self, watch: Watch) -> None:
        if self._savings is None:
            self._savings = SavingsSearch(self._targets, watch)
        try:
            watch.allow(self._turn_saving)
            found = self._savings.columns(len(self._targets) - len(self.best) + 1)
            if found is not None:
                self.best = found
        except SearchPausedError:
            pass

    def answers(self, watch: Watch) -> Iterator[Columns]:
        """Yield different answers with as many columns as the best one. Raises SearchStoppedError."""
        search = RowSearch(self._targets, self._seeds, len(self.best), watch)
        while (found := search.columns()) is not None:
            yield found
