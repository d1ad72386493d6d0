"""The pile of runs against a plain list of picks."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.weaving.runs import NO_CLOTH, PickRun


def piled(picks):
    """The pile of these picks; a pick with True beside it began a section anew."""
    cloth = NO_CLOTH
    for pick in picks:
        cloth = cloth.woven(*pick) if isinstance(pick, tuple) else cloth.woven(pick)
    return cloth


PICKS = st.tuples(st.integers(0, 3), st.sampled_from([False, False, False, True]))


@given(st.lists(PICKS | st.none(), max_size=60), st.integers(0, 3), st.integers(0, 4))
def test_weaving_and_taking_out_is_a_stack(acts, start, stop):
    cloth, lying = NO_CLOTH, []
    for act in acts:
        if act is not None:
            cloth, lying = cloth.woven(*act), [*lying, act]
        elif lying:
            cloth, lying = cloth.taken_out(), lying[:-1]
        newest, begins_anew = lying[-1] if lying else (None, False)
        assert list(cloth.newest_first()) == [pick for pick, _ in reversed(lying)]
        assert (cloth.picks, cloth.newest, cloth.begins_anew) == (len(lying), newest, begins_anew)
        # Equal piles are equal values, however they came about.
        assert cloth == piled(lying)
        within = 0
        for pick, anew in reversed(lying):
            if not start <= pick < stop:
                break
            within += 1
            if anew:
                break
        assert cloth.newest_within(range(start, stop)) == within
        counted = [*(pick for pick, _ in lying[len(lying) - within :]), start]
        turns = sum(above <= below for below, above in pairwise(counted))
        assert cloth.turns_within(range(start, stop), start) == turns


def test_a_repeat_woven_many_times_stays_short():
    cloth = piled([0, 1, *[2, 3, 4] * 1000])
    assert (cloth.below, cloth.top) == ((PickRun(0, 4), PickRun(2, 4, laps=998)), PickRun(2, 4))


def test_nothing_can_be_taken_out_of_nothing():
    with pytest.raises(ValueError, match="no pick"):
        NO_CLOTH.taken_out()
