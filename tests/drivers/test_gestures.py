from __future__ import annotations

import pytest

from drivers.events import Press
from drivers.gestures import FootSwitch, FootTimes, PedalUse
from drivers.tally import Ignored, new_tally

THREE_WAYS = PedalUse(Press.ADVANCE, Press.BACK, Press.HOLD)


def asked(closed_spans_ms, use=None, until_ms=5000, poll_ms=4):
    """What a foot asks for that is down in these spans of milliseconds: [(press, milliseconds)]."""
    foot = FootSwitch(use or PedalUse(), FootTimes(), new_tally())
    told = []
    for at_ms in range(0, until_ms, poll_ms):
        closed = any(start <= at_ms < end for start, end in closed_spans_ms)
        told += [(pressed.press, at_ms) for pressed in foot.sample(closed, at_ms / 1000)]
    return told


def presses(*arguments, **more):
    return [press for press, _ in asked(*arguments, **more)]


def test_a_tap_is_next_when_the_foot_comes_up():
    ((press, at_ms),) = asked([(1000, 1300)])
    assert press is Press.ADVANCE
    assert 1300 < at_ms <= 1312


def test_a_hold_is_back_while_the_foot_is_still_down_and_nothing_more_when_it_comes_up():
    ((press, at_ms),) = asked([(1000, 3000)])
    assert press is Press.BACK
    assert 1600 <= at_ms <= 1608


@pytest.mark.parametrize(("down_ms", "press"), [(590, Press.ADVANCE), (620, Press.BACK)])
def test_six_tenths_of_a_second_divide_tap_and_hold(down_ms, press):
    assert presses([(1000, 1000 + down_ms)]) == [press]


def test_a_pedal_with_only_a_tap_speaks_when_it_goes_down():
    ((press, at_ms),) = asked([(1000, 3000)], use=PedalUse(Press.BACK, hold=None))
    assert press is Press.BACK
    assert at_ms <= 1012


def test_a_double_tap_is_one_gesture_of_its_own():
    assert presses([(1000, 1160), (1340, 1500)], use=THREE_WAYS) == [Press.HOLD]


def test_two_slow_taps_are_two_taps():
    assert presses([(1000, 1200), (1700, 1900)], use=THREE_WAYS) == [Press.ADVANCE, Press.ADVANCE]


def test_a_single_tap_waits_for_the_second_no_longer_than_it_must():
    ((press, at_ms),) = asked([(1000, 1200)], use=THREE_WAYS)
    assert press is Press.ADVANCE
    assert 1550 < at_ms <= 1560


def test_a_press_in_which_the_device_fell_silent_is_void_and_counted():
    ignored = new_tally()
    foot = FootSwitch(PedalUse(), FootTimes(), ignored)
    heard = [(0, False), (0.1, True), (0.11, True), (3600.0, True), (3600.5, True), (3601.0, False), (3601.5, False)]
    assert [foot.sample(closed, at_s) for at_s, closed in heard] == [[]] * len(heard)
    assert ignored[Ignored.INTERRUPTED_PRESS] == 1
