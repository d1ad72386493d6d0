"""From below at reach 2: whatever sure columns the search starts from, it finds a row where one is hidden."""

from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from companion.remap.search.answers import never_stop
from companion.remap.search.lower_bounds import fooling_set
from companion.remap.search.runs import RunSearch
from companion.remap.search.watch import Watch


def opened_by(row):
    """All that two feet pull on this row, each on one treadle or two neighbours, by trying them."""
    feet = {*row, *(one | other for one, other in pairwise(row))}
    at = {foot: [] for foot in feet}
    for first, one in enumerate(row):
        at[one].append((first, first))
        if first + 1 < len(row):
            at[one | row[first + 1]].append((first, first + 1))
    apart = {
        one | other
        for one, ones in at.items()
        for other, others in at.items()
        if any(left[1] < right[0] for left in ones for right in others)
    }
    return feet | apart


@settings(max_examples=60)
@given(st.lists(st.integers(1, 63), min_size=3, max_size=5, unique=True), st.data())
def test_as_many_columns_in_a_row_as_are_hidden_always_do(hidden, data):
    targets = data.draw(st.lists(st.sampled_from(sorted(opened_by(hidden))), min_size=3, max_size=10, unique=True))
    seeds = fooling_set(targets, 3)
    sure = seeds[: data.draw(st.integers(0, len(seeds)))]
    found = RunSearch(sorted(targets), sure, len(hidden), Watch(never_stop)).columns()
    assert found is not None
    assert len(found) <= len(hidden)
    assert set(targets) <= opened_by(found)
