"""Dents mixed by turns: what a reed table has (common practice, no source), and properties of an even spread."""

from __future__ import annotations

from itertools import accumulate

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.weaving.mixed_dents import BY_RULE_WITHIN, dents_for, mixed_dents


@pytest.mark.parametrize(
    ("in_dent", "by_turns"),
    [
        (2.0, (2,)),
        (1.5, (1, 2)),
        (1.2, (1, 1, 1, 1, 2)),
        (0.7, (1, 1, 0, 1, 1, 0, 1, 1, 1, 0)),
        (2 / 3, (1, 1, 0)),
        (0.5, (1, 0)),
        (6.0, (6,)),
    ],
)
def test_dents_are_mixed_as_a_reed_table_has_them(in_dent, by_turns):
    assert mixed_dents(in_dent) == by_turns


def test_a_rule_is_met_by_the_simplest_repeat_that_is_near():
    assert mixed_dents(1.96, BY_RULE_WITHIN) == (2,)
    assert mixed_dents(2.61, BY_RULE_WITHIN) == (2, 3)


@pytest.mark.parametrize("in_dent", [0, 0.49, 6.1])
def test_what_no_reed_is_sleyed_with_is_refused(in_dent):
    with pytest.raises(ValueError, match=r"from 0\.5 to 6 are sleyed"):
        mixed_dents(in_dent)


@given(st.floats(0.5, 6))
def test_no_short_repeat_lies_nearer_and_the_ends_are_spread_evenly(in_dent):
    repeat = mixed_dents(in_dent)
    mean = sum(repeat) / len(repeat)
    nearest = min(abs(ends / dents - in_dent) for dents in range(1, 11) for ends in range(1, 61))
    assert abs(mean - in_dent) <= nearest + 0.0005 * in_dent
    assert repeat[0] > 0
    sums = list(accumulate(repeat, initial=0))
    assert all(abs(held - mean * dents) < 2 for dents, held in enumerate(sums))
    assert max(repeat) - min(repeat) <= 1


@given(st.integers(1, 60), st.floats(0.5, 6))
def test_dents_are_counted_until_the_last_end_lies(ends, in_dent):
    repeat = mixed_dents(in_dent)
    dents = dents_for(ends, repeat)
    held = [repeat[dent % len(repeat)] for dent in range(dents)]
    assert sum(held) >= ends > sum(held[:-1])
