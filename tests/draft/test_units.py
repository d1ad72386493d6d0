"""Measures in words, checked against the exact factors of NIST Special Publication 811, appendix B."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.unit_readings import usual_density, usual_length, usual_warp, warp_reading
from companion.draft.units import (
    Amount,
    Units,
    counted,
    density_number,
    length_words,
    long_words,
    measured_words,
    measured_yarn_words,
    on_tape,
    picks_words,
    rough_words,
    sentence,
    short_words,
    tape_words,
    weight_range_words,
    weight_words,
    wound_words,
    yarn_range_words,
    yarn_size_words,
    yarn_words,
)


@pytest.mark.parametrize(("number", "words"), [(0, "0 picks"), (1, "1 pick"), (2, "2 picks"), (12_345, "12,345 picks")])
def test_a_number_goes_with_its_noun(number, words):
    assert counted(number, "pick") == words


def test_lengths_are_read_in_the_weavers_units():
    assert [length_words(45.72, units) for units in Units] == ["45.72 cm", "18 in"]
    assert [measured_words(30.48, units) for units in Units] == ["30.5 cm", "12.0 in"]
    assert [rough_words(100, units) for units in Units] == ["100 cm", "39 in"]
    assert [measured_words(None, units) for units in Units] == ["not known"] * 2


def test_what_is_lacking_is_never_rounded_down():
    assert [short_words(20.01, units) for units in Units] == ["21 cm", "8 in"]
    assert [short_words(20.32, units) for units in Units] == ["21 cm", "8 in"]


def test_a_tape_is_read_to_a_millimetre_or_an_eighth_of_an_inch():
    assert [tape_words(12.34, units) for units in Units] == ["12.3 cm", "4.875 in"]


def test_density_goes_the_other_way_than_length():
    assert density_number(10, Units.INCH) == pytest.approx(25.4)
    assert [picks_words(24 / 2.54, units) for units in Units] == ["9.449 picks per cm", "24 picks per inch"]


def test_yarn_is_told_in_metres_and_grams_or_yards_and_ounces():
    assert [yarn_words(9.144, units) for units in Units] == ["9.144 m", "10 yd"]
    assert [measured_yarn_words(91.44, units) for units in Units] == ["91.4 m", "100.0 yd"]
    assert [weight_words(453.59237, units) for units in Units] == ["453.6 g", "1.00 lb"]
    assert [weight_words(None, units) for units in Units] == ["not known"] * 2


def test_ounces_become_pounds_from_one_on_and_hundredths_below_one():
    """1 lb = 453.59237 g exactly, 16 oz in it (NIST Special Publication 811, appendix B)."""
    ounce = 453.59237 / 16
    assert [weight_words(number * ounce, Units.INCH) for number in (0.25, 15.9, 16, 20)] == [
        "0.25 oz",
        "15.9 oz",
        "1.00 lb",
        "1.25 lb",
    ]
    assert weight_range_words((15 * ounce, 16 * ounce, 17 * ounce), Units.INCH) == "1.00 lb (0.94 to 1.06)"


def test_a_warp_is_told_as_it_is_measured_and_as_it_is_wound():
    """4.5 yd are 162 in and 4.1148 m: 1 in = 2.54 cm, 1 yd = 0.9144 m exactly."""
    assert [long_words(411.48, units) for units in Units] == ["411.5 cm", "162.0 in (4.50 yd)"]
    assert [wound_words(411.48, units) for units in Units] == ["411.48 cm", "162 in (4.50 yd)"]
    assert long_words(None, Units.INCH) == "not known"


def test_a_warp_is_typed_in_yards_by_who_measures_in_inches():
    assert warp_reading(Units.METRIC).amount(450) == 450
    assert warp_reading(Units.INCH).amount(4.5) == pytest.approx(411.48)
    assert (usual_warp(300, Units.METRIC), usual_warp(300, Units.INCH)) == (300, pytest.approx(3.5 * 91.44))


def test_a_likely_amount_stands_between_its_bounds_and_keeps_a_decimal_where_it_is_small():
    metres = (45.72, 91.44, 182.88)
    assert [yarn_range_words(metres, units) for units in Units] == ["91 m (46 to 183)", "100 yd (50 to 200)"]
    grams = (5.0, 5.5, 6.0)
    assert [weight_range_words(grams, units) for units in Units] == ["5.5 g (5.0 to 6.0)", "0.19 oz (0.18 to 0.21)"]
    assert [yarn_range_words(None, units) for units in Units] == ["not known"] * 2


def test_the_size_of_a_yarn_is_grams_a_kilometre_or_yards_a_pound():
    """8/2 cotton: 8 x 840 yd/lb on two plies is 3,360 yd/lb; 590.541 / 4 = 147.6 tex (ASTM D2260-03, table 1)."""
    assert [yarn_size_words(590.541 / 4, units) for units in Units] == ["147.6 tex", "3,360 yd/lb"]


@given(st.integers(1, 10_000))
def test_whole_inches_come_through_whole(inches):
    assert length_words(inches * 2.54, Units.INCH) == f"{inches:g} in"


@given(st.integers(1, 4_000))
def test_a_tape_in_inches_stands_at_eighths_and_in_cm_at_millimetres(number):
    assert on_tape(number / 10 + 0.04, Units.METRIC) == number / 10
    assert on_tape((number + 0.4) / 8 * 2.54, Units.INCH) == pytest.approx(number / 8 * 2.54)


@pytest.mark.parametrize(("cm", "inches"), [(5, 2), (30, 12), (45, 18), (60, 24), (90, 36), (120, 48), (300, 120)])
def test_what_a_dial_begins_at_is_round_in_the_weavers_units(cm, inches):
    assert usual_length(cm, Units.METRIC) == cm
    assert usual_length(cm, Units.INCH) == pytest.approx(inches * 2.54)


def test_a_usual_density_is_whole_in_the_weavers_units():
    assert usual_density(8, Units.METRIC) == 8
    assert density_number(usual_density(8, Units.INCH), Units.INCH) == pytest.approx(20)


def test_a_sentence_says_its_amounts_in_the_units_asked_for():
    parts = ("a warp of ", Amount(254), " at ", Amount(10 / 2.54, picks_words))
    assert sentence(parts, Units.METRIC) == "a warp of 254 cm at 3.937 picks per cm"
    assert sentence(parts, Units.INCH) == "a warp of 100 in at 10 picks per inch"
    assert str(parts[1]) == "254 cm"
