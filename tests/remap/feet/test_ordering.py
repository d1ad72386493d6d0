"""Columns put on treadles: fewest cords, then the feet, against every permutation and by what must hold."""

from __future__ import annotations

import random
from itertools import permutations

import pytest

from companion.draft.masks import shafts_of, shed_of
from companion.remap.feet import ordering
from companion.remap.feet.ordering import best_order
from companion.remap.feet.walks import walks_of
from companion.remap.loom.feet_wish import FirstFoot, TabbyPlace
from companion.remap.loom.targets import by_treadle
from companion.remap.loom.wished import WishedFeet
from tests.oracles.feet_brute import least_on
from tests.oracles.treading_by_hand import stances


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


def every_row(columns, treadles):
    """Each way to put the columns on the treadles: places, and the row."""
    for places in permutations(range(treadles), len(columns)):
        row = [frozenset()] * treadles
        for column, treadle in zip(columns, places, strict=True):
            row[treadle] = column
        yield places, row


def fewest_then_lightest(columns, sheds, treadles, reach, cords):
    """Try every order: the fewest cords of any that opens all, and the least footwork of those."""
    found = [
        (sum(cords[k][treadle] for k, treadle in enumerate(places)), cost)
        for places, row in every_row(columns, treadles)
        if (cost := least_on(sheds, row, reach)) is not None
    ]
    return min(found)


@pytest.mark.parametrize(("treadles", "reach"), [(2, 1), (3, 1), (4, 1), (3, 2), (4, 2)])
def test_no_permutation_changes_fewer_cords_and_of_few_that_change_as_few_none_is_lighter(treadles, reach):
    chance = random.Random(10 * treadles + reach)
    for _ in range(10):
        columns, sheds = an_instance(chance, treadles, reach, 6)
        cords = [[chance.randint(0, 3) for _ in range(treadles)] for _ in columns]
        walk = walks_of([shed_of(shed) for shed in sheds])
        found = best_order([shed_of(column) for column in columns], treadles, reach, walk, cords=cords)
        assert (found.cords, found.feet.cost) == fewest_then_lightest(columns, sheds, treadles, reach, cords)
        assert found.fewest_cords
        row = [frozenset(shafts_of(c)) for c in by_treadle(list(map(shed_of, columns)), found.places, treadles)]
        assert least_on(sheds, row, reach) == found.feet.cost


def test_where_many_orders_change_as_few_cords_those_that_look_lightest_are_priced(monkeypatch):
    """On five treadles with no cords to count: never lighter than the least, and nearly always it."""
    chance = random.Random(5)
    least = {1: 0, 24: 0}
    for _ in range(8):
        columns, sheds = an_instance(chance, 5, 1, 8)
        walk = walks_of([shed_of(shed) for shed in sheds])
        nothing = [[0] * 5 for _ in columns]
        _, wanted = fewest_then_lightest(columns, sheds, 5, 1, nothing)
        for few in least:
            monkeypatch.setattr(ordering, "FEW_ORDERS", few)
            found = best_order([shed_of(column) for column in columns], 5, 1, walk)
            assert found.feet.cost >= wanted
            least[few] += found.feet.cost == wanted
    assert least[24] >= 7
    assert least[1] >= 4


def test_with_too_many_orders_the_hungarian_start_is_kept_in_cords_and_bettered_in_feet():
    chance = random.Random(1)
    columns = [shed_of([shaft]) for shaft in range(1, 11)]
    treadling = [chance.choice(columns) for _ in range(60)]
    walk = walks_of(treadling)
    sets = [frozenset(shafts_of(pick)) for pick in treadling]
    found = best_order(columns, 10, 1, walk)
    assert sorted(found.places) == list(range(10))
    row = [frozenset(shafts_of(column)) for column in by_treadle(columns, found.places, 10)]
    as_given = [frozenset(shafts_of(column)) for column in columns]
    assert found.feet.cost == least_on(sets, row, 1) < least_on(sets, as_given, 1)
    cords = [[(treadle - 3 * k) % 10 for treadle in range(10)] for k in range(10)]
    assert best_order(columns, 10, 1, walk, cords=cords).cords == 0


def test_with_too_many_orders_at_reach_two_every_shed_still_opens_and_no_number_of_cords_is_called_fewest():
    chance = random.Random(2)
    columns = [shed_of([shaft]) for shaft in range(1, 11)]
    treadling = [chance.choice(columns) for _ in range(40)] + [shed_of([1, 2, 3, 4]), shed_of([3, 4, 7, 8])]
    cords = [[chance.randint(0, 2) for _ in range(10)] for _ in range(10)]
    found = best_order(columns, 10, 2, walks_of(treadling), cords=cords)
    assert found.cords <= sum(cords[k][k] for k in range(10))
    assert not found.fewest_cords


def test_a_search_that_is_stopped_still_gives_an_order():
    chance = random.Random(8)
    columns = [shed_of([shaft]) for shaft in range(1, 9)]
    walk = walks_of([chance.choice(columns) for _ in range(100)])
    found = best_order(columns, 8, 1, walk, should_stop=lambda: True)
    assert sorted(found.places) == list(range(8))


def test_of_orders_that_change_as_few_cords_one_that_is_as_wished_comes_before_a_lighter_one():
    """Sheds 1 and 2 are tabby, the left foot's two outermost treadles, though between the others they lie lighter."""
    columns = [1, 2, 4, 8]
    walk = walks_of([1, 4, 2, 8] * 6)
    wished = WishedFeet(tabby=(0, 2), place=TabbyPlace.LEFT, first=0, foot=FirstFoot.LEFT)
    found = best_order(columns, 4, 1, walk, wished=wished)
    assert {found.places[0], found.places[1]} == {0, 1}
    cords = [[treadle != place for treadle in range(4)] for place in (3, 2, 1, 0)]
    kept = best_order(columns, 4, 1, walk, cords=cords, wished=wished)
    assert (kept.places, kept.cords) == ((3, 2, 1, 0), 0)
