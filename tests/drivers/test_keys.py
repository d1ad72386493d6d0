from __future__ import annotations

from drivers.events import Press, Pressed
from drivers.keys import USUAL_KEYS, KeyLesson, KeyPedal
from drivers.tally import Ignored, new_tally

PAGE_DOWN, PAGE_UP, ESCAPE = 281, 280, 27


def test_a_held_key_speaks_once_and_its_repeats_are_counted():
    ignored = new_tally()
    pedal = KeyPedal(USUAL_KEYS, ignored)
    told = [pedal.key_down(PAGE_DOWN, at_s) for at_s in (1.0, 1.5, 1.53)]
    pedal.key_up(PAGE_DOWN)
    told.append(pedal.key_down(PAGE_DOWN, 2.0))
    assert told == [Pressed(Press.ADVANCE, 1.0), None, None, Pressed(Press.ADVANCE, 2.0)]
    assert ignored[Ignored.KEY_REPEAT] == 2


def test_keys_without_a_meaning_are_left_alone_and_counted():
    ignored = new_tally()
    assert KeyPedal(USUAL_KEYS, ignored).key_down(ESCAPE, 1.0) is None
    assert ignored[Ignored.UNMAPPED_KEY] == 1


def test_a_key_that_was_down_when_the_window_lost_the_keyboard_speaks_again():
    pedal = KeyPedal(USUAL_KEYS, new_tally())
    pedal.key_down(PAGE_UP, 1.0)
    pedal.focus_lost()
    assert pedal.key_down(PAGE_UP, 2.0) == Pressed(Press.BACK, 2.0)


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
