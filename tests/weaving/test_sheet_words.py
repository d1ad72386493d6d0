"""The words for a sheet come back from their text, which a hand may write too; no text does harm."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from companion.weaving.sheet_words import (
    LONGEST_PARAGRAPH,
    MOST_PARAGRAPHS,
    NOTHING_SAID,
    SheetWords,
    parse_words,
    print_words,
    tidy_paragraph,
)

PARAGRAPHS = st.lists(st.text(max_size=60).map(tidy_paragraph).filter(bool), max_size=4).map(tuple)


@given(PARAGRAPHS, PARAGRAPHS)
def test_what_is_written_is_read_again(words, finishing):
    said = SheetWords(words, finishing)
    assert parse_words(print_words(said)) == said


@given(st.text(st.characters(exclude_categories=()), max_size=400))
def test_any_text_is_read_within_bounds_and_can_be_shown(text):
    said = parse_words(text)
    assert all(paragraph.isprintable() for paragraph in (*said.words, *said.finishing))
    assert parse_words(print_words(said)) == said


def test_a_hand_may_leave_the_word_before_a_paragraph_out():
    said = parse_words("Keep the edges slack.\n\nFinishing:  wash  warm \nwords: no: never cold\n")
    assert said == SheetWords(("Keep the edges slack.", "no: never cold"), ("wash warm",))


def test_bounds_hold_and_nothing_is_nothing():
    said = parse_words("\n".join("x" * 5_000 for _ in range(50)))
    assert len(said.words) == MOST_PARAGRAPHS
    assert len(said.words[0]) == LONGEST_PARAGRAPH
    assert not NOTHING_SAID.said
    assert parse_words("") == NOTHING_SAID
