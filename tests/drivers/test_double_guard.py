from __future__ import annotations

import random

from drivers.double_guard import DoubleGuard, GuardedListener, GuardTimes
from drivers.events import LinkUp, Press, Pressed, PressSwallowed
from drivers.tally import Ignored, new_tally


def swallowed_of(times_s, guard=None):
    guard = guard or DoubleGuard(GuardTimes())
    return [at_s for at_s in times_s if guard.judge(Pressed(Press.ADVANCE, at_s))]


def paced(pace_s, picks, start_s=0.0, jitter=0.2, seed=1):
    chance = random.Random(seed)
    times = [start_s]
    for _ in range(picks):
        times.append(times[-1] + pace_s * chance.uniform(1 - jitter, 1 + jitter))
    return times


def test_a_steady_weaver_is_never_held_up_at_any_pace():
    for pace_s in (0.4, 0.8, 1.5, 3, 8):
        assert swallowed_of(paced(pace_s, 500)) == []


def test_a_second_press_too_soon_is_swallowed_and_says_how_soon():
    guard = DoubleGuard(GuardTimes())
    for at_s in paced(1.5, 20):
        guard.judge(Pressed(Press.ADVANCE, at_s))
    told = guard.judge(Pressed(Press.ADVANCE, at_s + 0.4))
    assert isinstance(told, PressSwallowed)
    assert abs(told.after_s - 0.4) < 1e-9


def test_the_guard_learns_the_pace_within_its_bounds():
    for pace_s, shortest_s in ((0.4, 0.25), (1.2, 0.42), (6, 0.6)):
        guard = DoubleGuard(GuardTimes())
        swallowed_of(paced(pace_s, 40, jitter=0), guard)
        assert abs(guard.shortest_pick_s - shortest_s) < 1e-9


def test_every_planted_double_press_is_swallowed_and_no_pick():
    chance = random.Random(3)
    picks = paced(1.5, 1000)
    doubles = [at_s + chance.uniform(0.05, 0.24) for at_s in picks[::10]]
    assert swallowed_of(sorted(picks + doubles)) == doubles


def test_a_weaver_who_speeds_up_is_followed_after_a_few_picks():
    guard = DoubleGuard(GuardTimes())
    slow = paced(3.0, 30, jitter=0)
    assert swallowed_of(slow, guard) == []
    quick = paced(0.45, 40, start_s=slow[-1] + 0.45, jitter=0)
    held_up = swallowed_of(quick, guard)
    assert 0 < len(held_up) <= 5
    assert max(held_up) < quick[10]


def test_back_and_on_again_is_believed_at_once():
    guard = DoubleGuard(GuardTimes())
    presses = [(Press.ADVANCE, 10.0), (Press.BACK, 10.1), (Press.ADVANCE, 10.2)]
    assert [guard.judge(Pressed(press, at_s)) for press, at_s in presses] == [None] * 3


def test_a_clock_that_jumps_back_locks_nobody_out():
    assert swallowed_of([1000.0, 5.0, 6.0]) == []


def test_the_listener_hears_of_what_was_swallowed_and_it_is_counted():
    heard, ignored = [], new_tally()
    listener = GuardedListener(heard.append, DoubleGuard(GuardTimes()), ignored)
    events = [LinkUp("p", 0.0), Pressed(Press.ADVANCE, 1.0), Pressed(Press.ADVANCE, 1.1)]
    for event in events:
        listener(event)
    assert heard[:2] == events[:2]
    assert isinstance(heard[2], PressSwallowed)
    assert ignored[Ignored.TOO_SOON] == 1
