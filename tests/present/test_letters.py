"""The board writes what its keys say, on every arrangement, and keeps within its length."""

from __future__ import annotations

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.present.letters import MOST_LETTERS, KeyAction, KeyboardLayout, Writing, rows_of


def keys_of(layout, writing):
    return [key for row in rows_of(layout, writing) for key in row]


def press(writing, layout, words):
    return writing.pressed(next(key for key in keys_of(layout, writing) if key.words == words))


@pytest.mark.parametrize("layout", KeyboardLayout)
def test_every_letter_and_digit_has_exactly_one_key_and_every_key_other_words(layout):
    for writing, wanted in ((Writing(capital=False), string.ascii_lowercase), (Writing(signs=True), string.digits)):
        words = [key.words for key in keys_of(layout, writing)]
        assert len(set(words)) == len(words)
        assert set(wanted) <= set(words)


@pytest.mark.parametrize("layout", KeyboardLayout)
def test_the_first_six_letters_are_the_layouts_name(layout):
    top = rows_of(layout, Writing(capital=False))[0]
    assert "".join(key.letter for key in top[:6]) == layout.value


@pytest.mark.parametrize("layout", KeyboardLayout)
def test_a_row_is_short_enough_for_thumbs_on_the_smallest_screen(layout):
    for signs in (False, True):
        for row in rows_of(layout, Writing(signs=signs)):
            room = 800 - 2 * 6 - 6 * (len(row) - 1)
            smallest = min(key.share for key in row) / sum(key.share for key in row)
            assert room * smallest >= 48


def test_words_are_written_key_by_key_with_a_capital_first():
    writing = Writing()
    for words in ("B", "e", "a", "t", "space", "o", "k", "123", "2", "abc", "Delete"):
        writing = press(writing, KeyboardLayout.QWERTY, words)
    assert writing.text == "Beat ok"
    assert press(press(writing, KeyboardLayout.QWERTY, "Aa"), KeyboardLayout.QWERTY, "D").text == "Beat okD"


def test_accents_of_the_language_are_there_and_the_sharp_s_stays_one_letter():
    assert {"Ä", "Ö", "Ü", "ß"} <= {key.words for key in keys_of(KeyboardLayout.QWERTZ, Writing())}
    assert "é" in {key.words for key in keys_of(KeyboardLayout.AZERTY, Writing(capital=False))}
    assert {"è", "à", "ç", "ù"} <= {
        key.words for key in keys_of(KeyboardLayout.AZERTY, Writing(capital=False, signs=True))
    }


@given(st.lists(st.integers(0, 60), max_size=40), st.sampled_from(KeyboardLayout))
def test_whatever_is_pressed_the_text_is_what_the_letters_and_deletes_make(presses, layout):
    writing, expected = Writing(), ""
    for number in presses:
        keys = keys_of(layout, writing)
        key = keys[number % len(keys)]
        writing = writing.pressed(key)
        expected = expected[:-1] if key.press is KeyAction.DELETE else expected + key.letter
    assert writing.text == expected


@given(st.text(max_size=300))
def test_a_real_keyboard_writes_no_more_than_fits_and_nothing_that_cannot_be_seen(typed):
    text = Writing("so ").typed(typed).text
    assert len(text) <= MOST_LETTERS
    assert text.isprintable()
    assert text == ("so " + "".join(one for one in typed if one.isprintable()))[:MOST_LETTERS]
