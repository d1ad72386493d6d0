"""How what is told of threading and treadling is to be read: one short sentence for each sign that stands in it."""

from __future__ import annotations

import re
from collections.abc import Iterable

BY_FEET = "L: left foot, R: right foot."
BY_TREADLES = "The treadle of each pick."
BY_SHAFTS = "The shafts raised for each pick."
_SIGNS = (
    (re.compile(r"[LR]\d+\+[LR]?\d"), "L1+R5: both at one pick."),
    (re.compile(r"(?<![LR\d])\d+\+\d"), "1+3: both at one pick."),
    (re.compile(r"\)x\d"), "(…)x3: three times."),
    (re.compile(r"(?<![\w+-])\d+-\d+(?![\w+-])"), "1-4: 1 2 3 4."),
    (re.compile(r"\bpoint \("), "point (1 2 3): 1 2 3 2."),
    (re.compile(r"\) and back\b"), "(1 2 3) and back: 1 2 3 2 1."),
    (re.compile(r"\) and reversed\b"), "(1 2 3) and reversed: 1 2 3 3 2 1."),
    (
        re.compile(r"(?<=\S)/(?=\S)"),
        "sand/sea: these shuttles by turns; in a bracket they begin with sand again each time round.",
    ),
)
"""Signs of the shorthand's syntax, as `draft.chant` writes them."""


def signs_told(texts: Iterable[str]) -> str:
    """Return a sentence for each sign that stands in these texts; empty where none does."""
    every = " ".join(texts)
    return " ".join(words for sign, words in _SIGNS if sign.search(every))


def how_to_read(base: str, texts: Iterable[str]) -> str:
    """Return `base`, which says what the numbers are, and a sentence for each sign that stands in these texts."""
    return f"{base} {signs_told(texts)}".rstrip()
