"""Reach 1, both ways at once: `search_pairs` climbs from below, `search_savings` comes down from above.

Neither is good everywhere. From below, many sheds made of few columns go fast, but when nearly every shed needs a
treadle of its own the search drowns in them. From above it is the other way about: answers come at once, and the proof
that one treadle more cannot be saved is short as long as few can be. So they take turns until they meet; what either
proves counts for both, and the whole costs a small multiple of the better one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.remap.bounds import counting_bound, fooling_set
from companion.remap.search_pairs import Columns, PairSearch
from companion.remap.search_savings import SavingsSearch
from companion.remap.search_watch import SearchPausedError, Watch
from companion.remap.shares import further_columns

TURN = 32
"""Nodes of one turn; from above, where a node costs as the square of the targets, fewer when there are over twenty."""

RESTARTS = 12
MANY = 16
"""With so many targets it pays to look longer for columns to start from."""


class Duel:
    """One group of targets between two bounds: at least `low` columns are needed, and `best` is an answer."""

    def __init__(self, targets: Sequence[int]) -> None:
        self._targets = tuple(targets)
        self._seeds = fooling_set(targets, RESTARTS if len(targets) >= MANY else 0)
        sure = len(self._seeds) + further_columns(targets, self._seeds)
        self.low = max(sure, counting_bound(len(targets), reach=1))
        self.best: Columns = self._targets
        self._below: PairSearch | None = None
        self._above: SavingsSearch | None = None
        self._turn_above = max(1, min(TURN, TURN * 400 // len(targets) ** 2))

    def turn(self, watch: Watch, enough: int | None) -> None:
        """Let both searches go on for a while, or until the bounds move. Raises SearchStoppedError.

        Where only the question matters whether `enough` columns do, the search from below asks just that.
        """
        treadles = self.low if enough is None else min(max(enough, self.low), len(self.best) - 1)
        if self._above is None:
            self._above = SavingsSearch(self._targets, watch)
        if self._below is None or self._below.treadles != treadles:
            self._below = PairSearch(self._targets, self._seeds, treadles, watch)
        try:
            watch.allow(self._turn_above)
            found = self._above.columns(len(self._targets) - len(self.best) + 1)
            if found is None:
                self.low = len(self.best)
            else:
                self.best = found
            return
        except SearchPausedError:
            pass
        try:
            watch.allow(TURN)
            found = self._below.columns()
            if found is None:
                self.low = treadles + 1
            else:
                self.best = found
            self._below = None
        except SearchPausedError:
            pass

    def answers(self, watch: Watch) -> Iterator[Columns]:
        """Yield different answers with as many columns as the best one. Raises SearchStoppedError."""
        search = PairSearch(self._targets, self._seeds, len(self.best), watch)
        while (found := search.columns()) is not None:
            yield found
