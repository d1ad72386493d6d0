from __future__ import annotations

from drivers.events import Press, Pressed
from drivers.keys import USUAL_KEYS, KeyLesson, KeyPedal
from drivers.tally import Ignored, new_tally

PAGE_DOWN, PAGE_UP, ESCAPE, TAB = 281, 280, 27, 9


class Keys:
    """Keys with what they told, in order, and what they ignored."""

    def __init__(self, double_tap=None):
        self.told, self.ignored = [], new_tally()
        self.pedal = KeyPedal(USUAL_KEYS, self.told.append, self.ignored, double_tap=double_tap)

    def tap(self, code, at_s):
        self.pedal.key_down(code, at_s)
        self.pedal.key_up(code, at_s + 0.05)


def test_a_held_key_speaks_once_and_its_repeats_are_counted():
    keys = Keys()
    for at_s in (1.0, 1.5, 1.53):
        assert keys.pedal.key_down(PAGE_DOWN, at_s)
    keys.pedal.key_up(PAGE_DOWN, 1.6)
    keys.pedal.key_down(PAGE_DOWN, 2.0)
    assert keys.told == [Pressed(Press.ADVANCE, 1.0), Pressed(Press.ADVANCE, 2.0)]
    assert keys.ignored[Ignored.KEY_REPEAT] == 2


def test_keys_without_a_meaning_are_left_alone_and_counted():
    keys = Keys()
    assert not keys.pedal.key_down(TAB, 1.0)
    assert (keys.told, keys.ignored[Ignored.UNMAPPED_KEY]) == ([], 1)


def test_a_key_that_was_down_when_the_window_lost_the_keyboard_speaks_again():
    keys = Keys()
    keys.pedal.key_down(PAGE_UP, 1.0)
    keys.pedal.focus_lost()
    keys.pedal.key_down(PAGE_UP, 2.0)
    assert keys.told[1:] == [Pressed(Press.BACK, 2.0)]


def test_a_key_that_went_down_for_another_speaks_only_when_it_goes_down_again():
    for double_tap in (None, Press.HOLD):
        keys = Keys(double_tap)
        keys.pedal.key_taken(PAGE_DOWN)
        assert keys.pedal.key_down(PAGE_DOWN, 1.5)
        keys.pedal.key_up(PAGE_DOWN, 1.6)
        keys.pedal.time_passed(2.5)
        assert keys.told == []
        keys.tap(PAGE_DOWN, 3.0)
        keys.pedal.time_passed(4.0)
        assert [pressed.press for pressed in keys.told] == [Press.ADVANCE]


def test_two_quick_taps_are_a_double_tap_where_one_is_listened_for():
    keys = Keys(double_tap=Press.HOLD)
    keys.tap(PAGE_DOWN, 1.0)
    keys.tap(32, 1.2)
    assert keys.told == [Pressed(Press.HOLD, 1.2)]


def test_a_single_tap_is_told_when_no_second_one_has_come():
    keys = Keys(double_tap=Press.HOLD)
    keys.tap(PAGE_DOWN, 1.0)
    keys.pedal.time_passed(1.2)
    assert keys.told == []
    keys.pedal.time_passed(1.5)
    assert keys.told == [Pressed(Press.ADVANCE, 1.05)]


def test_back_speaks_at_once_even_where_a_double_tap_is_listened_for():
    keys = Keys(double_tap=Press.HOLD)
    keys.pedal.key_down(PAGE_UP, 1.0)
    assert keys.told == [Pressed(Press.BACK, 1.0)]


def test_a_pedal_is_taught_by_pressing_it():
    lesson = KeyLesson()
    assert lesson.asking is Press.ADVANCE
    lesson = lesson.pressed(ESCAPE).pressed(ESCAPE)
    assert lesson.asking is Press.BACK, "the repeat of the first key must not become back"
    lesson = lesson.pressed(PAGE_DOWN)
    assert lesson.asking is None
    assert lesson.pressed(PAGE_UP).meanings == {ESCAPE: Press.ADVANCE, PAGE_DOWN: Press.BACK}


def test_a_pedal_with_one_key_skips_the_rest():
    lesson = KeyLesson().pressed(PAGE_DOWN).skipped()
    assert lesson.asking is None
    assert lesson.meanings == {PAGE_DOWN: Press.ADVANCE}
