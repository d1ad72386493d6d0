"""Counts, lengths, densities, weights and yarn sizes in words: the one module that knows of centimetres and of inches.

Everything is kept in metric units; a weaver's units only say how it is read. The factors are exact: 1 inch is 2.54 cm
and 1 yard 0.9144 m, 1 pound 453.59237 g (international yard and pound, 1959; NIST Special Publication 811, appendix B).
"""

from __future__ import annotations

from enum import Enum
from math import ceil

CM_PER_INCH = 2.54
M_PER_YARD = 0.9144
G_PER_POUND = 453.59237
OUNCES_PER_POUND = 16
NOT_KNOWN = "not known"


class Units(Enum):
    """What a weaver measures in."""

    METRIC = "metric"
    INCH = "inch"


def counted(number: int, noun: str) -> str:
    """Return a number with its noun: `1 pick`, `12 picks`, `1,200 picks`."""
    return f"{number:,} {noun}" if number == 1 else f"{number:,} {noun}s"


def length_words(cm: float, units: Units = Units.METRIC) -> str:
    """Return a length as it was stated: `12.5 cm`, `4 in`."""
    return f"{cm:g} cm" if units is Units.METRIC else f"{_tidy(cm / CM_PER_INCH)} in"


def measured_words(cm: float | None, units: Units = Units.METRIC) -> str:
    """Return a length that was measured or reckoned, to a millimetre or a tenth of an inch: `12.0 cm`."""
    if cm is None:
        return NOT_KNOWN
    return f"{cm:.1f} cm" if units is Units.METRIC else f"{cm / CM_PER_INCH:.1f} in"


def rough_words(cm: float, units: Units = Units.METRIC) -> str:
    """Return a length to the nearest whole unit: `83 cm`, `33 in`."""
    return f"{cm:.0f} cm" if units is Units.METRIC else f"{cm / CM_PER_INCH:.0f} in"


def short_words(cm: float, units: Units = Units.METRIC) -> str:
    """Return a length that is lacking, rounded up to a whole unit, so that nobody is told too little."""
    number = cm if units is Units.METRIC else cm / CM_PER_INCH
    return f"{ceil(number - 1e-6)} {unit_of_length(units)}"


def unit_of_length(units: Units = Units.METRIC) -> str:
    """Return what short lengths are measured in: `cm` or `in`."""
    return "cm" if units is Units.METRIC else "in"


def per_length_words(units: Units = Units.METRIC) -> str:
    """Return what densities are counted by: `per cm`, `per inch`."""
    return "per cm" if units is Units.METRIC else "per inch"


def density_number(per_cm: float, units: Units = Units.METRIC) -> float:
    """Return ends or picks per cm in the weaver's units."""
    return per_cm if units is Units.METRIC else per_cm * CM_PER_INCH


def picks_words(per_cm: float, digits: str = ".4g", units: Units = Units.METRIC) -> str:
    """Return how close the weft lies: `6 picks per cm`; `digits` is a number format of Python's."""
    return f"{density_number(per_cm, units):{digits}} picks {per_length_words(units)}"


def yarn_words(metres: float, units: Units = Units.METRIC) -> str:
    """Return a length of yarn as it was stated: `20 m`, `22 yd`."""
    return f"{metres:g} m" if units is Units.METRIC else f"{_tidy(metres / M_PER_YARD)} yd"


def yarn_amount(metres: float, units: Units = Units.METRIC) -> tuple[float, str]:
    """Return a length of yarn and its unit."""
    return (metres, "m") if units is Units.METRIC else (metres / M_PER_YARD, "yd")


def weight_amount(grams: float, units: Units = Units.METRIC) -> tuple[float, str]:
    """Return a weight and its unit: grams, or ounces."""
    return (grams, "g") if units is Units.METRIC else (grams / G_PER_POUND * OUNCES_PER_POUND, "oz")


def size_words(tex: float, units: Units = Units.METRIC) -> str:
    """Return how thick a yarn is: `60.0 tex` (grams per kilometre), or yards per pound."""
    if units is Units.METRIC:
        return f"{tex:.1f} tex"
    return f"{1000 / tex * G_PER_POUND / M_PER_YARD:,.0f} yd/lb"


def _tidy(number: float) -> str:
    return f"{round(number, 3):g}"
