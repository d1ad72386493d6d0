"""The bound by sharing out targets holds in small worlds, and is exact for double-faced twills up to twelve shafts."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.masks import Shed
from companion.remap.loom.loom import Action
from companion.remap.search.answers import Solved
from companion.remap.search.lower_bounds import Seed, fooling_set
from companion.remap.search.shares import further_columns
from tests.oracles import set_basis_brute as brute
from tests.oracles import set_basis_cpsat as cpsat
from tests.remap.opening import search_for


def shed_set(target):
    return {pull + 1 for pull in range(target.bit_length()) if target >> pull & 1}


def double_faced(shafts):
    every = (1 << shafts) - 1
    return [1 << shaft for shaft in range(shafts)], [every & ~(1 << shaft) for shaft in range(shafts)]


def bound(targets, restarts=0):
    seeds = fooling_set(targets, restarts)
    return len(seeds) + further_columns(targets, seeds)


def test_the_bound_never_exceeds_the_fewest_for_any_sheds_of_three_shafts():
    """Against listing all tie-ups of up to four treadles."""
    every = {frozenset(shed_set(target)): target for target in range(1, 8)}
    for treadles in range(5):
        for opened in brute.best_collections(3, "rising", 1, treadles, set(every)):
            for size in range(1, len(opened) + 1):
                for sheds in combinations(sorted(opened, key=sorted), size):
                    assert bound([every[shed] for shed in sheds]) <= treadles, sheds


@settings(max_examples=60)
@given(st.lists(st.integers(1, 63), min_size=4, max_size=11, unique=True), st.integers(0, 3))
def test_the_bound_never_exceeds_the_fewest_of_cp_sat(targets, restarts):
    """Against OR-tools CP-SAT."""
    fewest, proven = cpsat.fewest(6, [shed_set(target) for target in targets], "rising", 1)
    assert proven
    assert bound(targets, restarts) <= fewest


@pytest.mark.parametrize(("shafts", "further"), [(4, 2), (5, 3), (6, 3), (8, 4), (10, 5), (12, 6)])
def test_a_double_faced_twill_needs_half_as_many_columns_again(shafts, further):
    """From above: all but {a, b}, with either shaft, opens two sheds. CP-SAT proves the same up to twelve shafts."""
    singles, others = double_faced(shafts)
    assert further_columns([*singles, *others], [Seed(single, single) for single in singles]) == further


@pytest.mark.parametrize("action", [Action.RISING, Action.SINKING])
def test_twelve_double_faced_shafts_are_proved_without_a_search_from_below(action):
    """18 treadles, as CP-SAT proves too; without the bound a million nodes are not enough."""
    singles, others = double_faced(12)
    outcome = search_for([Shed(target) for target in singles + others], 12, action, 1)
    assert isinstance(outcome, Solved)
    assert outcome.bounds.best == 18
    assert outcome.nodes < 1000


@pytest.mark.parametrize("further", [6, 7, 8])
def test_the_bound_is_met_where_all_pairs_of_further_columns_are_used(further):
    """Shafts are the edges of the complete graph; the column of a corner leaves out the shafts that end there."""
    edges = list(combinations(range(further), 2))
    singles, others = double_faced(len(edges))
    columns = [sum(1 << k for k, edge in enumerate(edges) if corner not in edge) for corner in range(further)]
    assert {columns[a] | columns[b] for a, b in edges} == set(others)
    assert further_columns([*singles, *others], [Seed(single, single) for single in singles]) == further


def test_nothing_further_is_needed_where_the_fooling_set_opens_all():
    """Single shafts, and sheds of two."""
    singles, _ = double_faced(4)
    assert further_columns([*singles, 0b0011, 0b1100], [Seed(single, single) for single in singles]) == 0
    assert further_columns([*singles, 0b0111], [Seed(single, single) for single in singles]) == 1
