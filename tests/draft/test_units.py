"""Measures in words, checked against the exact factors of NIST Special Publication 811, appendix B."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.units import (
    Units,
    counted,
    density_number,
    length_words,
    measured_words,
    picks_words,
    rough_words,
    short_words,
    size_words,
    weight_amount,
    yarn_amount,
    yarn_words,
)


@pytest.mark.parametrize(("number", "words"), [(0, "0 picks"), (1, "1 pick"), (2, "2 picks"), (12_345, "12,345 picks")])
def test_a_number_goes_with_its_noun(number, words):
    assert counted(number, "pick") == words


def test_lengths_are_read_in_the_weavers_units():
    assert [length_words(45.72, units) for units in Units] == ["45.72 cm", "18 in"]
    assert [measured_words(30.48, units) for units in Units] == ["30.5 cm", "12.0 in"]
    assert [rough_words(100, units) for units in Units] == ["100 cm", "39 in"]
    assert measured_words(None) == "not known"


def test_what_is_lacking_is_never_rounded_down():
    assert [short_words(20.01, units) for units in Units] == ["21 cm", "8 in"]
    assert [short_words(20.32, units) for units in Units] == ["21 cm", "8 in"]


def test_density_goes_the_other_way_than_length():
    assert density_number(10, Units.INCH) == pytest.approx(25.4)
    assert [picks_words(24 / 2.54, ".4g", units) for units in Units] == ["9.449 picks per cm", "24 picks per inch"]


def test_yarn_is_told_in_metres_and_grams_or_yards_and_ounces():
    assert [yarn_words(9.144, units) for units in Units] == ["9.144 m", "10 yd"]
    assert yarn_amount(0.9144, Units.INCH) == (pytest.approx(1), "yd")
    assert weight_amount(453.59237, Units.INCH) == (pytest.approx(16), "oz")


def test_the_size_of_a_yarn_is_grams_a_kilometre_or_yards_a_pound():
    """8/2 cotton: 8 x 840 yd/lb on two plies is 3,360 yd/lb; 590.541 / 4 = 147.6 tex (ASTM D2260-03, table 1)."""
    assert [size_words(590.541 / 4, units) for units in Units] == ["147.6 tex", "3,360 yd/lb"]


@given(st.integers(1, 10_000))
def test_whole_inches_come_through_whole(inches):
    assert length_words(inches * 2.54, Units.INCH) == f"{inches:g} in"
