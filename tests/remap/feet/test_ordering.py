"""The order of treadles: against every permutation, and by its promises where there are too many."""

from __future__ import annotations

import random
from itertools import combinations, pairwise, permutations

import numpy as np
import pytest

from companion.draft.masks import count, shed_of
from companion.remap.feet.ordering import best_order
from companion.remap.feet.step_costs import StepCosts
from companion.remap.loom.footings import footings_for
from companion.remap.loom.targets import by_treadle
from tests.oracles.treading_by_hand import least_effort_of_any_order, stances
from tests.remap.feet.older_feet import best_feet


def an_instance(chance, treadles, reach, picks):
    """Columns (sets, none empty, all different) on some treadles, and sheds that they open as they stand."""
    number = chance.randint(1, treadles)
    pool = [frozenset(shafts) for shafts in ([1], [2], [3], [4], [1, 2], [2, 3], [3, 4], [1, 4], [1, 3])]
    columns = chance.sample(pool, number)
    opened = [
        frozenset().union(*(columns[treadle] for treadle in left + right))
        for left, right in stances(number, reach)
        if left or right
    ]
    return columns, [chance.choice(opened) for _ in range(picks)]


def cost_on(places, columns, treadles, treadling, reach):
    placed = by_treadle(columns, places, treadles)
    choices = {target: footings_for(target, placed, reach) for target in treadling}
    return best_feet(treadling, choices, treadles).cost


def lightest_walk(columns, treadles, treadling):
    placed = by_treadle(columns, best_order(columns, treadles, 1, treadling).places, treadles)
    return best_feet(treadling, {target: footings_for(target, placed, 1) for target in treadling}, treadles)


@pytest.mark.parametrize(("treadles", "reach"), [(2, 1), (3, 1), (4, 1), (5, 1), (3, 2), (4, 2), (5, 2)])
def test_no_permutation_of_the_treadles_is_lighter(treadles, reach):
    chance = random.Random(10 * treadles + reach)
    for _ in range(6 if treadles < 5 else 2):
        columns, sheds = an_instance(chance, treadles, reach, 4)
        masks, treadling = [shed_of(column) for column in columns], [shed_of(shed) for shed in sheds]
        found = best_order(masks, treadles, reach, treadling)
        assert found.proven
        assert found.cost == least_effort_of_any_order(sheds, columns, treadles, reach)
        assert found.cost == cost_on(found.places, masks, treadles, treadling, reach)


def test_plain_weave_lies_where_the_feet_alternate():
    """A plain heading on 13 and 24, then a pattern: in the heading one foot follows the other."""
    tabby = [shed_of([1, 3]), shed_of([2, 4])]
    pattern = [shed_of([1, 2]), shed_of([2, 3]), shed_of([3, 4]), shed_of([1, 4])]
    walk = lightest_walk([*tabby, *pattern], 6, tabby * 8 + [pattern[pick // 2 % 4] for pick in range(24)])
    heading = walk.footings[:16]
    assert all(bool(footing.left) != bool(after.left) for footing, after in pairwise(heading))
    assert not any(footing.left and footing.right for footing in heading)


def test_a_straight_twill_walks_left_and_right():
    twill = [shed_of([1, 2]), shed_of([2, 3]), shed_of([3, 4]), shed_of([1, 4])]
    sides = [bool(footing.left) for footing in lightest_walk(twill, 4, twill * 10).footings]
    assert all(side != after for side, after in pairwise(sides))


def test_an_order_that_changes_fewer_cords_comes_before_a_lighter_one():
    columns = [shed_of([1]), shed_of([2]), shed_of([3])]
    present = [shed_of([3]), shed_of([1]), shed_of([2])]
    costs = [[count(column ^ old) for old in present] for column in columns]
    found = best_order(columns, 3, 1, [columns[0], columns[1]] * 5, cords=costs)
    assert found.places == (1, 2, 0)
    assert (found.cords, found.proven) == (0, True)


@pytest.mark.parametrize("reach", [1, 2])
def test_with_too_many_orders_the_best_found_is_valid_lighter_and_not_called_proven(reach):
    chance = random.Random(reach)
    columns = [shed_of([shaft]) for shaft in range(1, 11)]
    treadling = [chance.choice(columns) for _ in range(60)]
    if reach == 2:
        treadling += [shed_of([1, 2, 3, 4]), shed_of([3, 4, 7, 8])]
    found = best_order(columns, 10, reach, treadling)
    assert not found.proven
    assert sorted(found.places) == list(range(10))
    assert found.cost == cost_on(found.places, columns, 10, treadling, reach)
    assert found.cost < cost_on(range(10), columns, 10, treadling, reach)


def test_a_search_that_is_stopped_still_gives_an_order_and_does_not_call_it_proven():
    chance = random.Random(8)
    columns = [shed_of([shaft]) for shaft in range(1, 9)]
    treadling = [chance.choice(columns) for _ in range(100)]
    found = best_order(columns, 8, 1, treadling, should_stop=lambda: True)
    assert sorted(found.places) == list(range(8))
    assert found.cost == cost_on(found.places, columns, 8, treadling, 1)
    assert not found.proven


def test_the_table_of_step_costs_knows_which_orders_keep_a_shed_open():
    """A shed of three columns at reach 2 needs two of them side by side."""
    columns = [0b1, 0b10, 0b100]
    steps = StepCosts(columns, 5, 2, [0b111])
    orders = np.array([[0, 2, 4], [0, 1, 4], [4, 0, 3], [0, 2, 3]], dtype=np.int8)
    assert steps.valid(orders).tolist() == [False, True, True, True]


def test_a_treadling_cut_by_picks_that_leave_no_choice_costs_what_all_orders_say():
    """Pairs of single shafts open one way only: these picks cut the treadling into stretches that recur."""
    rng = random.Random("stretches")
    columns = [1, 2, 4, 8]
    pairs = [one | other for one, other in combinations(columns, 2)]
    for share in (0.2, 0.5, 0.8, 1.0):
        for length in (1, 2, 3, 25):
            treadling = [rng.choice(pairs if rng.random() < share else columns) for _ in range(length)]
            order = best_order(columns, 5, 1, treadling)
            costs = []
            for places in permutations(range(5), 4):
                placed = by_treadle(columns, places, 5)
                choices = {target: footings_for(target, placed, 1) for target in set(treadling)}
                costs.append(best_feet(treadling, choices, 5).cost)
            assert order.proven
            assert order.cost == min(costs)
