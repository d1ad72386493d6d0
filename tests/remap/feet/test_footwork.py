"""Feet and their cost, against trying every way to stand."""

from __future__ import annotations

import random

import pytest

from companion.draft.masks import shed_of
from companion.remap.feet.footwork import ACROSS, SAME_FOOT
from companion.remap.loom.footings import footings_for
from companion.remap.loom.loom import Footing
from companion.remap.loom.pressing import feet_for
from tests.oracles.treading_by_hand import effort, least_effort, stances, stances_that_open
from tests.remap.feet.older_feet import best_feet, pick_cost, walked


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


@pytest.mark.parametrize(("treadles", "reach"), [(1, 1), (2, 2), (3, 1), (4, 2), (5, 1), (6, 2)])
def test_the_cost_of_every_step_is_that_of_the_model_as_told(treadles, reach):
    ways = stances(treadles, reach)
    for before in ways:
        for now in ways:
            assert pick_cost(Footing(*before), Footing(*now), treadles) == effort(before, now, treadles)


def test_the_mirror_image_of_a_step_costs_the_same():
    def mirrored(stance):
        left, right = (tuple(sorted(5 - treadle for treadle in foot)) for foot in stance)
        return Footing(right, left)

    for before in stances(6, 2):
        for now in stances(6, 2):
            assert pick_cost(Footing(*before), Footing(*now), 6) == pick_cost(mirrored(before), mirrored(now), 6)


@pytest.mark.parametrize("reach", [1, 2])
def test_no_choice_of_feet_on_a_short_treadling_costs_less(reach):
    chance = random.Random(20 + reach)
    for _ in range(40):
        columns = random_columns(chance, chance.randint(2, 5))
        sheds = some_sheds(chance, columns, reach, 6)
        masks = [shed_of(column) for column in columns]
        treadling = [shed_of(shed) for shed in sheds]
        choices = {target: footings_for(target, masks, reach) for target in treadling}
        walk = best_feet(treadling, choices, len(columns))
        assert walk.cost == least_effort(sheds, columns, reach)
        assert walk == walked(walk.footings, len(columns))
        assert all(footing in choices[target] for footing, target in zip(walk.footings, treadling, strict=True))


def test_staying_on_a_treadle_costs_nothing_and_the_same_foot_elsewhere_costs_its_price():
    still, left_again = Footing(left=(0,)), Footing(left=(1,))
    assert pick_cost(still, still, 4) == 0
    assert pick_cost(still, left_again, 4) == SAME_FOOT + 4
    assert pick_cost(Footing(), Footing(left=(3,)), 4) == 9 + ACROSS


def test_a_treadling_of_no_picks_costs_nothing():
    assert best_feet([], {}, 4).footings == ()
