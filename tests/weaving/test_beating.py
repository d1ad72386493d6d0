"""What is learned of a weaver's beats: her double-beat time and her shortest pick."""

from __future__ import annotations

import pytest

from companion.weaving.beating import BeatPace, BeatTimes

TIMES = BeatTimes()


def beats(between_s, count=True):
    pace, at_s = BeatPace(), 100.0
    for seconds in between_s:
        at_s += seconds
        if count and pace.may_count(at_s):
            pace = pace.counted(at_s)
        pace = pace.beaten(at_s)
    return pace, at_s


def test_before_anything_is_learned_a_second_is_one_pick():
    pace, at_s = beats([3.0, 0.9])
    assert pace.double_s == TIMES.unlearned_double_s
    assert not pace.may_count(at_s + 0.9)
    assert pace.may_count(at_s + 1.1)


@pytest.mark.parametrize(("double_s", "pick_s"), [(0.3, 1.5), (0.5, 2.5), (0.8, 3.5), (0.9, 8.0)])
def test_the_double_beat_time_lies_between_the_two_heaps_of_intervals(double_s, pick_s):
    pace, _ = beats([pick_s, double_s, pick_s * 1.1, double_s * 0.9] * 5)
    assert double_s < pace.double_s < min(pick_s, TIMES.most_double_s + 0.01)
    assert pace.shortest_pick_s < pick_s


def test_who_beats_once_and_fast_is_believed_soon():
    pace, at_s = beats([0.7] * 12)
    assert pace.double_s == pytest.approx(0.35)
    assert pace.may_count(at_s + 0.7)


def test_two_paces_of_picks_are_no_double_beat():
    """A shuttle change takes longer than a pick with the same shuttle: both are picks."""
    pace, at_s = beats([2.0, 5.0] * 10)
    assert pace.double_s <= TIMES.most_double_s
    assert pace.may_count(at_s + 1.9)


def test_a_walk_around_the_loom_says_nothing_of_the_pace():
    quiet, _ = beats([2.5] * 10)
    walked, _ = beats([2.5] * 5 + [300.0] + [2.5] * 5)
    assert walked.double_s == quiet.double_s


def test_no_shuttle_crosses_a_shed_that_has_just_opened():
    pace, at_s = BeatPace(), 0.0
    for _ in range(TIMES.enough_throws):
        at_s += 3.0
        pace = pace.counted(at_s, opened_s=at_s - 2.0).beaten(at_s)
    assert pace.shortest_throw_s == pytest.approx(1.0)
    assert not pace.may_count(at_s + 1.3, opened_s=at_s + 0.5)
    # The shed opened after the last beat, and long enough ago: that says more than the time between beats.
    assert pace.may_count(at_s + 1.15, opened_s=at_s + 0.1)
