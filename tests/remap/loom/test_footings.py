"""Every way in which two feet open a shed, against trying every stance."""

from __future__ import annotations

import random

import pytest

from companion.draft.masks import shed_of
from companion.remap.loom.footings import can_open, footings_for
from companion.remap.loom.loom import Footing
from companion.remap.loom.pressing import feet_for
from tests.oracles.treading_by_hand import stances, stances_that_open


def random_columns(chance, treadles):
    return [frozenset(chance.sample(range(1, 5), chance.randint(0, 2))) for _ in range(treadles)]


def some_sheds(chance, columns, reach, number):
    """Sheds that the columns open in this order."""
    opened = [
        frozenset().union(*(columns[treadle] for treadle in left + right))
        for left, right in stances(len(columns), reach)
    ]
    return [chance.choice(opened) for _ in range(number)]


@pytest.mark.parametrize("reach", [1, 2])
def test_footings_are_all_stances_that_open_the_shed_with_no_treadle_in_vain(reach):
    chance = random.Random(reach)
    for _ in range(150):
        columns = random_columns(chance, chance.randint(1, 6))
        for shed in some_sheds(chance, columns, reach, 4):
            found = footings_for(shed_of(shed), [shed_of(column) for column in columns], reach)
            assert {(footing.left, footing.right) for footing in found} == stances_that_open(shed, columns, reach)
            assert len(set(found)) == len(found)


def test_a_shed_that_does_not_open_has_no_footing_and_an_empty_one_presses_nothing():
    assert footings_for(0b111, [0b1, 0b10], 1) == ()
    assert footings_for(0, [0b1, 0b10], 1) == (Footing(),)


def test_the_searchs_own_footing_is_one_of_them():
    chance = random.Random(4)
    for _ in range(100):
        columns = random_columns(chance, 5)
        masks = [shed_of(column) for column in columns]
        for shed in some_sheds(chance, columns, 2, 3):
            assert feet_for(shed_of(shed), masks, 2) in footings_for(shed_of(shed), masks, 2)


def test_the_quick_test_agrees_with_listing_all_footings():
    chance = random.Random(10)
    for _ in range(300):
        columns = [chance.randrange(16) for _ in range(chance.randint(0, 5))]
        for reach in (1, 2):
            for target in range(16):
                assert can_open(target, columns, reach) == bool(footings_for(target, columns, reach))
