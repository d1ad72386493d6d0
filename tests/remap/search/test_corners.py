"""Corners of a complete graph answer double-faced twills outright, and never claim what does not open."""

import random

import pytest

from companion.draft.masks import Shed
from companion.remap.loom.loom import Action
from companion.remap.search.answers import Solved
from companion.remap.search.corners import answer_by_corners
from companion.remap.search.lower_bounds import Seed, fooling_set
from companion.remap.search.shares import further_columns
from tests.remap.opening import search_for


def double_faced(shafts):
    every = (1 << shafts) - 1
    return [1 << shaft for shaft in range(shafts)] + [every & ~(1 << shaft) for shaft in range(shafts)]


def opens(columns, target):
    return any(one | other == target for one in columns for other in columns)


@pytest.mark.parametrize(("shafts", "corners"), [(10, 5), (15, 6), (21, 7)])
def test_every_two_corners_leave_out_one_shaft_together(shafts, corners):
    """k(k-1)/2 edges (counting)."""
    targets = double_faced(shafts)
    columns = answer_by_corners(targets, [Seed(1 << shaft, 1 << shaft) for shaft in range(shafts)], corners)
    assert len(columns) == shafts + corners
    assert all(opens(columns, target) for target in targets)


def test_more_targets_than_edges_have_no_answer_by_corners():
    seeds = [Seed(1 << shaft, 1 << shaft) for shaft in range(11)]
    assert answer_by_corners(double_faced(11), seeds, 5) is None


def test_whatever_is_answered_opens_every_target():
    rng = random.Random(2)
    answered = 0
    for _ in range(1500):
        targets = rng.sample(range(1, 64), 9)
        seeds = fooling_set(targets, 0)
        columns = answer_by_corners(targets, seeds, further_columns(targets, seeds) + rng.randrange(3))
        if columns is not None:
            answered += 1
            assert all(opens(columns, target) for target in targets)
    assert answered > 5


@pytest.mark.parametrize(("shafts", "treadles"), [(13, 19), (14, 20), (15, 21), (16, 23)])
def test_double_faced_twills_of_many_shafts_are_proved(shafts, treadles):
    """n single shafts, and the least k with k(k-1)/2 >= n: proved from below by shares, met by corners."""
    outcome = search_for([Shed(target) for target in double_faced(shafts)], shafts, Action.RISING, 1)
    assert isinstance(outcome, Solved)
    assert outcome.bounds.best == treadles
