"""Treadles to spare."""

from __future__ import annotations

import random

from companion.remap.feet.spares import with_spares
from companion.remap.loom.footings import can_open, footings_for


def test_the_commonest_shed_gets_the_spare_treadle():
    assert with_spares([0b001, 0b010, 0b100], 4, [3, 3, 5, 6, 1, 2, 4], 1) == (1, 2, 4, 3)


def test_no_treadle_to_spare_changes_nothing():
    assert with_spares([0b001, 0b010, 0b100], 3, [3, 3, 5, 6, 1, 2, 4], 1) == (1, 2, 4)


def test_a_column_that_is_needed_no_longer_makes_room():
    """Column 1 only serves 3 and 5; with treadles of their own it can go."""
    assert set(with_spares([1, 2, 4], 4, [3, 5, 2, 4, 3, 5], 1)) == {2, 4, 3, 5}


def test_with_spares_every_shed_still_opens_and_no_more_treadles_than_there_are_are_used():
    chance = random.Random(9)
    for _ in range(200):
        reach = chance.choice([1, 2])
        columns = chance.sample(range(1, 16), chance.randint(1, 5))
        treadles = len(columns) + chance.randint(0, 4)
        opened = [target for target in range(1, 16) if footings_for(target, columns, reach)]
        treadling = [chance.choice(opened) for _ in range(12)]
        grown = with_spares(columns, treadles, treadling, reach)
        assert len(grown) <= treadles
        assert all(footings_for(target, grown, reach) for target in treadling)


def test_the_quick_test_agrees_with_listing_all_footings():
    chance = random.Random(10)
    for _ in range(300):
        columns = [chance.randrange(16) for _ in range(chance.randint(0, 5))]
        for reach in (1, 2):
            for target in range(16):
                assert can_open(target, columns, reach) == bool(footings_for(target, columns, reach))
