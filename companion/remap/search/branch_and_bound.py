"""Reach 1, by prices: branch and bound on which columns are in.

The bound of `prices` is so close that few branches are needed: it is for the drafts between the other two searches,
in which treadles are saved, but not very many. A branch puts the most wanted column in, the next one leaves it out;
in between the choices that no better answer can afford are struck out and conclusions are drawn (`choices`). The
search goes down the branches with the column in first, and so has an answer soon.

A node of the watch is one step of the prices, since that is what takes the time.

Lemmas and proofs: assets/mathematics.md, "Choices and prices".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import NamedTuple

import numpy as np

from companion.remap.loom.targets import Columns, Target
from companion.remap.search.choices import Choices, Ints, choices_of
from companion.remap.search.engine import Found, number_to_ask
from companion.remap.search.prices import TREADLE, Floats, Prices
from companion.remap.search.watch import SearchPausedError, Watch

TURN = 100
"""Nodes of one turn; longer ones would be no better."""

FIRST_STEPS, HOT = 100, 0.2
STEPS, WARM = 20, 0.01
"""Steps and first temperature: at the start, and at a branch, which starts from the prices of the one above. More steps
there cost more than the branches that they spare (measured on drafts of all families)."""
COLD = 0.005
"""The last temperature: wants are spread over choices that differ by less than a hundredth of a treadle."""
MOST_ROUNDS = 4
WORTH_A_ROUND = 0.1
"""When this part of the choices was struck out, the prices are looked for again before there is a branch."""


class _Branch(NamedTuple):
    choices: Choices
    uses: Ints
    logarithms: Floats


class PriceSearch:
    """Looks for answers with fewer and fewer columns; goes on where it was when it is paused."""

    def __init__(self, targets: Sequence[Target], watch: Watch) -> None:
        self._watch = watch
        self._targets = targets
        self._treadles = 0
        self._steps: Iterator[Columns | None] = iter(())
        self.low = 0
        """What the first bound proved: at least so many columns are needed."""

    @cached_property
    def _choices(self) -> Choices | None:
        return choices_of(self._targets)

    @property
    def can_ask(self) -> bool:
        """Whether the choices could be written out at all."""
        return self._choices is not None

    def work(self, known: Found, enough: int | None) -> Found:
        """Go on to do with one column less, or ask whether `enough` do; what the first bound proves counts too."""
        if not self.can_ask:
            return known
        treadles = known.best - 1 if enough is None else number_to_ask(known, enough)
        self._watch.allow(TURN)
        try:
            columns = self.columns(treadles)
        except SearchPausedError:
            return known.needing(self.low)
        return known.answered(treadles, columns).needing(self.low)

    def columns(self, treadles: int) -> Columns | None:
        """Return at most so many columns that open every target, or None when there are none.

        Ask for falling numbers: what is out for one is out for the smaller ones, and the search goes on; for a larger
        one it starts again. Raises SearchPausedError.
        """
        if treadles > self._treadles:
            self._steps = self._explored()
        self._treadles = treadles
        for found in self._steps:
            if found is not None and len(found) <= self._treadles:
                return found
            self._watch.node()
        return None

    def _explored(self) -> Iterator[Columns | None]:
        """Yield answers as they are found, and None after every step between them."""
        if self._choices is None:
            raise ValueError("the choices were too many to write out")
        none_yet = _Branch(self._choices, np.zeros(0, dtype=np.int64), np.zeros(0))
        stack = [none_yet]
        while stack:
            yield from self._entered(stack.pop(), stack)

    def _entered(self, branch: _Branch, stack: list[_Branch]) -> Iterator[Columns | None]:
        """Bound one branch and strike out what it cannot afford; put what is left to decide on the stack."""
        for _round in range(MOST_ROUNDS):
            choices = branch.choices.settled()
            if choices is None or choices.cost > self._treadles:
                return
            if not len(choices.of):
                yield choices.columns
                return
            at_start = not len(branch.uses)
            prices = Prices(choices, branch.uses, branch.logarithms)
            steps, hot = (FIRST_STEPS, HOT) if at_start else (STEPS, WARM)
            for step in range(steps):
                prices.step(max(COLD, hot * (COLD / hot) ** (step / (0.8 * steps))))
                if at_start:
                    self.low = max(self.low, choices.cost - (-prices.bound // TREADLE))
                yield None
                if prices.bound > (self._treadles - choices.cost) * TREADLE:
                    return
            affordable = prices.affordable(self._treadles - choices.cost)
            left = choices.among(affordable)
            if left is None:
                return
            branch = _Branch(left, prices.uses, prices.logarithms)
            if affordable.mean() > 1 - WORTH_A_ROUND:
                break
        column = prices.most_wanted()
        out = branch.choices.without_column(column)
        if out is not None:
            stack.append(branch._replace(choices=out))
        stack.append(branch._replace(choices=branch.choices.with_column(column)))
