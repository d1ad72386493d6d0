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
class Unit:
    """A unit by its sign, and what one of it is in the metric unit that such amounts are kept in."""

    sign: str
    each: float


LENGTH = {Units.METRIC: Unit("cm", 1.0), Units.INCH: Unit("in", CM_PER_INCH)}
YARN = {Units.METRIC: Unit("m", 1.0), Units.INCH: Unit("yd", M_PER_YARD)}
WEIGHT = {Units.METRIC: Unit("g", 1.0), Units.INCH: Unit("oz", G_PER_POUND / OUNCES_PER_POUND)}
_POUND = Unit("lb", G_PER_POUND)
PER_LENGTH = {Units.METRIC: "per cm", Units.INCH: "per inch"}

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
    return _stated(cm, LENGTH[units])


def measured_words(cm: float | None, units: Units) -> str:
    """Return a length that was measured or reckoned, to a millimetre or a tenth of an inch: `12.0 cm`."""
    return NOT_KNOWN if cm is None else _in_units(cm, LENGTH[units], ".1f")


def measured_number(cm: float, units: Units) -> str:
    """Return the same without its unit, where that stands behind another number: `12.0`."""
    return f"{cm / LENGTH[units].each:.1f}"


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
    return f" ({_in_units((cm or 0) / 100, YARN[units], '.2f')})" if known else ""


def rough_words(cm: float, units: Units) -> str:
    """Return a length to the nearest whole unit: `83 cm`, `33 in`."""
    return _in_units(cm, LENGTH[units], ".0f")


def rough_number(cm: float, units: Units) -> str:
    """Return the same without its unit: `83`."""
    return f"{cm / LENGTH[units].each:.0f}"


def tape_words(cm: float, units: Units) -> str:
    """Return a length to mark off with a tape, to a millimetre or an eighth of an inch: `12.5 cm`, `4.875 in`."""
    return length_words(on_tape(cm, units), units)


def short_words(cm: float, units: Units) -> str:
    """Return a length that is lacking, rounded up to a whole unit, so that nobody is told too little."""
    unit = LENGTH[units]
    return f"{ceil(cm / unit.each - 1e-6)} {unit.sign}"


def per_length_words(units: Units) -> str:
    """Return what densities are counted by: `per cm`, `per inch`."""
    return PER_LENGTH[units]


def density_number(per_cm: float, units: Units) -> float:
    """Return ends or picks per cm in the weaver's units."""
    return per_cm * LENGTH[units].each


def density_words(per_cm: float, units: Units, digits: str = ".4g") -> str:
    """Return ends or picks per cm as a bare number: `6`, `15.24`; `digits` is a number format of Python's."""
    return f"{density_number(per_cm, units):{digits}}"


def picks_words(per_cm: float, units: Units, digits: str = ".4g") -> str:
    """Return how close the weft lies: `6 picks per cm`."""
    return f"{density_words(per_cm, units, digits)} picks {PER_LENGTH[units]}"


def yarn_words(metres: float, units: Units) -> str:
    """Return a length of yarn as it was stated: `20 m`, `22 yd`."""
    return _stated(metres, YARN[units])


def measured_yarn_words(metres: float | None, units: Units) -> str:
    """Return a length of yarn that was reckoned: `12.3 m`."""
    return NOT_KNOWN if metres is None else _in_units(metres, YARN[units], ",.1f")


def yarn_range_words(metres: tuple[float, float, float] | None, units: Units) -> str:
    """Return a likely length of yarn between its bounds (least, likely, most): `55 m (50 to 60)`."""
    return NOT_KNOWN if metres is None else _range(metres, YARN[units])


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
    unit = LENGTH[units]
    return f"{floor(cm / unit.each + 1e-6)} {unit.sign}"


def _stated(amount: float, unit: Unit) -> str:
    # Whole inches come through as such, whatever a division leaves behind.
    number = amount if unit.each == 1 else round(amount / unit.each, 3)
    return f"{number:g} {unit.sign}"


def _in_units(amount: float, unit: Unit, digits: str) -> str:
    return f"{amount / unit.each:{digits}} {unit.sign}"


def _weighed(grams: float, units: Units) -> tuple[Unit, str]:
    """Return the unit that a weight is told in, and its decimals: a tenth of an ounce is much of a little yarn."""
    unit = WEIGHT[units]
    if units is Units.METRIC:
        return unit, ".1f"
    if grams >= G_PER_POUND - 1e-6:
        return _POUND, ".2f"
    return unit, ".1f" if grams >= unit.each else ".2f"


def _range(amounts: tuple[float, float, float], unit: Unit, small: str = ".1f") -> str:
    least, likely, most = (amount / unit.each for amount in amounts)
    # Small amounts keep their decimals.
    digits = ",.0f" if most >= 20 else small
    if least == most:
        return f"{likely:{digits}} {unit.sign}"
    return f"{likely:{digits}} {unit.sign} ({least:{digits}} to {most:{digits}})"
