"""The cheapest reading: against every way of writing short words, and against itself with all stretches known."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.repeat_search import read_repeats
from companion.draft.repeat_tables import StretchTable, palindrome_radii
from companion.draft.repeats import MARK_COST, Back, Repeat, Series, SymbolRun, Turn, cost
from tests.draft.test_repeats import READINGS
from tests.oracles.chanting import all_words_in_one, cheapest
from tests.oracles.reading_expanded import expand

CHANTS = READINGS.map(expand)


def check_reading(sequence, reading):
    assert [reading.items[symbol] for symbol in expand(reading.part)] == list(sequence)
    assert cost(reading.part) == reading.cost


@pytest.mark.parametrize("letters", ["ab", "abc"])
def test_every_word_up_to_ten_letters_is_read_as_cheaply_as_can_be(letters):
    """All 2,046 words of two letters and all 88,572 of three, in one table over a sequence that holds them all."""
    expected = cheapest(letters, 10)
    sequence = all_words_in_one(letters, 10)
    table = StretchTable([letters.index(letter) for letter in sequence], 10)
    met = set()
    for length in range(1, 11):
        for start in range(len(sequence) - length + 1):
            word = sequence[start : start + length]
            assert table.cost(start, length) == expected[word], word
            met.add(word)
    assert len(met) == len(expected) == sum(len(letters) ** length for length in range(1, 11))


def test_every_word_of_two_letters_up_to_seven_is_given_a_reading_that_costs_so_little():
    for word, least in cheapest("ab", 7).items():
        reading = read_repeats(word)
        check_reading(word, reading)
        assert reading.cost == least
        assert reading.exact


@settings(max_examples=60, deadline=None)
@given(CHANTS | st.lists(st.integers(0, 3), max_size=60))
def test_a_reading_expands_to_the_very_sequence(sequence):
    reading = read_repeats(sequence)
    check_reading(sequence, reading)
    assert reading.exact


@settings(max_examples=40, deadline=None)
@given(READINGS)
def test_no_reading_that_was_written_down_is_cheaper_than_the_one_found(written):
    assert read_repeats(expand(written)).cost <= cost(written)


@settings(max_examples=80, deadline=None)
@given(
    st.one_of(
        st.lists(st.integers(0, 2), min_size=1, max_size=90),
        st.lists(CHANTS, min_size=1, max_size=4).map(lambda parts: sum(parts, ())),
        st.builds(lambda body, times, rest: body * times + rest, CHANTS, st.integers(2, 6), CHANTS),
    ).filter(lambda sequence: len(sequence) <= 400),
    st.sampled_from([4, 8, 16]),
)
def test_a_window_gives_a_true_reading_and_says_exact_only_when_it_is(sequence, window):
    """The search for long treadlings, made to work on short ones, against the table that knows every stretch."""
    found = read_repeats(sequence, exact_picks=0, window=window)
    check_reading(sequence, found)
    least = read_repeats(sequence).cost
    assert found.cost >= least
    if found.exact:
        assert found.cost == least


def test_a_long_treadling_is_read_section_by_section_even_when_nobody_named_the_sections():
    """A border, twill with points, tabby; four times, with hems: what was chanted comes back. 1,324 picks."""
    hem = [1, 2] * 12
    twill = [1, 2, 3, 4, 3, 2] * 40
    border = [5, 1, 5, 2, 6, 3, 6, 4] * 5 + [7, 8]
    tabby = [9, 8] * 15
    sequence = hem + (border + twill + tabby) * 4 + hem + [3]
    found = read_repeats(sequence)
    check_reading(sequence, found)
    # Two hems (2 picks, a mark), the body (8 + 2 + point of 4 + 2 picks; marks: x5, point, x40, x15, x4), and a pick.
    assert found.cost <= 2 * (2 * 2 + 3) + (8 + 2 + 4 + 2) * 2 + 5 * 3 + 2


def test_a_treadling_without_any_order_is_read_too():
    """A thousand picks of which hardly two in a row agree: many parts side by side, and none marked."""
    chance = random.Random(7)
    sequence = [chance.randrange(40) for _ in range(1_000)]
    check_reading(sequence, read_repeats(sequence))


def test_ten_thousand_picks_with_long_repeats_are_read_by_their_structure():
    """The body of 332 picks is longer than the window, so this takes the search for long repeats."""
    body = [1, 2, 3, 4] * 25 + [4, 3, 2, 1] * 25 + [5, 6, 5, 7] * 33
    sequence = body * 30 + [8]
    found = read_repeats(sequence)
    check_reading(sequence, found)
    # Either as written, (4 picks + mark) three times, a mark and a pick; or the first two as one turned back.
    assert found.cost <= 3 * (4 * 2 + 3) + 3 + 2


@pytest.mark.parametrize("repeat", ["abcd", "abcdcb", "a", "ab"])
def test_a_long_treadling_of_one_repeat_is_known_to_be_read_at_its_cheapest(repeat):
    """However long it is turned or repeated: with fewer marks too much would have to be written."""
    reading = read_repeats(repeat * 400, exact_picks=0, window=64)
    assert reading.exact
    assert reading.cost == read_repeats(repeat * 20).cost


def test_a_treadling_turned_back_beyond_the_window_is_found():
    forth = [1, 2, 3] * 120 + [4, 5] * 130 + [6, 1, 7]
    found = read_repeats(forth + forth[::-1])
    assert found.cost <= read_repeats(forth).cost + MARK_COST


@pytest.mark.parametrize(
    ("sequence", "part"),
    [
        ("", SymbolRun(())),
        ("aa", SymbolRun((0, 0))),
        ("aba", SymbolRun((0, 1, 0))),
        ("abab", Repeat(SymbolRun((0, 1)), 2)),
        ("abcdcb" * 8, Repeat(Back(SymbolRun((0, 1, 2, 3)), Turn.POINT), 8)),
        ("abcdabcdabcde", Series((Repeat(SymbolRun((0, 1, 2, 3)), 3), SymbolRun((4,))))),
        ("abcdefedcba", Back(SymbolRun((0, 1, 2, 3, 4, 5)), Turn.ONCE)),
    ],
)
def test_among_equals_the_reading_that_a_weaver_would_chant(sequence, part):
    assert read_repeats(sequence).part == part


@given(st.lists(st.integers(0, 1), max_size=25))
def test_palindromes_are_as_wide_as_they_can_be(symbols):
    odd, even = palindrome_radii(symbols)
    n = len(symbols)
    for at in range(n):
        assert odd[at] == max(
            r
            for r in range(1, n + 1)
            if at - r + 1 >= 0 and at + r <= n and is_palindrome(symbols[at - r + 1 : at + r])
        )
        assert even[at] == max(
            r for r in range(n + 1) if at - r >= 0 and at + r <= n and is_palindrome(symbols[at - r : at + r])
        )


def is_palindrome(symbols):
    return symbols == symbols[::-1]
