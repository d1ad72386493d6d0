"""The order of one foot's treadles, against every order."""

from __future__ import annotations

from itertools import permutations

import numpy as np

from companion.remap.feet import arranged as module
from companion.remap.feet.arranged import arranged


def cost_of(order, weights, stride):
    """What going between treadles in this order costs: four quarters a width, and a stride past the neighbour."""
    place = {v: at for at, v in enumerate(order)}
    return sum(
        int(weights[one, other]) * (4 * (apart := abs(place[one] - place[other])) + stride * (apart > 1))
        for one in place
        for other in place
        if one < other
    )


def test_no_order_is_lighter_and_the_outermost_come_first(monkeypatch):
    # So that a batch is worked out in several parts.
    monkeypatch.setattr(module, "MOST_AT_ONCE", 500)
    chance = np.random.default_rng(301047906)
    for m in (1, 2, 4, 5):
        weights = chance.integers(0, 9, (6, m, m))
        weights = np.triu(weights, 1) + np.triu(weights, 1).transpose(0, 2, 1)
        strides = np.array([2, 0, 2, 0, 2, 2])
        outermost = np.zeros((6, m), dtype=bool)
        outermost[4:, m - 1] = True
        costs, orders = arranged(weights, strides, outermost)
        for k, (cost, order) in enumerate(zip(costs, orders, strict=True)):
            allowed = [order for order in permutations(range(m)) if not outermost[k].any() or order[0] == m - 1]
            assert cost == min(cost_of(order, weights[k], int(strides[k])) for order in allowed)
            assert tuple(order) in allowed
            assert cost == cost_of(order, weights[k], int(strides[k]))
