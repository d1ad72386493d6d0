"""What it costs to make each shed open on a row, by each press that may open it: all sheds and presses at once.

A press opens a shed when what lies outside the shed is taken off its treadles and what none of them carries is put on
one; a cord is changed once only. Lemmas and proofs: assets/mathematics.md, "Fewest cords of all" (F9, F10).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from companion.draft.masks import has_bit
from companion.remap.loom.pressing import Run
from companion.remap.search.choices import Ints

Parts = npt.NDArray[np.float64]
"""Zeros and ones, or whole prices, in floats: exact, and multiplied faster than whole numbers are."""

NEVER = 2**50
"""More than any repair costs."""


class RepairPrices:
    """The sheds and presses of one loom; `pulls` is how many pulls there are."""

    def __init__(self, targets: Sequence[int], presses: Sequence[Run], treadles: int, pulls: int) -> None:
        self._pulls = pulls
        self._known: dict[int, Parts] = {}
        self.having = self._held(targets)
        """Which pulls each shed has: targets x pulls."""
        most = max(map(len, presses))
        # A press of fewer treadles ends in one more that carries nothing.
        self._pressed = np.array([[*press, *[treadles] * (most - len(press))] for press in presses], dtype=np.int64)

    def of(self, row: Sequence[int], changed: Sequence[int], on: Parts | float = 1.0, off: Parts | float = 1.0) -> Ints:
        """Return what each shed costs by each press (targets x presses, int64), `NEVER` where it cannot be.

        `on` and `off` (pulls) are the prices of a cord that is put on and of one that is taken off.
        """
        tied = np.vstack((self._held(row), np.zeros(self._pulls)))
        once = np.vstack((self._held(changed), np.ones(self._pulls)))
        lacking = 1 - self.having
        stuck_on = (lacking @ (tied * once).T > 0)[:, self._pressed].any(axis=2)
        stuck_off = self.having @ (once * (1 - tied))[self._pressed].min(axis=1).T > 0
        missing = 1 - tied[self._pressed].max(axis=1)
        cost = (lacking * off @ tied.T)[:, self._pressed].sum(axis=2) + (self.having * on) @ missing.T
        prices: Ints = np.where(stuck_on | stuck_off, NEVER, cost).astype(np.int64)
        return prices

    def _held(self, masks: Sequence[int]) -> Parts:
        """Return which pulls each mask has: masks x pulls."""
        for mask in masks:
            if mask not in self._known:
                self._known[mask] = np.array([float(has_bit(mask, pull)) for pull in range(self._pulls)])
        held: Parts = np.array([self._known[mask] for mask in masks]).reshape(len(masks), self._pulls)
        return held
