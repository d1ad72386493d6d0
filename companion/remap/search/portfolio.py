"""Reach 1, three ways at once: `pairs` climbs from below, `savings` comes down from above, and
`branch_and_bound` bounds what lies between.

Neither is good everywhere. From below, many sheds made of few columns go fast, but when nearly every shed needs a
treadle of its own the search drowns in them. From above it is the other way about: answers come at once, and the proof
that one treadle more cannot be saved is short as long as few can be. In between, where some treadles can be saved but
not most, both drown, and bounds that are nearly the truth are worth their time: there prices do best. They take turns
until they meet; what one proves counts for all, and the whole costs a small multiple of the best.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress

from companion.remap.search.bounds import counting_bound, fooling_set
from companion.remap.search.branch_and_bound import PriceSearch
from companion.remap.search.corners import answer_by_corners
from companion.remap.search.pairs import Columns, PairSearch
from companion.remap.search.savings import SavingsSearch
from companion.remap.search.shares import further_columns
from companion.remap.search.watch import SearchPausedError, Watch

TURN = 32
"""Nodes of one turn; from above, where a node costs as the square of the targets, fewer when there are over twenty."""

TURN_PRICES = 100
PATIENCE = 12
"""By prices it goes in steps, longer turns than these would be no better; and only after so many turns of the others,
since most drafts are done by then."""

RESTARTS = 12
MANY = 16
"""With so many targets it pays to look longer for columns to start from."""


class Portfolio:
    """One group of targets between two bounds: at least `low` columns are needed, and `best` is an answer."""

    def __init__(self, targets: Sequence[int]) -> None:
        self._targets = tuple(targets)
        self._seeds = fooling_set(targets, RESTARTS if len(targets) >= MANY else 0)
        self._further = further_columns(targets, self._seeds)
        self.low = max(len(self._seeds) + self._further, counting_bound(len(targets), reach=1))
        self.best: Columns = self._targets
        self._below: PairSearch | None = None
        self._above: SavingsSearch | None = None
        self._prices: PriceSearch | None = None
        self._turns = 0
        self._turn_above = max(2, min(TURN, TURN * 400 // len(targets) ** 2))

    def turn(self, watch: Watch, enough: int | None) -> None:
        """Let the searches go on for a while, or until the bounds move. Raises SearchStoppedError.

        Where only the question matters whether `enough` columns do, all but the one from above ask just that.
        """
        self._turns += 1
        if self._turns == PATIENCE:
            start = answer_by_corners(self._targets, self._seeds, self._further)
            if start is not None and len(start) < len(self.best):
                self.best = start
                return
        for search in (self._from_above, self._from_below, self._by_prices):
            before = self.low, len(self.best)
            with suppress(SearchPausedError):
                search(watch, enough)
            if before != (self.low, len(self.best)):
                return

    def _from_above(self, watch: Watch, enough: int | None) -> None:
        if self._above is None:
            self._above = SavingsSearch(self._targets, watch)
        watch.allow(self._turn_above)
        self._found(self._above.columns(len(self._targets) - len(self.best) + 1), len(self.best) - 1)

    def _from_below(self, watch: Watch, enough: int | None) -> None:
        treadles = self.low if enough is None else self._asked(enough)
        if self._below is None or self._below.treadles != treadles:
            self._below = PairSearch(self._targets, self._seeds, treadles, watch)
        watch.allow(TURN)
        self._found(self._below.columns(), treadles)
        self._below = None

    def _by_prices(self, watch: Watch, enough: int | None) -> None:
        if self._turns < PATIENCE:
            return
        if self._prices is None:
            self._prices = PriceSearch(self._targets, watch)
        if not self._prices.can_ask:
            return
        treadles = len(self.best) - 1 if enough is None else self._asked(enough)
        watch.allow(TURN_PRICES)
        try:
            self._found(self._prices.columns(treadles), treadles)
        finally:
            self.low = max(self.low, self._prices.low)

    def _asked(self, enough: int) -> int:
        return min(max(enough, self.low), len(self.best) - 1)

    def _found(self, columns: Columns | None, treadles: int) -> None:
        """Note what the question whether so many columns do has brought."""
        if columns is None:
            self.low = max(self.low, treadles + 1)
        elif len(columns) < len(self.best):
            self.best = columns

    def answers(self, watch: Watch) -> Iterator[Columns]:
        """Yield different answers with as many columns as the best one. Raises SearchStoppedError."""
        search = PairSearch(self._targets, self._seeds, len(self.best), watch)
        while (found := search.columns()) is not None:
            yield found
