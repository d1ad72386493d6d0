"""A dial is round in the weaver's units, wherever it is turned to, and stays within its bounds."""

from __future__ import annotations

import pytest

from companion.draft.units import Units
from companion.present.dials import DialKind
from companion.present.new_warp import DIALS, Fact


@pytest.mark.parametrize(
    ("fact", "metric", "inch"),
    [
        (Fact.LENGTH, ("300 cm", "10 cm", "100 cm"), ("120 in", "4 in", "36 in")),
        (Fact.WIDTH, ("50 cm", "1 cm", "10 cm"), ("20 in", "0.25 in", "4 in")),
        (Fact.WASTE, ("60 cm", "5 cm", "20 cm"), ("24 in", "2 in", "8 in")),
        (Fact.PICKS_PER_CM, ("8", "0.5 per cm", "5 per cm"), ("20", "1 per inch", "10 per inch")),
        (Fact.TAKE_UP, ("10 %", "1 %", "5 %"), ("10 %", "1 %", "5 %")),
    ],
)
def test_a_dial_begins_and_goes_round_in_either_units(fact, metric, inch):
    dial = DIALS[fact]
    for units, words in ((Units.METRIC, metric), (Units.INCH, inch)):
        told = dial.words(dial.begun_at(units), units), *(dial.step_words(step, units) for step in dial.steps)
        assert told == words


@pytest.mark.parametrize("units", Units)
@pytest.mark.parametrize("fact", Fact)
def test_many_steps_forth_and_back_leave_no_dust(fact, units):
    dial = DIALS[fact]
    value = begun = dial.begun_at(units)
    for sign in (1, -1):
        for _ in range(7):
            value = dial.turned(value, sign * dial.steps[0], units)
    assert dial.words(value, units) == dial.words(begun, units)


@pytest.mark.parametrize("units", Units)
@pytest.mark.parametrize("fact", Fact)
def test_no_dial_leaves_its_bounds(fact, units):
    dial = DIALS[fact]
    assert dial.turned(dial.least, -dial.steps[0], units) == dial.least
    assert dial.turned(dial.most, dial.steps[1], units) == dial.most


def test_every_kind_of_dial_is_in_use():
    assert {dial.kind for dial in DIALS.values()} == set(DialKind)
