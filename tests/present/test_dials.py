"""A dial begins round in the weaver's units, says what can be typed, and reads what was typed as what is kept."""

from __future__ import annotations

import pytest

from companion.draft.units import Units
from companion.present.dials import DialKind
from companion.present.new_warp import DIALS, Fact


@pytest.mark.parametrize(
    ("fact", "metric", "inch"),
    [
        (Fact.LENGTH, ("300 cm", "300", "cm"), ("3.5 yd", "3.5", "yd")),
        (Fact.WIDTH, ("50 cm", "50", "cm"), ("20 in", "20", "in")),
        (Fact.WASTE, ("60 cm", "60", "cm"), ("24 in", "24", "in")),
        (Fact.PICKS_PER_CM, ("8", "8", "per cm"), ("20", "20", "per inch")),
        (Fact.TAKE_UP, ("10 %", "10", "%"), ("10 %", "10", "%")),
    ],
)
def test_a_dial_begins_round_in_either_units(fact, metric, inch):
    dial = DIALS[fact]
    for units, words in ((Units.METRIC, metric), (Units.INCH, inch)):
        begun = dial.begun_at(units)
        wanted = dial.wanted("How much", begun, units)
        assert (dial.words(begun, units), wanted.begun, wanted.unit) == words


@pytest.mark.parametrize("units", Units)
@pytest.mark.parametrize("fact", Fact)
def test_what_is_typed_is_kept_and_read_again_as_the_same(fact, units):
    reading = DIALS[fact].reading(units)
    for typed in ("7", "12.5", "33.1"):
        assert reading.number(reading.amount(float(typed))) == typed


@pytest.mark.parametrize("units", Units)
@pytest.mark.parametrize("fact", Fact)
def test_no_number_that_can_be_typed_leaves_the_bounds(fact, units):
    dial = DIALS[fact]
    reading, wanted = dial.reading(units), dial.wanted("How much", dial.begun_at(units), units)
    assert reading.amount(wanted.least) >= dial.least - 1e-9
    assert reading.amount(wanted.most) <= dial.most + 1e-9
    finest = 10**-reading.decimals
    assert reading.amount(wanted.least - finest) < dial.least
    assert reading.amount(wanted.most + finest) > dial.most


def test_every_kind_of_dial_is_in_use():
    assert {dial.kind for dial in DIALS.values()} == set(DialKind)
