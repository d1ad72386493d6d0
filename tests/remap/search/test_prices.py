"""The bound by prices: never above the linear program of SciPy's HiGHS, and soon near it; never above the fewest."""

import random
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from companion.remap.search.choices import choices_of
from companion.remap.search.prices import TREADLE, Prices
from tests.oracles import set_basis_cpsat as cpsat

NONE_YET = np.zeros(0, dtype=np.int64), np.zeros(0)


def priced(choices, steps=200):
    prices = Prices(choices, *NONE_YET)
    for step in range(steps):
        prices.step(max(0.003, 0.2 * 0.97**step))
    return prices


def by_linear_programming(choices):
    """Columns in part, each target's choices in part: least sum of columns."""
    columns, number = len(choices.catalogue.columns), len(choices.of)
    targets = len(choices.catalogue.targets)
    above, limits = [], []
    for target in range(targets):
        row = np.zeros(columns + number)
        row[columns:][choices.of == target] = -1
        above.append(row)
        limits.append(-1)
        for column in range(1, columns):
            users = (choices.of == target) & ((choices.one == column) | (choices.other == column))
            if users.any():
                row = np.zeros(columns + number)
                row[columns:][users] = 1
                row[column] = -1
                above.append(row)
                limits.append(0)
    cost = np.concatenate([np.zeros(1), np.ones(columns - 1), np.zeros(number)])
    return linprog(cost, A_ub=np.array(above), b_ub=limits, bounds=(0, None)).fun


@pytest.mark.parametrize("seed", range(8))
def test_prices_come_near_the_linear_program_and_never_above_it(seed):
    rng = random.Random(seed)
    targets = rng.sample(range(1, 256), 12)
    choices = choices_of(targets)
    best = by_linear_programming(choices)
    assert 0.97 * best < priced(choices).bound / TREADLE <= best + 1e-9


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(1, 63), min_size=3, max_size=9, unique=True), st.sampled_from([1, 5, 60]))
def test_the_bound_never_exceeds_the_fewest_of_cp_sat(targets, steps):
    """However far the prices have come."""
    sheds = [{pull + 1 for pull in range(6) if target >> pull & 1} for target in targets]
    fewest, proven = cpsat.fewest(6, sheds, "rising", 1)
    assert proven
    assert priced(choices_of(targets), steps).bound <= fewest * TREADLE


def test_prices_of_one_column_never_add_up_to_more_than_a_treadle():
    choices = choices_of(random.Random(4).sample(range(1, 256), 14))
    prices = priced(choices)
    paid = {}
    for use, price in zip(prices.uses // 14, prices._best, strict=False):
        paid[use] = paid.get(use, 0) + int(price)
    assert max(paid.values()) <= TREADLE
    assert min(paid.values()) > 0.99 * TREADLE


def test_every_choice_within_an_answer_is_affordable():
    """Double-faced twill of four shafts: all answers of six columns, found by trying all sets of them."""
    targets = [0b0001, 0b0010, 0b0100, 0b1000, 0b1110, 0b1101, 0b1011, 0b0111]
    choices = choices_of(targets)
    affordable = priced(choices).affordable(6)
    assert 0 < affordable.sum() < len(affordable)
    answers = 0
    for chosen in combinations(range(1, len(choices.catalogue.columns)), 6):
        held = np.isin(choices.one, chosen) & np.isin(choices.other, (0, *chosen))
        if len(np.unique(choices.of[held])) == len(targets):
            answers += 1
            assert affordable[held].all()
    assert answers >= 3
