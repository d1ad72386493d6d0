"""Bounds: what two searches know together is all that either knows, and proven means that nothing is left between."""

from hypothesis import given
from hypothesis import strategies as st

from companion.remap.search.bounds import Bounds

bounds = st.builds(Bounds, st.integers(0, 20), st.none() | st.integers(0, 20))


@given(bounds, bounds)
def test_narrowed_bounds_are_as_close_as_the_closer_of_two_on_either_side(one, other):
    both = one.narrowed(other)
    assert both == other.narrowed(one)
    assert both.at_least in (one.at_least, other.at_least)
    assert both.at_least >= one.at_least
    assert both.best in (one.best, other.best)
    assert (both.best is None) == (one.best is None and other.best is None)
    assert one.best is None or both.best <= one.best


@given(bounds)
def test_what_is_known_already_narrows_nothing(known):
    assert known.narrowed(known) == known
    assert known.narrowed(Bounds(0, None)) == known


def test_bounds_are_proven_when_they_meet():
    assert Bounds(3, 3).proven
    assert not Bounds(3, 4).proven
    assert not Bounds(0, None).proven
