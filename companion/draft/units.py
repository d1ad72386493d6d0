"""Counts, lengths, densities, weights and yarn sizes in words: the one module that knows of centimetres and of inches.

Everything is kept in metric units; a weaver's units only say how it is read and typed. The
factors are exact: 1 inch is 2.54 cm and 1 yard 0.9144 m, 1 pound 453.59237 g (international yard and pound, 1959; NIST
Special Publication 811, appendix B).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from math import ceil, floor

CM_PER_INCH = 2.54
M_PER_YARD = 0.9144
G_PER_POUND = 453.59237
OUNCES_PER_POUND = 16
NOT_KNOWN = "not known"


class Units(Enum):
    """What a weaver measures in."""

    METRIC = "metric"
    INCH = "inch"


@dataclass(frozen=True, slots=True)
class _Unit:
    """A unit by its sign, and what one of it is in the metric unit that such amounts are kept in."""

    sign: str
    each: float


_LENGTH = {Units.METRIC: _Unit("cm", 1.0), Units.INCH: _Unit("in", CM_PER_INCH)}
_YARN = {Units.METRIC: _Unit("m", 1.0), Units.INCH: _Unit("yd", M_PER_YARD)}
_WEIGHT = {Units.METRIC: _Unit("g", 1.0), Units.INCH: _Unit("oz", G_PER_POUND / OUNCES_PER_POUND)}
_POUND = _Unit("lb", G_PER_POUND)
_PER_LENGTH = {Units.METRIC: "per cm", Units.INCH: "per inch"}

_TAPE_CM = {Units.METRIC: 0.1, Units.INCH: 0.125 * CM_PER_INCH}
"""What a tape is marked in: millimetres, eighths of an inch."""


def counted(number: int, noun: str) -> str:
    """Return a number with its noun: `1 pick`, `12 picks`, `1,200 picks`."""
    return f"{number:,} {noun}" if number == 1 else f"{number:,} {noun}s"


def numbered(noun: str, first: int, last: int) -> str:
    """Return what the things from one index to another are called: `pick 24`, `picks 1 to 8`."""
    return f"{noun} {first + 1}" if first == last else f"{noun}s {first + 1} to {last + 1}"


def length_words(cm: float, units: Units) -> str:
    """Return a length as it was stated: `12.5 cm`, `4 in`."""
    return _stated(cm, _LENGTH[units])


def measured_words(cm: float | None, units: Units) -> str:
    """Return a length that was measured or reckoned, to a millimetre or a tenth of an inch: `12.0 cm`."""
    return NOT_KNOWN if cm is None else _in_units(cm, _LENGTH[units], ".1f")


def measured_number(cm: float, units: Units) -> str:
    """Return the same without its unit, where that stands behind another number: `12.0`."""
    return f"{cm / _LENGTH[units].each:.1f}"


def long_words(cm: float | None, units: Units) -> str:
    """Return a length of warp: `411.5 cm`; in inches with yards, which warps are wound in: `162.0 in (4.50 yd)`."""
    return f"{measured_words(cm, units)}{_in_yards(cm, units)}"


def warp_taken_words(cm: float, units: Units) -> str:
    """Return a length of warp that is needed, rounded up to a whole unit: `412 cm`, `162 in (4.50 yd)`."""
    return f"{short_words(cm, units)}{_in_yards(cm, units)}"


def wound_words(cm: float, units: Units) -> str:
    """Return a length of warp as it was stated: `400 cm`, `162 in (4.50 yd)`."""
    return f"{length_words(cm, units)}{_in_yards(cm, units)}"


def _in_yards(cm: float | None, units: Units) -> str:
    known = cm is not None and units is Units.INCH
    return f" ({_in_units((cm or 0) / 100, _YARN[units], '.2f')})" if known else ""


def rough_words(cm: float, units: Units) -> str:
    """Return a length to the nearest whole unit: `83 cm`, `33 in`."""
    return _in_units(cm, _LENGTH[units], ".0f")


def rough_number(cm: float, units: Units) -> str:
    """Return the same without its unit: `83`."""
    return f"{cm / _LENGTH[units].each:.0f}"


def tape_words(cm: float, units: Units) -> str:
    """Return a length to mark off with a tape, to a millimetre or an eighth of an inch: `12.5 cm`, `4.875 in`."""
    return length_words(on_tape(cm, units), units)


def short_words(cm: float, units: Units) -> str:
    """Return a length that is lacking, rounded up to a whole unit, so that nobody is told too little."""
    unit = _LENGTH[units]
    return f"{ceil(cm / unit.each - 1e-6)} {unit.sign}"


def per_length_words(units: Units) -> str:
    """Return what densities are counted by: `per cm`, `per inch`."""
    return _PER_LENGTH[units]


def density_number(per_cm: float, units: Units) -> float:
    """Return ends or picks per cm in the weaver's units."""
    return per_cm * _LENGTH[units].each


def density_words(per_cm: float, units: Units, digits: str = ".4g") -> str:
    """Return ends or picks per cm as a bare number: `6`, `15.24`; `digits` is a number format of Python's."""
    return f"{density_number(per_cm, units):{digits}}"


def picks_words(per_cm: float, units: Units, digits: str = ".4g") -> str:
    """Return how close the weft lies: `6 picks per cm`."""
    return f"{density_words(per_cm, units, digits)} picks {_PER_LENGTH[units]}"


def yarn_words(metres: float, units: Units) -> str:
    """Return a length of yarn as it was stated: `20 m`, `22 yd`."""
    return _stated(metres, _YARN[units])


def measured_yarn_words(metres: float | None, units: Units) -> str:
    """Return a length of yarn that was reckoned: `12.3 m`."""
    return NOT_KNOWN if metres is None else _in_units(metres, _YARN[units], ",.1f")


def yarn_range_words(metres: tuple[float, float, float] | None, units: Units) -> str:
    """Return a likely length of yarn between its bounds (least, likely, most): `55 m (50 to 60)`."""
    return NOT_KNOWN if metres is None else _range(metres, _YARN[units])


def weight_words(grams: float | None, units: Units) -> str:
    """Return a weight that was reckoned: `12.3 g`; in ounces, `0.43 oz`, or from a pound on in pounds, `1.28 lb`."""
    return NOT_KNOWN if grams is None else _in_units(grams, *_weighed(grams, units))


def weight_range_words(grams: tuple[float, float, float] | None, units: Units) -> str:
    """Return a likely weight between its bounds (least, likely, most): `5.5 g (5.0 to 6.0)`."""
    return NOT_KNOWN if grams is None else _range(grams, *_weighed(grams[1], units))


def yarn_size_words(tex: float, units: Units, digits: str = ".1f") -> str:
    """Return how thick a yarn is: `60.0 tex` (grams per kilometre), or yards per pound."""
    if units is Units.METRIC:
        return f"{tex:{digits}} tex"
    return f"{1000 / tex * G_PER_POUND / M_PER_YARD:,.0f} yd/lb"


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
    return NumberReading(_LENGTH[units].sign, 1 if units is Units.METRIC else 3, _LENGTH[units].each)


def warp_reading(units: Units) -> NumberReading:
    """Return how the length of a warp is typed: `450` cm, `4.5` yd."""
    return length_reading(units) if units is Units.METRIC else NumberReading("yd", 3, 100 * M_PER_YARD)


def yarn_reading(units: Units) -> NumberReading:
    """Return how lengths of yarn are typed, in metres or yards."""
    return NumberReading(_YARN[units].sign, 1, _YARN[units].each)


def density_reading(units: Units) -> NumberReading:
    """Return how ends or picks per length are typed."""
    return NumberReading(_PER_LENGTH[units], 1, 1 / _LENGTH[units].each)


def weight_reading(units: Units) -> NumberReading:
    """Return how weights are typed, in grams or ounces."""
    return NumberReading(_WEIGHT[units].sign, 1, _WEIGHT[units].each)


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


def on_tape(cm: float, units: Units) -> float:
    """Return, in cm, the mark of a tape nearest to this length."""
    step = _TAPE_CM[units]
    return tidy(round(cm / step) * step)


def tidy(amount: float) -> float:
    """Return an amount without the dust that adding steps leaves behind: 12.4 for 12.399999999999999."""
    return round(amount, 9)


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount in metric units with the way of saying it: what an error holds, so that each face says it its way."""

    amount: float
    words: Callable[[float, Units], str] = length_words

    def __str__(self) -> str:
        return self.words(self.amount, Units.METRIC)


def sentence(parts: tuple[str | Amount, ...], units: Units) -> str:
    """Return words and the amounts among them in one line."""
    return "".join(part if isinstance(part, str) else part.words(part.amount, units) for part in parts)


def left_words(cm: float, units: Units) -> str:
    """Return a length that is left over, rounded down to a whole unit, so that nobody counts on too much."""
    unit = _LENGTH[units]
    return f"{floor(cm / unit.each + 1e-6)} {unit.sign}"


def _stated(amount: float, unit: _Unit) -> str:
    # Whole inches come through as such, whatever a division leaves behind.
    number = amount if unit.each == 1 else round(amount / unit.each, 3)
    return f"{number:g} {unit.sign}"


def _in_units(amount: float, unit: _Unit, digits: str) -> str:
    return f"{amount / unit.each:{digits}} {unit.sign}"


def _weighed(grams: float, units: Units) -> tuple[_Unit, str]:
    """Return the unit that a weight is told in, and its decimals: a tenth of an ounce is much of a little yarn."""
    unit = _WEIGHT[units]
    if units is Units.METRIC:
        return unit, ".1f"
    if grams >= G_PER_POUND - 1e-6:
        return _POUND, ".2f"
    return unit, ".1f" if grams >= unit.each else ".2f"


def _range(amounts: tuple[float, float, float], unit: _Unit, small: str = ".1f") -> str:
    least, likely, most = (amount / unit.each for amount in amounts)
    # Small amounts keep their decimals.
    digits = ",.0f" if most >= 20 else small
    if least == most:
        return f"{likely:{digits}} {unit.sign}"
    return f"{likely:{digits}} {unit.sign} ({least:{digits}} to {most:{digits}})"


def _round_to(number: float, step: float, each: float) -> float:
    return round(number / step) * step * each
