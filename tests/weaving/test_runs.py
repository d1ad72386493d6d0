"""The pile of runs against a plain list of picks."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.weaving.runs import NO_CLOTH, PickRun


def piled(picks):
    cloth = NO_CLOTH
    for pick in picks:
        cloth = cloth.woven(pick)
    return cloth


@given(st.lists(st.integers(0, 3) | st.none(), max_size=60), st.integers(0, 3), st.integers(0, 4))
def test_weaving_and_taking_out_is_a_stack(acts, start, stop):
    cloth, lying = NO_CLOTH, []
    for act in acts:
        if act is not None:
            cloth, lying = cloth.woven(act), [*lying, act]
        elif lying:
            cloth, lying = cloth.taken_out(), lying[:-1]
        assert list(cloth.newest_first()) == lying[::-1]
        assert (cloth.picks, cloth.newest) == (len(lying), lying[-1] if lying else None)
        # Equal piles are equal values, however they came about.
        assert cloth == piled(lying)
        within = 0
        for pick in reversed(lying):
            if not start <= pick < stop:
                break
            within += 1
        assert cloth.newest_within(range(start, stop)) == within
        newest = [*lying[len(lying) - within :], start]
        turns = sum(above <= below for below, above in pairwise(newest))
        assert cloth.turns_within(range(start, stop), start) == turns


def test_a_repeat_woven_many_times_stays_short():
    cloth = piled([0, 1, *[2, 3, 4] * 1000])
    assert (cloth.below, cloth.top) == ((PickRun(0, 4), PickRun(2, 4, laps=998)), PickRun(2, 4))


def test_nothing_can_be_taken_out_of_nothing():
    with pytest.raises(ValueError, match="no pick"):
        NO_CLOTH.taken_out()
