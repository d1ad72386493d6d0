"""Every tie-up that a small loom can hold, treadles taken as alike, and how many cords lie between them.

For one treadle under each foot the order of the treadles does not decide which sheds open, so a tie-up is here a
collection of columns in no order. The least number of cords that change between two such tie-ups, over all ways to
match their treadles, is the length of the shortest path on which every step ties or unties one cord: the steps at
one treadle, taken together, match it with what it becomes. So the least change from many tie-ups to all others is a
breadth-first spread, and no matching is ever worked out.

Only columns within a wanted shed, or within what hangs there at present, are held: a treadle that is not pressed may
as well keep its cords until it is, and one that is pressed carries nothing but cords of the sheds it opens. Between
two such columns lie only such columns, when cords come off first. A search kernel: uses & and | on plain numbers.

Lemmas and proofs: assets/mathematics.md, "Stages".
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations, combinations_with_replacement
from math import comb

import numpy as np
from numpy.typing import NDArray

from companion.draft.masks import Shed, shafts_of, shed_of
from companion.remap.loom.targets import Column, Columns, Target

Costs = NDArray[np.int64]
"""A number for every tie-up."""

NEVER = np.int64(2**60)
"""The cost of a tie-up that is no choice."""


class EveryTieUp:
    """All collections of `treadles` columns within `wholes` (targets, and columns that hang there at present)."""

    def __init__(self, wholes: Iterable[Column], treadles: int) -> None:
        columns = _parts(wholes)
        self._at = {column: number for number, column in enumerate(columns)}
        self._powers = len(columns) ** np.arange(treadles, dtype=np.int64)[::-1]
        numbers = np.array(list(combinations_with_replacement(range(len(columns)), treadles)), dtype=np.int64)
        self._keys = numbers @ self._powers
        self._columns = np.array(columns, dtype=np.int64)[numbers]
        self._opens: dict[int, NDArray[np.bool_]] = {}
        self.cords: Costs = np.array([column.bit_count() for column in columns], dtype=np.int64)[numbers].sum(axis=1)
        """How many cords each tie-up has."""
        self.one_cord_away = np.column_stack([*self._neighbours(columns, numbers), np.arange(len(numbers))])
        """Tie-ups x steps: which tie-up each step leads to; a step that leads out of all these stays."""

    def __len__(self) -> int:
        return len(self._columns)

    def number_of(self, columns: Columns) -> int:
        """Return the number of the tie-up with these columns, in any order."""
        numbers = sorted(self._at[column] for column in columns)
        return int(np.searchsorted(self._keys, np.array(numbers, dtype=np.int64) @ self._powers))

    def columns(self, number: int) -> Columns:
        """Return the columns of a tie-up."""
        return tuple(map(Column, self._columns[number].tolist()))

    def opens(self, target: Target) -> NDArray[np.bool_]:
        """Tell of every tie-up whether one treadle, or two together, pull exactly `target` (tie-ups, bool)."""
        if target not in self._opens:
            inside = np.where(self._columns & ~target == 0, self._columns, 0)
            opened = (inside == target).any(axis=1)
            for one, other in combinations(range(inside.shape[1]), 2):
                opened |= inside[:, one] | inside[:, other] == target
            # An empty target is opened by pressing nothing.
            self._opens[target] = opened if target else np.ones(len(inside), dtype=np.bool_)
        return self._opens[target]

    def spread(self, costs: Costs, cord: int) -> Costs:
        """Return for every tie-up the least of: another one's cost, and `cord` for every cord in between.

        `costs` and what is returned are (tie-ups, int64).
        """
        least = costs
        while True:
            nearer = np.minimum(least, least[self.one_cord_away].min(axis=1) + cord)
            if np.array_equal(nearer, least):
                return least
            least = nearer

    def _neighbours(self, columns: Sequence[int], numbers: NDArray[np.int64]) -> Iterable[NDArray[np.int64]]:
        for pull in _pulls(columns):
            changed = np.array([self._at.get(column ^ pull, number) for number, column in enumerate(columns)])
            for treadle in range(numbers.shape[1]):
                moved = numbers.copy()
                moved[:, treadle] = changed[moved[:, treadle]]
                moved.sort(axis=1)
                yield np.searchsorted(self._keys, moved @ self._powers)


def work_of(wholes: Iterable[Column], treadles: int) -> int:
    """Return how many steps one pass of a spread looks at, without making the tie-ups; only at least, for large sheds.

    Two treadles and the one shed 0b11 give 4 columns, 10 tie-ups and 5 steps from each: 50.
    """
    wholes = set(wholes)
    most = max((whole.bit_count() for whole in wholes), default=0)
    if most > MOST_PULLS:
        return comb(2**most + treadles - 1, treadles)
    columns = _parts(wholes)
    return comb(len(columns) + treadles - 1, treadles) * (len(_pulls(columns)) * treadles + 1)


MOST_PULLS = 12
"""A shed with more pulls than this has too many parts to count them one by one."""


def _parts(wholes: Iterable[int]) -> list[int]:
    """Return every part of these sets, the empty one too, each once and rising."""
    parts = {0}
    for whole in set(wholes):
        part = whole
        while part:
            parts.add(part)
            part = (part - 1) & whole
    return sorted(parts)


def _pulls(columns: Iterable[int]) -> list[int]:
    every = 0
    for column in columns:
        every |= column
    return [shed_of([shaft]) for shaft in shafts_of(Shed(every))]
