"""Every tie-up of a small loom, and the cords between them against SciPy's matching of treadles."""

from __future__ import annotations

import random
from itertools import combinations_with_replacement

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment

from companion.remap.loom.footings import can_open
from companion.remap.stages.every_tieup import NEVER, EveryTieUp, work_of


def between_by_scipy(one, other):
    """Fewest cords changed over all ways to match treadles: scipy.optimize.linear_sum_assignment."""
    cords = np.array([[(old ^ new).bit_count() for new in other] for old in one])
    return int(cords[linear_sum_assignment(cords)].sum())


@pytest.mark.parametrize(("wholes", "treadles"), [([0b111], 2), ([0b111], 3), ([0b0011, 0b0110, 0b1100], 3)])
def test_the_spread_from_a_tie_up_is_the_cheapest_matching_with_every_other(wholes, treadles):
    tieups = EveryTieUp(wholes, treadles)
    chance = random.Random(treadles)
    for start in chance.sample(range(len(tieups)), 8):
        costs = np.full(len(tieups), NEVER)
        costs[start] = 5
        far = tieups.spread(costs, cord=10)
        for other in range(len(tieups)):
            assert far[other] == 5 + 10 * between_by_scipy(tieups.columns(start), tieups.columns(other))


def test_a_spread_from_many_takes_the_nearest_in_cost():
    tieups = EveryTieUp([0b111], 2)
    one, other = tieups.number_of([0b001, 0b010]), tieups.number_of([0b111, 0b111])
    costs = np.full(len(tieups), NEVER)
    costs[one], costs[other] = 3, 0
    far = tieups.spread(costs, cord=1)
    assert far[one] == 3
    assert far[tieups.number_of([0b011, 0b010])] == 3
    assert far[tieups.number_of([0b001, 0b000])] == 4


def test_every_tie_up_is_held_once_and_found_in_any_order_and_knows_its_cords():
    tieups = EveryTieUp([0b011, 0b100], 2)
    held = [tieups.columns(number) for number in range(len(tieups))]
    assert sorted(map(sorted, held)) == sorted(map(list, combinations_with_replacement([0, 1, 2, 3, 4], 2)))
    assert all(tieups.number_of(columns[::-1]) == number for number, columns in enumerate(held))
    assert [sum(column.bit_count() for column in columns) for columns in held] == tieups.cords.tolist()


def test_tie_ups_open_what_the_feet_can_open():
    tieups = EveryTieUp([0b111], 3)
    for target in range(8):
        opens = tieups.opens(target)
        for number in range(len(tieups)):
            assert opens[number] == can_open(target, tieups.columns(number), 1)


def test_the_work_is_known_without_making_the_tie_ups():
    assert work_of([0b11], 2) == 50
    tieups = EveryTieUp([0b0111, 0b1100], 3)
    assert work_of([0b0111, 0b1100], 3) == tieups.one_cord_away.size
    assert work_of([(1 << 40) - 1], 20) > 10**100
