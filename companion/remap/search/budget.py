"""How much work goes into each part of an answer: counted, never timed, so that the same question ends the same way.

A search asks `should_stop` every few nodes, and what a node costs grows with the number of sheds and with the reach.
So work is counted in *efforts*: one is about what a laptop does in a second (measured on random sheds of 8 shafts;
a Raspberry Pi takes five times as long). A part whose budget is at an end says what it knows and calls it not
proven; whoever wants more asks for it (`thorough` in `remapping`) and says stop when it has been long enough.

What is said at its end: assets/mathematics.md, "What proven means".
"""

from __future__ import annotations

from math import inf

from companion.remap.search.answers import ShouldStop
from companion.remap.search.watch import NODES_BETWEEN_LOOKS

NODES_TIMES_SHEDS = {1: 400_000, 2: 200_000}
"""What one effort buys at each reach."""

NO_LIMIT = inf


class Budget:
    """The efforts that may still go into one part of an answer, which may ask several questions of the search."""

    def __init__(self, should_stop: ShouldStop, efforts: float) -> None:
        self.should_stop = should_stop
        self.left = efforts

    def share(self, sheds: int, reach: int, most: float = NO_LIMIT) -> BudgetShare:
        """Return the budget for one search over so many sheds, `most` efforts long at the longest."""
        return BudgetShare(self, NODES_BETWEEN_LOOKS * max(1, sheds) / NODES_TIMES_SHEDS[reach], most)


class BudgetShare:
    """One search's `should_stop`: yes when whoever waits says so, and at the end of the budget."""

    def __init__(self, budget: Budget, look: float, most: float) -> None:
        self._budget = budget
        self._look = look
        self._left = most
        self.cut_short = False
        """Whether the search does not come to its end: this has said stop, for whatever reason, or it is not begun."""

    def __call__(self) -> bool:
        """Count one look, and tell whether to stop."""
        self._left -= self._look
        self._budget.left -= self._look
        self.cut_short = self._left < 0 or self._budget.left < 0 or self._budget.should_stop()
        return self.cut_short
