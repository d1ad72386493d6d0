"""Amounts read as people write them come out exact, and what is no amount is told."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.written import read_density, read_length, read_weight


@pytest.mark.parametrize(
    ("text", "cm"),
    [
        ("18 in", 45.72),
        ("4.5yd", 411.48),
        ("60 cm", 60),
        ("4 1/2 in", 11.43),
        ("4½ inches", 11.43),
        ("1/4 in", 0.635),
        ("41/2 in", 52.07),
        ("3'", 91.44),
        ('12"', 30.48),
        ("2 m", 200),
        ("25mm", 2.5),
        (" 1 Yard ", 91.44),
        ("1 yd 2 in", 38 * 2.54),
        ("1yd 2 ft 3 1/2in", 63.5 * 2.54),
        ("3' 6\"", 42 * 2.54),
        ("1 m 5 cm", 105),
    ],
)
def test_a_length_is_read_with_its_unit(text, cm):
    """1 in = 2.54 cm and 1 yd = 0.9144 m exactly (NIST Special Publication 811, appendix B)."""
    assert read_length(text) == read_length(text, "in") == cm


def test_a_number_alone_counts_in_the_unit_that_is_asked_for():
    assert read_length("12", "cm") == 12
    assert read_length("12", "in") == 30.48
    assert read_length("20", "yd") == 1828.8
    assert read_density("24", "in") == pytest.approx(24 / 2.54)
    assert read_density("6", "cm") == 6


@pytest.mark.parametrize(
    ("text", "per_cm"),
    [("24/in", 24 / 2.54), ("24 per inch", 24 / 2.54), ("24 epi", 24 / 2.54), ("20ppi", 20 / 2.54), ("60/10 cm", 6)],
)
def test_a_density_is_read_with_its_length(text, per_cm):
    assert read_density(text, "cm") == read_density(text, "in") == pytest.approx(per_cm, rel=1e-12)


@pytest.mark.parametrize(
    "text",
    ["", "in", "12 parsecs", "1/0 in", "-3 cm", "a cm", "1 2 3 cm", "nan cm", "1e3 cm", "12"],
)
def test_what_is_no_length_is_told(text):
    with pytest.raises(ValueError, match="write such as"):
        read_length(text)


@pytest.mark.parametrize("text", ["2 in 1 yd", "1 yd 2 yd", "1 yd 2", "1 yd 1 ft 1 in 1 mm", "2 3 in"])
def test_units_of_one_length_stand_from_the_largest_down(text):
    with pytest.raises(ValueError, match="write such as"):
        read_length(text, "in")


@pytest.mark.parametrize(
    ("text", "grams"),
    [("8oz", 226.796185), ("1 lb", 453.59237), ("1 lb 8 oz", 680.388555), ("1/2 pound", 226.796185), ("500g", 500),
     ("0.25 kg", 250)],
)  # fmt: skip
def test_a_weight_is_read_with_its_unit(text, grams):
    """1 lb = 453.59237 g exactly, 16 oz to the pound (NIST Special Publication 811, appendix B)."""
    assert read_weight(text) == grams


@pytest.mark.parametrize("text", ["", "8", "oz", "8 in", "-1 g", "8 oz 1 lb"])
def test_what_is_no_weight_is_told(text):
    with pytest.raises(ValueError, match="write such as"):
        read_weight(text)


@pytest.mark.parametrize("text", ["", "/in", "24/0 in", "24/parsec", "-1/in", "inf", "24/./in"])
def test_what_is_no_density_is_told(text):
    with pytest.raises(ValueError, match="write such as"):
        read_density(text, "cm")


@given(st.integers(0, 9999), st.sampled_from([1, 2, 4, 8, 16]), st.data())
def test_inches_and_fractions_of_them_are_read_exactly(whole, parts, data):
    part = data.draw(st.integers(0, parts - 1))
    assert read_length(f"{whole} {part}/{parts} in") == pytest.approx((whole + part / parts) * 2.54, abs=1e-8)
