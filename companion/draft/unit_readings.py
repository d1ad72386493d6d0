"""How amounts are typed as bare numbers in a weaver's units, and which are round: what pads and dials begin with.

The words for them are in `units`.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

from companion.draft.units import CM_PER_INCH, LENGTH, M_PER_YARD, PER_LENGTH, WEIGHT, YARN, Units, tidy


@dataclass(frozen=True, slots=True)
class NumberReading:
    """How amounts of one kind are typed and read as bare numbers in a weaver's units: `sign` stands behind them.

    `decimals` are as many as such an amount is told with, so that eighths of an inch can be.
    """

    sign: str
    decimals: int
    each: float

    def amount(self, number: float) -> float:
        """Return the amount, in metric units, that a number stands for."""
        return tidy(number * self.each)

    def number(self, amount: float) -> str:
        """Return the number that an amount is, as it is typed: `12.5`, `4.875`."""
        return f"{round(amount / self.each, self.decimals):.12g}"

    def least(self, amount: float) -> float:
        """Return the smallest number that can be typed for no less than this amount."""
        return self._at(ceil(tidy(amount / self.each * 10**self.decimals)))

    def most(self, amount: float) -> float:
        """Return the largest number that can be typed for no more than this amount."""
        return self._at(floor(tidy(amount / self.each * 10**self.decimals)))

    def _at(self, steps: int) -> float:
        return steps / float(10**self.decimals)


def length_reading(units: Units) -> NumberReading:
    """Return how lengths are typed: `12.5` cm, `4.875` in."""
    return NumberReading(LENGTH[units].sign, 1 if units is Units.METRIC else 3, LENGTH[units].each)


def warp_reading(units: Units) -> NumberReading:
    """Return how the length of a warp is typed: `450` cm, `4.5` yd."""
    return length_reading(units) if units is Units.METRIC else NumberReading("yd", 3, 100 * M_PER_YARD)


def yarn_reading(units: Units) -> NumberReading:
    """Return how lengths of yarn are typed, in metres or yards."""
    return NumberReading(YARN[units].sign, 1, YARN[units].each)


def density_reading(units: Units) -> NumberReading:
    """Return how ends or picks per length are typed."""
    return NumberReading(PER_LENGTH[units], 1, 1 / LENGTH[units].each)


def weight_reading(units: Units) -> NumberReading:
    """Return how weights are typed, in grams or ounces."""
    return NumberReading(WEIGHT[units].sign, 1, WEIGHT[units].each)


def share_reading() -> NumberReading:
    """Return how shares in percent are typed."""
    return NumberReading("%", 1, 1.0)


def usual_length(cm: float, units: Units) -> float:
    """Return, in cm, the round length nearest to one that is round in cm: `usual_length(60, Units.INCH)` is 24 in.

    In inches: an even number of them, from 100 on a multiple of ten.
    """
    return (
        cm if units is Units.METRIC else _round_to(cm / CM_PER_INCH, 2 if cm < 100 * CM_PER_INCH else 10, CM_PER_INCH)
    )


def usual_warp(cm: float, units: Units) -> float:
    """Return, in cm, the round length of warp nearest to one that is round in cm: half yards."""
    return cm if units is Units.METRIC else _round_to(cm / (100 * M_PER_YARD), 0.5, 100 * M_PER_YARD)


def usual_density(per_cm: float, units: Units) -> float:
    """Return, per cm, the round density nearest to one that is round per cm: a whole number per inch."""
    return per_cm if units is Units.METRIC else _round_to(per_cm * CM_PER_INCH, 1, 1 / CM_PER_INCH)


def _round_to(number: float, step: float, each: float) -> float:
    return round(number / step) * step * each
