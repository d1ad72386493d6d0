"""From below at reach 1: whatever sure columns the search starts from, it finds an answer where one is hidden."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.remap.search.answers import Solved, never_stop
from companion.remap.search.fewest import fewest_treadles
from companion.remap.search.lower_bounds import fooling_set
from companion.remap.search.pairs import PairSearch
from companion.remap.search.watch import Watch

# Of two columns that could both be the sure one of a shed, only one is held to its pull. Dead states must not be
# remembered without saying which: these sheds were once said to need one treadle more than stands here.
TWO_COULD_BE_THE_SURE_ONE = [
    ([15, 39, 46, 53, 59, 60, 62, 63], (3, 14, 56, 53, 36)),
    ([23, 47, 51, 53, 58, 59, 60, 61, 63], (3, 21, 44, 58, 48)),
    ([15, 23, 30, 33, 46, 47, 55, 57, 58, 61], (33, 56, 42, 14, 22, 5)),
    ([11, 61, 63, 73, 74, 82, 90, 91, 99, 107, 115, 117, 119], (53, 9, 10, 99, 82, 64)),
]


def opened_by(columns):
    """All that one or two of the columns pull, by trying them."""
    return {one | other for one in columns for other in columns}


def decided(targets, seeds, treadles):
    return PairSearch(targets, seeds, treadles, Watch(never_stop)).columns()


@pytest.mark.parametrize(("targets", "columns"), TWO_COULD_BE_THE_SURE_ONE)
def test_an_answer_is_found_though_two_columns_could_be_the_sure_one(targets, columns):
    assert set(targets) <= opened_by(columns), "the answer by hand is none"
    found = decided(targets, fooling_set(targets, 0), len(columns))
    assert found is not None
    assert set(targets) <= opened_by(found)


@pytest.mark.parametrize(("targets", "columns"), TWO_COULD_BE_THE_SURE_ONE)
def test_no_more_treadles_are_called_proven_than_an_answer_by_hand_has(targets, columns):
    outcome = fewest_treadles(targets, 1)
    assert isinstance(outcome, Solved)
    assert outcome.bounds.best == len(columns)


@given(st.lists(st.integers(1, 127), min_size=3, max_size=6, unique=True), st.data())
def test_as_many_columns_as_are_hidden_always_do(hidden, data):
    targets = data.draw(st.lists(st.sampled_from(sorted(opened_by(hidden))), min_size=3, max_size=14, unique=True))
    seeds = fooling_set(targets, 0)
    sure = seeds[: data.draw(st.integers(0, len(seeds)))]
    found = decided(targets, sure, len(hidden))
    assert found is not None
    assert len(found) <= len(hidden)
    assert set(targets) <= opened_by(found)
