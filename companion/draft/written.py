"""Amounts as a person writes them, with the unit or without: `18 in`, `4.5yd`, `4 1/2 in`, `60 cm`, `24/in`.

The factors are those of `units`. A number without a unit counts in the unit that whoever asks for it names.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from companion.draft.units import CM_PER_INCH, M_PER_YARD, Units

_INCH, _YARD = Fraction(str(CM_PER_INCH)), 100 * Fraction(str(M_PER_YARD))
_CM_IN: Mapping[str, Fraction] = {
    **dict.fromkeys(("mm", "millimetre", "millimeter", "millimetres", "millimeters"), Fraction(1, 10)),
    **dict.fromkeys(("cm", "centimetre", "centimeter", "centimetres", "centimeters"), Fraction(1)),
    **dict.fromkeys(("m", "metre", "meter", "metres", "meters"), Fraction(100)),
    **dict.fromkeys(("in", "inch", "inches", '"', "″"), _INCH),
    **dict.fromkeys(("ft", "foot", "feet", "'", "′"), 12 * _INCH),
    **dict.fromkeys(("yd", "yds", "yard", "yards"), _YARD),
}
"""What one of each unit is in cm, exactly."""
_PER = {"epi": "in", "ppi": "in", "dpi": "in"}
"""Ends, picks or dents per inch, in the letters that weavers write."""
_FRACTIONS = {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
_NUMBER = r"[0-9]{1,20}(?:\.[0-9]{0,400})?|\.[0-9]{1,400}"
_PART = r"[0-9]{1,4}/[1-9][0-9]{0,3}"
_LENGTH = re.compile(
    rf"(?:(?P<whole>{_NUMBER})(?:[ -](?P<part>{_PART}))?|(?P<alone>{_PART}))\s*(?P<unit>[a-z\"″'′]*)\.?"
)
_DENSITY = re.compile(rf"(?P<number>{_NUMBER})\s*(?:(?:/|per\b)\s*(?P<on>{_NUMBER})?\s*)?(?P<unit>[a-z]*)")

LENGTH_SAMPLES = "18 in, 4.5 yd or 60 cm"
DENSITY_SAMPLES = "24/in or 6/cm"


def length_sign(units: Units) -> str:
    """Return the unit that a length counts in where nothing is said: `cm`, `in`."""
    return "cm" if units is Units.METRIC else "in"


def yarn_sign(units: Units) -> str:
    """Return the same for a length of yarn: `m`, `yd`."""
    return "m" if units is Units.METRIC else "yd"


def read_length(text: str, bare: str = "") -> float:
    """Return a length in cm: `read_length("18 in")` is 45.72; a number alone counts in the unit `bare`.

    Raises ValueError for what is no length of 0 or more, or has no unit where `bare` is empty.
    """
    match = _LENGTH.fullmatch(_spelt_out(text))
    if match is None:
        raise ValueError(f"{text.strip()[:40]!r} is no length; write such as {LENGTH_SAMPLES}")
    unit = match["unit"] or bare
    if unit not in _CM_IN:
        what = f"{unit[:20]!r} is no unit of length" if unit else f"{text.strip()[:40]} of what?"
        raise ValueError(f"{what}; write such as {LENGTH_SAMPLES}")
    return float(sum(Fraction(match[number] or 0) for number in ("whole", "part", "alone")) * _CM_IN[unit])


def read_density(text: str, bare: str) -> float:
    """Return ends, picks or dents per cm: `read_density("24/in", "cm")`; a number alone is so many per `bare`.

    Raises ValueError for what is none.
    """
    match = _DENSITY.fullmatch(_spelt_out(text))
    if match is None:
        raise ValueError(f"{text.strip()[:40]!r} is not so many on a length; write such as {DENSITY_SAMPLES}")
    unit = _PER.get(match["unit"], match["unit"]) or bare
    on = Fraction(match["on"] or 1)
    if unit not in _CM_IN or not on:
        raise ValueError(f"{text.strip()[:40]!r} is not so many on a length; write such as {DENSITY_SAMPLES}")
    return float(Fraction(match["number"]) / (on * _CM_IN[unit]))


def _spelt_out(text: str) -> str:
    for sign, words in _FRACTIONS.items():
        text = text.replace(sign, words)
    return " ".join(text.lower().split())
