from __future__ import annotations

import random

import pytest

from companion.remap.loom import Footing
from companion.weaving.sensing import Feet, Judgement, PickWatch, watch_over
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
    assert judged == [Judgement(Feet.RIGHT, 2), Judgement(Feet.WOVEN, 2.1)]


def test_a_wrong_treadle_is_told_with_what_is_missing():
    judged = found(PickWatch(TWO), (1, {1, 2}), until_s=1.2)
    assert judged == [Judgement(Feet.WRONG, 1.2, wrong=(2,), missing=(3,))]
    assert judged[0].is_warning


def test_a_missing_treadle_is_told_after_the_second_foot_has_had_its_time():
    assert feet(PickWatch(TWO), (1, {1}), until_s=1.7) == []
    assert found(PickWatch(TWO), (1, {1}), until_s=1.9) == [Judgement(Feet.MISSING, 1.9, missing=(3,))]


def test_a_brushed_neighbour_is_no_mistake():
    assert feet(PickWatch(TWO), (1, {1}), (1.1, {1, 2}), (1.2, {1, 3}), until_s=1.4) == [Feet.RIGHT]


def test_a_mistake_mended_before_the_beat_weaves_the_pick():
    judged = feet(PickWatch(TWO), (1, {1, 2}), (2, {1}), (2.2, {1, 3}), (3, set()))
    assert judged == [Feet.WRONG, Feet.MISSING, Feet.RIGHT, Feet.WOVEN]


def test_feet_that_leave_a_wrong_shed_one_after_the_other_weave_nothing():
    assert feet(PickWatch(ONE), (1, {0, 4}), (2, {0}), (2.2, set()), until_s=9) == [Feet.WRONG]


def test_feet_that_come_off_again_weave_nothing():
    assert feet(PickWatch(TWO), (1, {1, 2}), (2, set()), until_s=9) == [Feet.WRONG]
    assert feet(PickWatch(TWO), (1, {1}), (1.05, set()), until_s=9) == []


def test_the_next_foot_may_be_down_before_the_last_one_is_up():
    watch = watch_over(Footing((0,)), Footing((), (3,)))
    judged = found(watch, (1, {0}), (2, {0, 3}), (2.4, {3}), until_s=2.6)
    assert [judgement.feet for judgement in judged] == [Feet.RIGHT, Feet.WOVEN]


def test_a_treadle_of_the_next_pick_added_too_early_is_wrong():
    watch = watch_over(Footing((0,)), Footing((0,), (3,)))
    assert feet(watch, (1, {0}), (1.3, {0, 3}), until_s=1.5) == [Feet.RIGHT, Feet.WRONG]
    watch = watch_over(Footing((0,)), Footing((), (3,)))
    assert feet(watch, (1, {0}), (1.3, {0, 3}), (2.0, {3}), (2.2, set())) == [Feet.RIGHT, Feet.WRONG]


def test_a_pick_begun_with_the_feet_already_there_needs_no_second_step():
    watch = watch_over(Footing((), (3,)), down=frozenset({3}), at_s=2.4)
    assert feet(watch, (3, set())) == [Feet.RIGHT, Feet.WOVEN]


def test_a_clock_that_goes_back_finds_nothing_new():
    assert feet(PickWatch(ONE), (100, {0}), (5, set())) == []


PLAN = [frozenset(treadles) for treadles in ({0}, {1, 3}, {2}, {0, 2}, {3}, {1, 2}, {4}, {0, 5})]


def woven_by(weaver, picks, mistakes):
    """Weave with a watch over each pick; return the warnings and the picks woven, each with its pick's number."""
    warnings, woven = [], []
    down = set()
    for pick in range(picks):
        wanted = PLAN[pick % len(PLAN)]
        step = weaver.step(wanted, mistakes.get(pick))
        watch = PickWatch(wanted, PLAN[(pick + 1) % len(PLAN)])
        assert not down
        before_s = step.moves[0][0]
        for at_s, treadle, goes_down in step.moves:
            (down.add if goes_down else down.discard)(treadle)
            # The screen looks at the clock too, twenty times a second.
            judged = []
            for look in range(int((at_s - before_s) / 0.05)):
                watch, more = watch.passed(before_s + 0.05 * look)
                judged += more
            watch, more = watch.felt(frozenset(down), at_s)
            judged += more
            before_s = at_s
            for judgement in judged:
                if judgement.is_warning:
                    warnings.append((pick, judgement, step))
                if judgement.feet is Feet.WOVEN:
                    woven.append(pick)
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
