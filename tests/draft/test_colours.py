"""Colours have words and codes, and go from one to the other and back."""

from __future__ import annotations

import pytest
from hypothesis import given

from companion.draft.colours import name_colours, parse_colour, print_colour
from companion.draft.model import Colour
from companion.draft.shorthand import parse_shorthand
from tests.draft.random_drafts import colours


@given(colours)
def test_a_printed_colour_is_read_as_the_same(colour):
    assert parse_colour(print_colour(colour)) == colour


@pytest.mark.parametrize(
    ("text", "colour"),
    [
        # Codes of the HTML colours, from memory.
        ("red", (255, 0, 0)),
        ("Navy", (0, 0, 128)),
        ("#c0ffee", (192, 255, 238)),
        ("C0FFEE", (192, 255, 238)),
        ("reddish", None),
        ("#12345", None),
        ("#1234567", None),
    ],
)
def test_words_and_codes(text, colour):
    assert parse_colour(text) == colour


def test_a_colour_is_called_by_the_nearest_word_and_numbered_where_it_comes_again():
    assert name_colours([Colour(10, 10, 120), Colour(250, 250, 250), Colour(0, 0, 110)]) == ["navy", "white", "navy2"]


@given(colours)
def test_a_name_by_colour_can_be_typed_in_shorthand(colour):
    (name,) = name_colours([colour])
    assert parse_shorthand(f"yarn: {name} #000000\nthreading: 1\nwarp: {name}").warp == (0,)
