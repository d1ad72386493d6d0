"""Reach 1: a lower bound by prices, as good as linear programming and made for a short time in numpy.

Let every column cost one treadle, and let the targets that can use it pay for it: each a price, together no more than
one. A target pays for the two columns of its choice, so it pays at least what its cheapest choice costs. Whatever the
answer is, its columns cost at least all that is paid for them: the sum over the targets of their cheapest choices is a
lower bound (weak duality; prices that make it largest give the bound of the linear program in which a column may be
used in part; as for the location of warehouses, D. Erlenkotter, A dual-based procedure for uncapacitated facility
location, Operations Research 26, 1978, from memory). On drafts it is rarely a whole treadle below the truth.

And a choice that costs more than the cheapest one of its target by as much as the bound lacks is in no answer that is
better than the one known (reduced costs).

Good prices are found by going uphill: each price of a column grows by a factor, the more the oftener its target wants
the column, and the prices of a column are made to add up to one. What a target wants is spread over its choices, the
cheap ones first, by a *temperature* that falls as it goes (entropic mirror ascent with momentum; Yu. Nesterov, Smooth
minimization of non-smooth functions, Math. Program. 103, 2005, from memory).

Only the prices come from floating-point numbers. They are rounded down to whole parts of 2**20, so that those of one
column never add up to more than one treadle, and every comparison is made with whole numbers: the proof is exact,
however good or bad the prices are.

Lemmas and proofs: assets/mathematics.md, "Choices and prices".
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from companion.remap.search.choices import Bools, Choices, Ints

Floats = npt.NDArray[np.float64]

TREADLE = 2**20
"""The cost of one column, in whole parts."""

MOMENTUM = 0.8
STEP = 5.0
"""How far a step goes, in temperatures; these two converge soon on all families of sheds that were measured."""

NEARLY_SURE = 0.9
"""Of columns wanted more than this by some target, the one goes first that all targets together want most."""


class Prices:
    """The prices that the targets pay for the columns which are not in yet, and the bound that they give."""

    def __init__(self, choices: Choices, uses: Ints, before: Floats) -> None:
        """Start from the logarithms of prices `before`, which belong to those `uses`; empty ones to start afresh."""
        self._choices = choices
        targets = len(choices.catalogue.targets)
        one, other = (
            np.where(choices.taken[column], -1, column * targets + choices.of)
            for column in (choices.one, choices.other)
        )
        self.uses = np.unique(np.concatenate([one, other]))
        self.uses = self.uses[self.uses >= 0]
        # A column that is in costs nothing more: its price, the last one, stays nothing.
        free = len(self.uses)
        self._one = np.where(one < 0, free, np.searchsorted(self.uses, one))
        self._other = np.where(other < 0, free, np.searchsorted(self.uses, other))
        column = self.uses // targets
        self._first_use = np.flatnonzero(np.diff(column, prepend=-1))
        self._columns = column[self._first_use]
        self._users = np.diff(self._first_use, append=free)
        self._column_of = np.repeat(np.arange(len(self._columns)), self._users)
        self._first_choice = np.flatnonzero(np.diff(choices.of, prepend=-1))
        self._target_of = np.repeat(
            np.arange(len(self._first_choice)), np.diff(self._first_choice, append=len(choices.of))
        )
        self.logarithms: Floats = np.zeros(free)
        if len(uses):
            self.logarithms = before[np.searchsorted(uses, self.uses)]
        self._speed: Floats = np.zeros(free)
        self._wanted: Floats = np.zeros(free)
        self._best: Ints = np.zeros(free + 1, dtype=np.int64)
        self.bound = 0
        """The largest bound met, in whole parts, for the columns that are not in yet."""

    def step(self, temperature: float) -> None:
        """Take the bound of these prices, and go on to better ones."""
        self.logarithms -= np.maximum.reduceat(self.logarithms, self._first_use)[self._column_of]
        shares = np.exp(self.logarithms)
        prices = np.append(shares / np.add.reduceat(shares, self._first_use)[self._column_of], 0.0)
        whole = (prices * TREADLE).astype(np.int64)
        bound = int(np.minimum.reduceat(whole[self._one] + whole[self._other], self._first_choice).sum())
        if bound > self.bound:
            self.bound, self._best = bound, whole
        costs = prices[self._one] + prices[self._other]
        cheapest = np.minimum.reduceat(costs, self._first_choice)[self._target_of]
        weights = np.exp((cheapest - costs) / temperature)
        weights /= np.add.reduceat(weights, self._first_choice)[self._target_of]
        size = len(prices)
        wanted = np.bincount(self._one, weights, size) + np.bincount(self._other, weights, size)
        self._wanted = wanted[:-1].astype(np.float64, copy=False)
        speed = MOMENTUM * self._speed + STEP * temperature * self._wanted
        self._speed = speed - (np.add.reduceat(speed, self._first_use) / self._users)[self._column_of]
        self.logarithms += self._speed

    def affordable(self, columns: int) -> Bools:
        """Tell for each choice whether it may be in an answer with at most so many more columns (choices, bool)."""
        costs = self._best[self._one] + self._best[self._other]
        dearer = costs - np.minimum.reduceat(costs, self._first_choice)[self._target_of]
        return self.bound + dearer <= columns * TREADLE

    def most_wanted(self) -> int:
        """Return the column, by index, that some target wants most: the one to branch on."""
        by_one = np.maximum.reduceat(self._wanted, self._first_use)
        by_all = np.add.reduceat(self._wanted, self._first_use)
        return int(self._columns[np.argmax(np.minimum(by_one, NEARLY_SURE) + by_all / 100)])
