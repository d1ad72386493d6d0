"""The bound by weights: as good as the linear program of SciPy's HiGHS, true of every column, not above the fewest."""

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from companion.draft.masks import shed_of
from companion.remap.loom.loom import Action
from companion.remap.search import weights
from companion.remap.search.engine import Found
from companion.remap.search.watch import Watch
from companion.remap.search.weights import Weights, weighed_pulls
from tests.oracles import set_basis_cpsat as cpsat
from tests.remap.opening import search_for


def shifted(row, shafts):
    return [sum(1 << (shaft + step) % shafts for shaft in row) for step in range(shafts)]


def by_linear_programming(targets):
    """Columns in part, any subset of any target: least sum that brings every pull of every target once."""
    columns = sorted({part for target in targets for part in range(1, target + 1) if not part & ~target})
    above = [
        [-1.0 if not column & ~target and column >> pull & 1 else 0.0 for column in columns]
        for target in targets
        for pull in range(target.bit_length())
        if target >> pull & 1
    ]
    return linprog(np.ones(len(columns)), A_ub=above, b_ub=-np.ones(len(above)), bounds=(0, None)).fun


@pytest.mark.parametrize("together", [False, True])
@pytest.mark.parametrize("seed", range(6))
def test_the_bound_is_that_of_the_linear_program_also_where_what_is_alike_weighs_the_same(monkeypatch, seed, together):
    if together:
        monkeypatch.setattr(weights, "MANY_ENTRIES", 0)
    rng = random.Random(seed)
    targets = shifted(rng.sample(range(6), 3), 6) if together and seed % 2 else sorted(rng.sample(range(1, 64), 9))
    best = by_linear_programming(targets)
    found = weighed_pulls(targets)
    assert best - 0.01 < found.all / found.treadle <= best + 1e-9


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(1, 63), min_size=1, max_size=9, unique=True))
def test_no_column_whatever_brings_more_than_a_treadle(targets):
    found = weighed_pulls(targets)
    assert all(sum(found.brings(column).values()) <= found.treadle for column in range(1, 64))
    assert found.all == sum(found.asks(target) for target in targets)


@pytest.mark.parametrize("reach", [1, 2])
def test_the_bound_never_exceeds_the_fewest_of_cp_sat(reach):
    rng = random.Random(reach)
    for _ in range(15):
        sheds = [{s for s in range(1, 7) if rng.random() < 0.5} for _ in range(7)]
        bound = weighed_pulls([mask for shed in sheds if (mask := shed_of(shed))]).bound
        assert bound <= cpsat.fewest(6, sheds, "rising", reach)[0]


@pytest.mark.parametrize(
    ("row", "shafts", "bound"), [((0, 1), 4, 4), ((0, 1, 2, 5, 7, 8), 12, 12), ((0, 1, 2, 5, 7, 8, 9, 10), 16, 12)]
)
def test_twills_need_nearly_a_treadle_for_each_shed_however_many_a_foot_presses(row, shafts, bound):
    """2/2 on four shafts needs all four: a column in two of its sheds is one shaft, and eight pulls must be brought."""
    assert weighed_pulls(shifted(row, shafts)).bound >= bound


def test_the_search_says_so_at_reach_two():
    sheds = [{(shaft + step) % 12 + 1 for shaft in (0, 1, 2, 5, 7, 8)} for step in range(12)]
    masks = [shed_of(shed) for shed in sheds]
    left = iter(range(400))
    outcome = search_for(masks, 12, Action.RISING, 2, should_stop=lambda: next(left, None) is None)
    assert outcome.bounds.at_least == outcome.bounds.best == 12


def test_what_would_take_too_long_is_left_alone_and_a_turn_can_end_in_the_middle(monkeypatch):
    targets = shifted((0, 1, 2, 5, 7, 8), 12)
    known = Found(1, tuple(targets))
    monkeypatch.setattr(weights, "TURN", 10)
    engine = Weights(targets, Watch(lambda: False))
    turns = 0
    while engine.weighed is None:
        after = engine.work(known, None)
        turns += 1
    assert turns > 1
    assert after.at_least == 12
    monkeypatch.setattr(weights, "MOST_ENTRIES", 10)
    assert weighed_pulls(targets) is None
    assert Weights(targets, Watch(lambda: False)).work(known, None) == known
