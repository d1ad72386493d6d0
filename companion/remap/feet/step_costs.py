"""What a step from one shed to the next costs the feet, for many orders of the treadles at once, in numpy.

The costs are those of `footwork`, looked up per foot: a foot's place is a code (0 free, else twice its first
treadle, plus its width), and a table of code x code says what that foot pays.

Lemmas and proofs: assets/mathematics.md, "Feet and orders".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from companion.remap.feet.footwork import BOTH_FEET, foot_cost
from companion.remap.loom.footings import opens
from companion.remap.loom.pressing import Run
from companion.remap.loom.targets import Column, Target

FORBIDDEN = 100_000_000
"""The cost of feet that cannot stand so on that order: more than all footwork. A pick on 20 treadles costs no more than
222 (two ways of 76, twice 8 + 10 + 14, and 6), so 100,000 picks cost a quarter of this. Sums fit 32 bits."""

Block = tuple[int, ...]
"""One or two columns under one foot."""


@dataclass(frozen=True, slots=True, eq=False)
class Feet:
    """Every way to open one shed, on many orders: codes of the left and right foot, and `extra` cost.

    Each array is footings x orders. Codes are of the kind that numpy looks up by, which saves turning them into it;
    `from_left` and `from_right` are where the row of a code begins in a table laid flat.
    """

    left: NDArray[np.intp]
    right: NDArray[np.intp]
    from_left: NDArray[np.intp]
    from_right: NDArray[np.intp]
    extra: NDArray[np.int32]


class StepCosts:
    """The feet and their costs for these columns, for orders given as `places`: orders x columns, int8, of treadles."""

    def __init__(self, columns: Sequence[Column], treadles: int, reach: int, targets: Sequence[Target]) -> None:
        self.targets = list(targets)
        self._presses = [list(_presses(target, columns, reach)) for target in targets]
        self._left = _foot_table(treadles, right=False)
        self._right = _foot_table(treadles, right=True)

    def feet(self, places: NDArray[np.int8]) -> list[Feet]:
        """Return the feet of every target, in the order of the targets."""
        return [_feet(presses, places, len(self._left)) for presses in self._presses]

    def valid(self, places: NDArray[np.int8]) -> NDArray[np.bool_]:
        """Return for each order whether every target can be opened on it (orders, bool)."""
        good = np.ones(len(places), dtype=np.bool_)
        left = np.arange(len(places))
        for presses in self._presses:
            # On some orders all is opened that any order opens; else look only at those that are still good.
            if not any(len(one) == 1 and len(other) < 2 for one, other in presses):
                opened = _feet(presses, places[left], len(self._left)).extra.min(axis=0, initial=FORBIDDEN) < FORBIDDEN
                good[left[~opened]] = False
                left = left[opened]
        return good

    def one_way(self, target: int) -> bool:
        """Tell whether there is one way only to stand for a target, whatever the order; it is the target's place."""
        return len(self._presses[target]) == 1 and bool(self._presses[target][0][1])

    def first(self, now: Feet) -> NDArray[np.int32]:
        """Return what the first pick costs, from home: footings x orders, int32."""
        cost: NDArray[np.int32] = self._left[0, now.left] + self._right[0, now.right] + now.extra
        return cost

    def between(self, before: Feet, now: Feet) -> NDArray[np.int32]:
        """Return what the step costs: footings now x footings before x orders, int32."""
        cost: NDArray[np.int32] = (
            # One flat index in place of two: three times as fast.
            self._left.take(before.from_left[None, :, :] + now.left[:, None, :])
            + self._right.take(before.from_right[None, :, :] + now.right[:, None, :])
            + now.extra[:, None, :]
        )
        return cost


def _foot_table(treadles: int, *, right: bool) -> NDArray[np.int32]:
    runs: list[Run] = [()]
    for first in range(treadles):
        runs += [(first,), (first, first + 1)]
    return np.array([[foot_cost(before, now, right, treadles) for now in runs] for before in runs], dtype=np.int32)


def _presses(target: Target, columns: Sequence[Column], reach: int) -> Iterator[tuple[Block, Block]]:
    """Yield what the feet may press for a target, as one or two blocks of columns (the second may be empty)."""
    if target == 0:
        yield (), ()
        return
    inside = [column for column, pulled in enumerate(columns) if pulled and pulled | target == target]
    for size in range(1, 2 * reach + 1):
        for chosen in combinations(inside, size):
            if opens(chosen, columns, target):
                yield from _shared_out(chosen, reach)


def _shared_out(chosen: tuple[int, ...], reach: int) -> Iterator[tuple[Block, Block]]:
    if len(chosen) <= reach:
        yield chosen, ()
    for size in range(1, min(len(chosen) - 1, reach) + 1):
        for one in combinations(chosen, size):
            other = tuple(column for column in chosen if column not in one)
            # Which block is under the left foot follows from the order, so each pair of blocks is taken once.
            if len(other) <= reach and one < other:
                yield one, other


def _feet(presses: Sequence[tuple[Block, Block]], places: NDArray[np.int8], codes: int) -> Feet:
    free = np.zeros(len(places), dtype=np.intp)
    lefts, rights, extras = [], [], []
    for one, other in presses:
        code, cost = _code(one, places)
        if not other:
            lefts += [code, free]
            rights += [free, code]
            extras += [cost, cost]
            continue
        other_code, other_cost = _code(other, places)
        lefts.append(np.minimum(code, other_code))
        rights.append(np.maximum(code, other_code))
        extras.append(cost + other_cost + BOTH_FEET)
    left, right = np.array(lefts), np.array(rights)
    return Feet(left, right, left * codes, right * codes, np.array(extras))


def _code(block: Block, places: NDArray[np.int8]) -> tuple[NDArray[np.intp], NDArray[np.int32]]:
    """Return the code of a foot on this block for each order, and FORBIDDEN where its columns are not neighbours."""
    if not block:
        return np.zeros(len(places), dtype=np.intp), np.zeros(len(places), dtype=np.int32)
    if len(block) == 1:
        return 2 * places[:, block[0]].astype(np.intp) + 1, np.zeros(len(places), dtype=np.int32)
    one, other = (places[:, column].astype(np.intp) for column in block)
    apart = abs(one - other) != 1
    return 2 * np.minimum(one, other) + len(block), apart * np.int32(FORBIDDEN)
