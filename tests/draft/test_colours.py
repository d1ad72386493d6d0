"""Colours have words and codes, and go from one to the other and back."""

from __future__ import annotations

from itertools import product
from math import hypot

import pytest
from hypothesis import given

from companion.draft.colours import difference, lab_of, name_colours, parse_colour, print_colour
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


@pytest.mark.parametrize(
    ("colour", "lab"),
    [
        ((255, 255, 255), (100, 0, 0)),
        ((0, 0, 0), (0, 0, 0)),
        ((255, 0, 0), (53.24, 80.09, 67.20)),
        ((0, 255, 0), (87.73, -86.18, 83.18)),
        ((0, 0, 255), (32.30, 79.19, -107.86)),
        ((128, 128, 128), (53.59, 0, 0)),
    ],
)
def test_lab_values_of_the_primaries(colour, lab):
    """As tables of sRGB in CIE L*a*b*, D65, print them: from memory."""
    assert lab_of(Colour(*colour)) == pytest.approx(lab, abs=0.05)


def test_a_difference_is_a_distance():
    assert difference(Colour(1, 2, 3), Colour(1, 2, 3)) == 0
    assert difference(Colour(255, 255, 255), Colour(0, 0, 0)) == pytest.approx(100, abs=0.05)


@pytest.mark.parametrize(
    ("colour", "word"),
    [
        ((70, 130, 180), "blue"),  # steelblue
        ((30, 70, 130), "blue"),
        ((255, 192, 203), "pink"),
        ((128, 0, 0), "maroon"),
        ((0, 128, 128), "teal"),
        ((46, 139, 87), "green"),  # seagreen
        ((34, 139, 34), "green"),  # forestgreen
        ((100, 149, 237), "blue"),  # cornflowerblue
        ((30, 144, 255), "blue"),  # dodgerblue
        ((72, 61, 139), "blue"),  # darkslateblue
        ((255, 182, 193), "pink"),  # lightpink
        ((219, 112, 147), "pink"),  # palevioletred, which anyone calls pink
        ((119, 136, 153), "grey"),  # lightslategrey
        ((210, 180, 140), "tan"),
        ((255, 140, 0), "orange"),  # darkorange
        ((139, 69, 19), "brown"),  # saddlebrown
        ((165, 42, 42), "brown"),
        ((107, 142, 35), "olive"),  # olivedrab
    ],
)
def test_colours_with_a_name_of_their_own_get_its_plain_word(colour, word):
    """The codes are named colours of W3C, CSS Color Module Level 4, section 6.1 (from memory); two are our own."""
    assert name_colours([Colour(*colour)]) == [word]


@pytest.mark.parametrize(
    ("code", "word"),
    [
        ("bb3f3f", "red"),  # dull red
        ("5b7c99", "blue"),  # slate blue
        ("0652ff", "blue"),  # electric blue
        ("0b4008", "green"),  # hunter green
        ("02ab2e", "green"),  # kelly green
        ("ff5b00", "orange"),  # bright orange
        ("9e43a2", "purple"),  # medium purple
        ("894585", "purple"),  # light eggplant, called so by most
        ("653700", "brown"),
        ("929591", "grey"),
        ("06c2ac", "teal"),  # between turquoise and teal
        ("ffb07c", "peach"),
        ("380282", "purple"),  # indigo
    ],
)
def test_colours_that_many_people_were_asked_about_get_the_word_that_they_gave(code, word):
    """The codes are those of the colour survey of xkcd.com (R. Munroe, 2010; in the public domain)."""
    assert name_colours([Colour(*bytes.fromhex(code))]) == [word]


def test_no_grey_has_much_colour_and_no_colour_is_grey():
    """Chroma is the distance from the grey axis of L*a*b*; words for greys are kept for what lies near it."""
    greys = {"black", "charcoal", "grey", "silver", "white"}
    for part in product(range(0, 256, 51), repeat=3):
        lightness, *chroma = lab_of(Colour(*part))
        (word,) = name_colours([Colour(*part)])
        assert word not in greys or hypot(*chroma) < 22, (part, word, lightness)
        if len(set(part)) == 1:
            assert word in greys


def test_each_word_that_a_yarn_is_called_by_can_be_typed_and_is_called_so_again():
    for word in {name_colours([Colour(*part)])[0] for part in product(range(0, 256, 25), repeat=3)} - {"yarn"}:
        colour = parse_colour(word)
        assert colour is not None, word
        assert name_colours([colour]) == [word]


def test_pink_and_cream_are_not_two_creams_and_two_alike_are_numbered():
    assert name_colours([Colour(255, 192, 203), Colour(245, 236, 210)]) == ["pink", "cream"]
    assert name_colours([Colour(70, 130, 180), Colour(65, 105, 225)]) == ["blue", "blue2"]
