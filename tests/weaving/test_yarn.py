"""Yarn counts against the printed constants and the worked examples of old handbooks."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.weaving.yarn import (
    Count,
    closest_sett,
    grams,
    tex_of,
    tex_of_wraps,
    wraps_per_cm,
    yards_per_pound,
)

DIRECT = (Count.TEX, Count.DTEX, Count.DENIER)


def number_in(count, tex):
    """The number of a yarn in a system, worked out from what its number 1 is: weights go up with it, lengths down."""
    return tex / tex_of(1, count) if count in DIRECT else tex_of(1, count) / tex


@pytest.mark.parametrize(
    ("count", "product"),
    [
        (Count.COTTON, 590.541),
        (Count.WORSTED, 885.812),
        (Count.WOOLLEN_RUN, 310.034),
        (Count.LINEN_LEA, 1653.52),
    ],
)
def test_tex_times_an_indirect_count_is_the_constant_of_the_standard(count, product):
    # ASTM D2260-03(2013), Table 1, to the six digits printed there.
    assert f"{tex_of(1, count):.6g}" == f"{product:g}"


def test_denier_is_nine_times_tex_and_the_other_direct_counts():
    # ASTM D2260: den = 9 tex; ISO 1144: tex is g/km, dtex g/10 km; tex = 1000/Nm.
    assert number_in(Count.DENIER, 10) == pytest.approx(90)
    assert number_in(Count.DTEX, 10) == pytest.approx(100)
    assert tex_of(40, Count.METRIC) == pytest.approx(25)


def test_the_worked_examples_of_the_standard():
    # ASTM D2260-03(2013): 10s cotton is 15s worsted; 30 tex is 19.7s cotton; run = 0.525 cotton; lea = 2.8 cotton.
    assert number_in(Count.WORSTED, tex_of(10, Count.COTTON)) == pytest.approx(15)
    assert number_in(Count.COTTON, 30) == pytest.approx(19.7, abs=0.05)
    assert number_in(Count.WOOLLEN_RUN, tex_of(1, Count.COTTON)) == pytest.approx(0.525)
    assert number_in(Count.WOOLLEN_RUN, tex_of(1, Count.WORSTED)) == pytest.approx(0.35)
    assert number_in(Count.LINEN_LEA, tex_of(1, Count.COTTON)) == pytest.approx(2.8)


def test_twenties_cotton_in_other_counts():
    # C.P. Brooks, Cotton Manufacturing (1888), p. 91: 20s cotton = 30s worsted = 56s linen.
    tex = tex_of(20, Count.COTTON)
    assert number_in(Count.WORSTED, tex) == pytest.approx(30)
    assert number_in(Count.LINEN_LEA, tex) == pytest.approx(56)


@pytest.mark.parametrize(
    ("strands", "resulting"),
    [
        ((80, 80), 40),
        ((40, 20), 13 + 1 / 3),
        ((40, 80, 120), 21.81),
        ((300, 300, 300), 100),
    ],
)
def test_plied_cotton_counts_of_brooks(strands, resulting):
    # C.P. Brooks, Cotton Manufacturing (1888), p. 91.
    plied = sum(tex_of(strand, Count.COTTON) for strand in strands)
    assert number_in(Count.COTTON, plied) == pytest.approx(resulting, abs=0.01)


def test_plied_counts_of_taylor_and_davis():
    # J.T. Taylor, Cotton Weaving and Designing, 6th ed., p. 239: two-ply 40s has
    # 20 hanks to the pound; 60s with 40s is 24s.
    assert number_in(Count.COTTON, tex_of(40, Count.COTTON, plies=2)) == pytest.approx(20)
    both = tex_of(60, Count.COTTON) + tex_of(40, Count.COTTON)
    assert number_in(Count.COTTON, both) == pytest.approx(24)
    # W. Davis, Hosiery Manufacture, Example 30, p. 22: 64s, 48s and 32s twisted give 14 10/13.
    three = sum(tex_of(number, Count.COTTON) for number in (64, 48, 32))
    assert number_in(Count.COTTON, three) == pytest.approx(14 + 10 / 13)


def test_a_length_weighs_what_brooks_says():
    # C.P. Brooks, Cotton Manufacturing (1888), p. 91: 9,240 yards of 44s weigh a quarter of a pound.
    assert grams(9240 * 0.9144, tex_of(44, Count.COTTON)) == pytest.approx(453.59237 / 4)


@pytest.mark.parametrize(
    ("cotton", "diameters"), [(15, 106.5), (26, 140.5), (32, 156), (60, 213), (78, 243), (200, 390)]
)
def test_threads_side_by_side_in_an_inch_by_taylor(cotton, diameters):
    # J.T. Taylor, Cotton Weaving and Designing, 6th ed., p. 453: the root of the yards per pound less 5 %.
    tex = tex_of(cotton, Count.COTTON)
    assert wraps_per_cm(tex, firmness=0.95) * 2.54 == pytest.approx(diameters, abs=1)


def test_the_closest_sett_by_ashenhurst():
    # A summary of T.R. Ashenhurst: 3,360 yards a pound, 52 side by side, plain 26, 2/2 twill 34 (34.78, cut short).
    tex = tex_of(4, Count.COTTON)
    assert yards_per_pound(tex) == pytest.approx(3360)
    side_by_side = wraps_per_cm(tex) * 2.54
    assert int(side_by_side) == 52
    assert int(closest_sett(side_by_side, 2, 2)) == 26
    assert int(closest_sett(side_by_side, 4, 2)) == 34


@given(st.sampled_from(Count), st.floats(0.1, 1000), st.integers(1, 6))
def test_a_count_read_back_is_the_same(count, number, plies):
    tex = tex_of(number, count, plies)
    resulting = number * plies if count in DIRECT else number / plies
    assert number_in(count, tex) == pytest.approx(resulting)


@given(st.floats(1, 500), st.sampled_from([0.84, 0.9, 0.95]))
def test_wraps_read_back_are_the_same(tex, firmness):
    assert tex_of_wraps(wraps_per_cm(tex, firmness), firmness) == pytest.approx(tex)


@pytest.mark.parametrize("number", [0, -3, math.nan])
def test_a_count_must_be_above_nought(number):
    with pytest.raises(ValueError, match="above 0"):
        tex_of(number, Count.COTTON)
