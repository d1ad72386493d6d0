"""Sizes as weavers say them come to what the standard's constants give, and how they were read is told."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.weaving.yarn import yards_per_pound
from companion.weaving.yarn_written import SYSTEMS, read_yarn


@pytest.mark.parametrize(
    ("words", "yards"),
    [
        ("8/2 cotton", 3360),
        ("2/8 cotton", 3360),
        ("20/2 tencel", 8400),
        ("10/2 cotton", 4200),
        ("16/2 linen", 2400),
        ("3,360 yd/lb", 3360),
        ("1680 ypp", 1680),
        ("8/4 cotton", 1680),
        ("8/2", 3360),
        ("2/8", 3360),
        ("5/2 pearl cotton", 2100),
        ("40/2 line linen", 6000),
    ],
)
def test_yards_in_a_pound(words, yards):
    """Hanks of 840 and 300 yd by the constants of ASTM D2260: 840 x 8 / 2, 840 x 20 / 2, 300 x 16 / 2."""
    assert yards_per_pound(read_yarn(words).tex) == pytest.approx(yards, rel=1e-6)


@pytest.mark.parametrize(
    ("words", "tex"),
    [
        ("Nm 16/2", 125),
        ("16/2 nm", 125),
        ("30 tex", 30),
        ("1000 m/kg", 1000),
        ("ne 8/2", 147.635),
        ("12/15 cotton", 738.2),
    ],
)
def test_grams_in_a_kilometre(words, tex):
    """Tex = 1000/Nm (ISO 1144), 590.541/Ne (ASTM D2260); 15 plies of 12s are 15 x 590.541 / 12."""
    assert read_yarn(words).tex == pytest.approx(tex, rel=1e-3)


@pytest.mark.parametrize(
    ("words", "yards", "off"),
    [("60/2 silk", 14_880, 0.001), ("22/2 cottolin", 3_250, 0.02), ("8/4 carpet warp", 1_600, 0.06)],
)
def test_fibres_that_borrow_a_system(words, yards, off):
    """What is printed on cones of such yarn: from memory."""
    assert yards_per_pound(read_yarn(words).tex) == pytest.approx(yards, rel=off)


def test_how_a_size_was_read_is_told_with_its_source():
    assert read_yarn("8/2 cotton").read_as == "cotton count: hanks of 840 yd in a pound (ASTM D2260)"
    assert read_yarn("2/8 cotton").read_as.startswith("read as 2 plies of size 8, the same as 8/2; cotton count")
    assert read_yarn("12/15 cotton").read_as.startswith("15 plies of size 12; ")
    assert read_yarn("2/8").read_as.startswith("read as 2 plies of size 8, the same as 8/2; no fibre is named")
    assert all(system.source for system in SYSTEMS.values())


@pytest.mark.parametrize(("wraps", "yards"), [("18 wpi", 1800), ("30 wpi", 3360)])
def test_hand_wrapped_yarn_is_a_range_that_holds_what_weavers_find(wraps, yards):
    """18 wraps an inch with some 1,800 yd/lb; 8/2 cotton, 3,360 yd/lb, wraps about 30: common practice, no source."""
    read = read_yarn(wraps)
    assert read.is_estimate
    assert yards_per_pound(read.most_tex) <= yards <= yards_per_pound(read.least_tex)
    assert read.least_tex < read.tex < read.most_tex


@pytest.mark.parametrize(
    "words",
    ["7,5 tex", "Nm 7,5/2", "8,2 cotton", "3,36 yd/lb", "33,600,00 ypp", "1000,5 m/kg", "8,2", "16/2,5 linen", "8,"],
)
def test_a_decimal_comma_is_not_taken_for_one_of_thousands(words):
    with pytest.raises(ValueError, match=r"three digits; write such as 7\.5 tex or 8/2 cotton"):
        read_yarn(words)


@pytest.mark.parametrize(
    "words", ["", "8", "8/0", "8/1.5", "8/2 mohair-ish", "0 tex", "8/0 cotton", "8/2 tex", "8/2 wpi", "8/1.5 cotton"]
)
def test_what_is_no_size_is_told(words):
    with pytest.raises(ValueError, match=r"write such as|a stroke stands|plies are whole"):
        read_yarn(words)


@pytest.mark.parametrize("words", ["2/24 wool", "20/2 merino", "alpaca"])
def test_fibres_that_are_numbered_in_several_ways_are_not_guessed_at(words):
    with pytest.raises(ValueError, match="numbered in several ways; write such as 2/24 worsted"):
        read_yarn(words)


@given(st.integers(5, 80), st.integers(1, 4))
def test_number_and_plies_may_stand_in_either_order(number, plies):
    assert read_yarn(f"{number}/{plies} cotton").tex == read_yarn(f"{plies}/{number} cotton").tex
