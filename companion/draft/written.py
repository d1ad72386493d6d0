"""Amounts as a person writes them, with the unit or without: `18 in`, `4.5yd`, `4 1/2 in`, `60 cm`, `24/in`.

The factors are those of `units`. A number without a unit counts in the unit that whoever asks for it names.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from companion.draft.units import CM_PER_INCH, G_PER_POUND, M_PER_YARD, OUNCES_PER_POUND, Units

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
_POUND = Fraction(str(G_PER_POUND))
_G_IN: Mapping[str, Fraction] = {
    **dict.fromkeys(("g", "gram", "grams"), Fraction(1)),
    **dict.fromkeys(("kg", "kilogram", "kilograms"), Fraction(1000)),
    **dict.fromkeys(("oz", "ounce", "ounces"), _POUND / OUNCES_PER_POUND),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), _POUND),
}
"""What one of each unit is in grams, exactly."""
_PER = {"epi": "in", "ppi": "in", "dpi": "in"}
"""Ends, picks or dents per inch, in the letters that weavers write."""
_FRACTIONS = {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
_NUMBER = r"[0-9]{1,20}(?:\.[0-9]{0,400})?|\.[0-9]{1,400}"
_PART = r"[0-9]{1,4}/[1-9][0-9]{0,3}"
_AMOUNT = re.compile(
    rf"(?:(?P<alone>{_PART})|(?P<whole>{_NUMBER})(?:[ -](?P<part>{_PART}))?)\s*(?P<unit>[a-z\"″'′]*)\.?"
)
_DENSITY = re.compile(rf"(?P<number>{_NUMBER})\s*(?:(?:/|per\b)\s*(?P<on>{_NUMBER})?\s*)?(?P<unit>[a-z]*)")

_MOST_PARTS = 3
"""As in `1 yd 2 ft 3 in`; no amount is said in more."""

LENGTH_SAMPLES = "18 in, 4.5 yd or 60 cm"
DENSITY_SAMPLES = "24/in or 6/cm"
WEIGHT_SAMPLES = "8oz, 1 lb or 500g"


def length_sign(units: Units) -> str:
    """Return the unit that a length counts in where nothing is said: `cm`, `in`."""
    return "cm" if units is Units.METRIC else "in"


def yarn_sign(units: Units) -> str:
    """Return the same for a length of yarn: `m`, `yd`."""
    return "m" if units is Units.METRIC else "yd"


def read_length(text: str, bare: str = "") -> float:
    """Return a length in cm: `read_length("18 in")` is 45.72; a number alone counts in the unit `bare`.

    Larger units stand before smaller ones: `1 yd 2 in` is 38 in. Raises ValueError for what is no length of 0 or more,
    or has no unit where `bare` is empty.
    """
    return _read_amount(text, bare, _CM_IN, "length", LENGTH_SAMPLES)


def read_weight(text: str, bare: str = "") -> float:
    """Return a weight in grams: `read_weight("1 lb 8 oz")`; a number alone counts in the unit `bare`.

    Raises ValueError as `read_length` does.
    """
    return _read_amount(text, bare, _G_IN, "weight", WEIGHT_SAMPLES)


def cm_in(unit: str) -> Fraction | None:
    """Return how many cm one of a unit is, None where it is no unit of length: `cm_in("in")` is 127/50."""
    return _CM_IN.get(unit.lower())


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


def _read_amount(text: str, bare: str, units: Mapping[str, Fraction], what: str, samples: str) -> float:
    spelt, at, each_before, amount = _spelt_out(text), 0, None, Fraction(0)
    for _ in range(_MOST_PARTS):
        match = _AMOUNT.match(spelt, at)
        if match is None:
            break
        unit = match["unit"] or bare
        each = units.get(unit)
        if each is None:
            wrong = f"{unit[:20]!r} is no unit of {what}" if unit else f"{text.strip()[:40]} of what?"
            raise ValueError(f"{wrong}; write such as {samples}")
        if each_before is not None and (each >= each_before or not match["unit"]):
            break
        amount += sum(Fraction(match[number] or 0) for number in ("whole", "part", "alone")) * each
        at, each_before = match.end(), each
        if at == len(spelt):
            return float(amount)
        # Only a unit that was said is followed by a smaller one.
        if not match["unit"]:
            break
        at += spelt[at] == " "
    raise ValueError(f"{text.strip()[:40]!r} is no {what}; write such as {samples}")


def _spelt_out(text: str) -> str:
    for sign, words in _FRACTIONS.items():
        text = text.replace(sign, words)
    return " ".join(text.lower().split())
