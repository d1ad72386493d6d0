"""What whole rows of columns cost, one treadle under a foot, many at once; and a row that no move betters.

The model: assets/mathematics.md, "Feet first".
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from companion.remap.feet.presses import ACROSS, BOTH_FEET, FREE, WIDTH
from companion.remap.feet.seats import Seats, Ways
from companion.remap.feet.walking import walked
from companion.remap.feet.walks import Walks
from companion.remap.search.choices import Ints

MOST_CELLS = 3_000_000
"""How many steps of rows are weighed at once where one is improved."""
MOST_ROUNDS = 40


@dataclass(frozen=True, slots=True)
class WeighedRow:
    """Columns from the left, how many of them are the left foot's, the cost, and what no order can be below."""

    order: tuple[int, ...]
    split: int
    cost: int
    at_least: int


def weighed(walk: Walks, ways: Ways, orders: Ints, splits: Ints) -> list[int]:
    """Return what each order with its split costs, one treadle under a foot.

    `orders` are the columns from the left: candidates x columns, int64; `splits` (candidates, int64).
    """
    place = np.argsort(orders, axis=1)
    left = np.full((len(orders), len(ways)), FREE, dtype=np.int64)
    right = np.full((len(orders), len(ways)), FREE, dtype=np.int64)
    extra = np.zeros(len(orders), dtype=np.int64)
    for k, (way, picks) in enumerate(zip(ways, walk.picks, strict=True)):
        if len(way) == 1:
            at = place[:, way[0]]
            left[:, k] = np.where(at < splits, WIDTH * at, FREE)
            right[:, k] = np.where(at < splits, FREE, WIDTH * at)
        elif len(way) == 2:
            low = np.minimum(place[:, way[0]], place[:, way[1]])
            high = np.maximum(place[:, way[0]], place[:, way[1]])
            left[:, k], right[:, k] = WIDTH * low, WIDTH * high
            extra += picks * (BOTH_FEET + ACROSS * ((low >= splits) | (high < splits)))
    costs: list[int] = (walked(walk, left, right) + extra).tolist()
    return costs


def improved_row(walk: Walks, columns: int, ways: Ways, seats: Seats) -> WeighedRow | None:
    """Return an order that exchanging two, moving one along and moving the split do not better."""
    short = walk.shortened(max(1, MOST_CELLS // (columns * columns)))
    inner = [k for k in range(columns) if k not in seats.outermost]
    order = [*seats.left_end, *seats.both_ends[:1], *inner, *seats.both_ends[1:]]
    split = columns // 2
    cost: int | None = None
    for _ in range(MOST_ROUNDS):
        near = [(order, at) for at in range(columns + 1)]
        for one in range(columns):
            for other in range(one + 1, columns):
                exchanged = order.copy()
                exchanged[one], exchanged[other] = order[other], order[one]
                moved = [*order[:one], *order[one + 1 : other + 1], order[one], *order[other + 1 :]]
                near += [(exchanged, split), (moved, split)]
        near = [(row, at) for row, at in near if seats.hold(row, at)]
        if not near:
            return None
        costs = weighed(short, ways, np.array([row for row, _ in near]), np.array([at for _, at in near]))
        best = min(range(len(near)), key=costs.__getitem__)
        if cost is not None and costs[best] >= cost:
            break
        cost, (order, split) = costs[best], near[best]
    whole = weighed(walk, ways, np.array([order]), np.array([split]))[0]
    return WeighedRow(tuple(order), split, whole, 0)
