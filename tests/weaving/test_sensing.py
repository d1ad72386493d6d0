from __future__ import annotations

import random

import pytest

from companion.remap.loom.loom import Footing
from companion.weaving.sensing import FeetState, Judgement, PickWatch, watch_over
from tests.weaving.weaver import Mistake, Weaver

ONE, TWO = frozenset({0}), frozenset({1, 3})


def found(watch, *felt, until_s=None):
    """Everything found for treadles felt as (seconds, set), up to `until_s`."""
    judged = []
    for at_s, down in felt:
        watch, more = watch.felt(frozenset(down), at_s)
        judged += more
    if until_s is not None:
        judged += watch.passed(until_s)[1]
    return judged


def feet(*arguments, **more):
    return [judgement.feet for judgement in found(*arguments, **more)]


def test_right_treadles_are_right_and_the_pick_is_woven_when_they_are_released():
    judged = found(PickWatch(TWO), (1, {1}), (1.2, {1, 3}), (2, {3}), (2.1, set()))
    assert judged == [Judgement(FeetState.RIGHT, 2), Judgement(FeetState.WOVEN, 2.1)]


def test_a_wrong_treadle_is_told_with_what_is_missing():
    judged = found(PickWatch(TWO), (1, {1, 2}), until_s=1.2)
    assert judged == [Judgement(FeetState.WRONG, 1.2, wrong=(2,), missing=(3,))]
    assert judged[0].is_warning


def test_a_missing_treadle_is_told_after_the_second_foot_has_had_its_time():
    assert feet(PickWatch(TWO), (1, {1}), until_s=1.7) == []
    assert found(PickWatch(TWO), (1, {1}), until_s=1.9) == [Judgement(FeetState.MISSING, 1.9, missing=(3,))]


def test_a_brushed_neighbour_is_no_mistake():
    assert feet(PickWatch(TWO), (1, {1}), (1.1, {1, 2}), (1.2, {1, 3}), until_s=1.4) == [FeetState.RIGHT]


def test_a_mistake_mended_before_the_beat_weaves_the_pick():
    judged = feet(PickWatch(TWO), (1, {1, 2}), (2, {1}), (2.2, {1, 3}), (3, set()))
    assert judged == [FeetState.WRONG, FeetState.MISSING, FeetState.RIGHT, FeetState.WOVEN]


def test_feet_that_leave_a_wrong_shed_one_after_the_other_weave_nothing():
    assert feet(PickWatch(ONE), (1, {0, 4}), (2, {0}), (2.2, set()), until_s=9) == [FeetState.WRONG]


def test_feet_that_come_off_again_weave_nothing():
    assert feet(PickWatch(TWO), (1, {1, 2}), (2, set()), until_s=9) == [FeetState.WRONG]
    assert feet(PickWatch(TWO), (1, {1}), (1.05, set()), until_s=9) == []


def test_the_next_foot_may_be_down_before_the_last_one_is_up():
    watch = watch_over(Footing((0,)), Footing((), (3,)))
    judged = found(watch, (1, {0}), (2, {0, 3}), (2.4, {3}), until_s=2.6)
    assert [judgement.feet for judgement in judged] == [FeetState.RIGHT, FeetState.WOVEN]


def test_a_treadle_of_the_next_pick_added_too_early_is_wrong():
    watch = watch_over(Footing((0,)), Footing((0,), (3,)))
    assert feet(watch, (1, {0}), (1.3, {0, 3}), until_s=1.5) == [FeetState.RIGHT, FeetState.WRONG]
    watch = watch_over(Footing((0,)), Footing((), (3,)))
    assert feet(watch, (1, {0}), (1.3, {0, 3}), (2.0, {3}), (2.2, set())) == [FeetState.RIGHT, FeetState.WRONG]


def test_feet_that_leave_one_by_one_do_not_weave_the_next_pick_too():
    watch = watch_over(Footing((1,), (3,)), Footing((1,)))
    assert feet(watch, (1, {1, 3}), (2, {1}), (2.5, set())) == [FeetState.RIGHT, FeetState.WOVEN]


def test_a_pick_begun_with_the_feet_already_there_needs_no_second_step():
    before = PickWatch(ONE, frozenset({3}), frozenset({3}), 2.4, 1.0, FeetState.WOVEN, opened=True)
    watch = watch_over(Footing((), (3,)), before=before)
    assert feet(watch, (3, set())) == [FeetState.RIGHT, FeetState.WOVEN]


def test_a_clock_that_goes_back_finds_nothing_new():
    assert feet(PickWatch(ONE), (100, {0}), (5, set())) == []


PLAN = [frozenset(treadles) for treadles in ({0}, {1, 3}, {2}, {0, 2}, {3}, {1, 2}, {4}, {0, 5})]


def wanted_at(pick):
    return PLAN[pick % len(PLAN)]


def footing_at(pick):
    return Footing(tuple(sorted(wanted_at(pick))))


def woven_by(weaver, picks, mistakes):
    """Weave with a watch over each pick; return the warnings and the picks woven, each with its pick's number."""
    steps = []
    for pick in range(picks):
        following = None if pick + 1 in mistakes else wanted_at(pick + 1)
        steps.append(weaver.step(wanted_at(pick), mistakes.get(pick), following))
    moves = sorted(move for step in steps for move in step.moves)
    warnings, woven = [], []
    pick, down = 0, set()
    watch = watch_over(footing_at(0), footing_at(1))
    for (at_s, treadle, goes_down), (next_s, *_) in zip(moves, [*moves[1:], (moves[-1][0] + 1, 0, False)], strict=True):
        # The screen looks at the clock too, twenty times a second.
        looks = [at_s + 0.05 * look for look in range(1, int((next_s - at_s) / 0.05))]
        for look_s in [at_s, *looks]:
            watch, judged = watch.passed(look_s)
            if FeetState.WOVEN in [judgement.feet for judgement in judged]:
                woven.append(pick)
                pick += 1
                watch = watch_over(footing_at(pick), footing_at(pick + 1), watch)
            if look_s == at_s:
                (down.add if goes_down else down.discard)(treadle)
                watch, more = watch.felt(frozenset(down), at_s)
                judged += more
            warnings += [(pick, judgement, steps[pick]) for judgement in judged if judgement.is_warning]
            if watch.told is FeetState.WOVEN:
                woven.append(pick)
                pick += 1
                watch = watch_over(footing_at(pick), footing_at(pick + 1), watch)
    return warnings, woven


def first_of(warnings):
    """The first warning of each pick."""
    return {pick: (pick, judgement, step) for pick, judgement, step in reversed(warnings)}.values()


def test_ten_thousand_clean_picks_raise_no_alarm_and_are_each_woven_once():
    warnings, woven = woven_by(Weaver(6), 10_000, {})
    assert warnings == []
    assert woven == list(range(10_000))


@pytest.mark.parametrize("mistake", Mistake)
def test_every_planted_mistake_is_told_before_the_beat_and_no_other(mistake):
    chance = random.Random(4)
    able = [pick for pick in range(2000) if mistake is not Mistake.MISSING or len(PLAN[pick % len(PLAN)]) > 1]
    mistakes = dict.fromkeys(sorted(chance.sample(able, 200)), mistake)
    warnings, woven = woven_by(Weaver(6, seed=9), 2000, mistakes)
    assert {pick for pick, *_ in warnings} == set(mistakes)
    assert all(judgement.at_s <= step.beat_s for _, judgement, step in first_of(warnings))
    assert woven == list(range(2000))
