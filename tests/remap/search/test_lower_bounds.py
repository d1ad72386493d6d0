"""The lower bounds hold, and are as large as the theory says where it says so."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.remap.loom.loom import Action
from companion.remap.search.lower_bounds import counting_bound, fooling_set, ways_to_press
from tests.oracles.set_basis_brute import footings
from tests.remap.opening import search_for

families_of_targets = st.lists(st.integers(1, 255), min_size=1, max_size=7, unique=True)


@given(families_of_targets)
def test_no_column_can_serve_two_members_of_a_fooling_set(targets):
    seeds = fooling_set(targets, restarts=5)
    for seed in seeds:
        assert seed.target in targets
        assert seed.target & seed.pull == seed.pull > 0
    for one, other in combinations(seeds, 2):
        assert not (one.target & other.pull and other.target & one.pull)


@given(families_of_targets, st.sampled_from([1, 2]))
def test_bounds_never_exceed_the_fewest(targets, reach):
    fewest = search_for(targets, 8, Action.RISING, reach).bounds.best
    assert len(fooling_set(targets, restarts=5)) <= fewest
    assert counting_bound(len(targets), reach) <= fewest


def test_more_restarts_never_give_a_smaller_set():
    targets = [(0x9E37 * k >> 3) & 0xFF | 1 for k in range(1, 20)]
    sizes = [len(fooling_set(targets, restarts)) for restarts in (0, 5, 50)]
    assert sizes == sorted(sizes)


@pytest.mark.parametrize("size", [1, 4, 9])
def test_the_identity_has_a_fooling_set_of_its_size(size):
    """The identity matrix has Boolean rank n (standard)."""
    assert len(fooling_set([1 << k for k in range(size)], restarts=0)) == size


@pytest.mark.parametrize(("treadles", "ways"), [(4, 10), (6, 21), (8, 36), (10, 55), (12, 78)])
def test_one_treadle_under_each_foot_gives_the_counts_of_the_binomial(treadles, ways):
    """n + n(n-1)/2 (counting)."""
    assert ways_to_press(treadles, 1) == ways


@pytest.mark.parametrize("reach", [1, 2])
def test_ways_to_press_agree_with_listing_them(reach):
    for treadles in range(12):
        assert ways_to_press(treadles, reach) == len(footings(treadles, reach)) - 1


def test_counting_is_the_least_number_with_enough_ways():
    assert [counting_bound(sheds, 1) for sheds in (0, 1, 2, 3, 4, 10, 11, 21, 22)] == [0, 1, 2, 2, 3, 4, 5, 6, 7]
