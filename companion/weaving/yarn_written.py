"""A yarn's size as weavers say it, to tex: `8/2 cotton`, `2/8 cotton`, `Nm 16/2`, `60/2 silk`, `3360 yd/lb`, `30 tex`.

A fibre names the system that its yarns are numbered in. Of the two numbers around a stroke one is the size of a single
ply and the other how many plies there are. Usually the smaller one counts plies, whichever stands first; but where the
first is too large for plies, it is the size, as of seine twine: 12/15 is fifteen plies of size 12 (common practice, no
source). How a size was read is always told.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from companion.draft.units import CM_PER_INCH, G_PER_POUND, M_PER_YARD
from companion.weaving.yarn import HAND_WRAPPED, Count, tex_of, tex_of_wraps

_STANDARD = "ASTM D2260"
_MEMORY = "common practice, no source"


@dataclass(frozen=True, slots=True)
class YarnSystem:
    """A system by which a fibre's yarns are numbered, in words, and where that is from."""

    count: Count
    words: str
    source: str


_COTTON = YarnSystem(Count.COTTON, "cotton count: hanks of 840 yd in a pound", _STANDARD)
_LIKE_COTTON = YarnSystem(Count.COTTON, "numbered like cotton: hanks of 840 yd in a pound", _MEMORY)
_LINEN = YarnSystem(Count.LINEN_LEA, "linen lea: lengths of 300 yd in a pound", _STANDARD)
_LIKE_LINEN = YarnSystem(Count.LINEN_LEA, "numbered like linen: lengths of 300 yd in a pound", _MEMORY)
_WORSTED = YarnSystem(Count.WORSTED, "worsted count: hanks of 560 yd in a pound", _STANDARD)
_RUN = YarnSystem(Count.WOOLLEN_RUN, "woollen run: lengths of 1,600 yd in a pound", _STANDARD)
_METRIC = YarnSystem(Count.METRIC, "Nm: km in a kg", "ISO 1144")
_SILK = YarnSystem(Count.METRIC, "Nm, as weavers' silk is numbered: km in a kg", _MEMORY)
_TEX = YarnSystem(Count.TEX, "grams in a km", "ISO 1144")
_DTEX = YarnSystem(Count.DTEX, "grams in 10 km", "ISO 1144")
_DENIER = YarnSystem(Count.DENIER, "grams in 9 km", _STANDARD)

SYSTEMS: Mapping[str, YarnSystem] = {
    **dict.fromkeys(("cotton", "ne", "ne cotton", "nec"), _COTTON),
    **dict.fromkeys(("tencel", "lyocell", "rayon", "viscose", "bamboo", "modal"), _LIKE_COTTON),
    **dict.fromkeys(("carpet warp", "cotton carpet warp", "seine twine", "cotton seine twine"), _LIKE_COTTON),
    **dict.fromkeys(("linen", "lea", "linen lea", "flax"), _LINEN),
    **dict.fromkeys(("cottolin", "hemp"), _LIKE_LINEN),
    "worsted": _WORSTED,
    **dict.fromkeys(("run", "woollen run"), _RUN),
    "nm": _METRIC,
    "silk": _SILK,
    "tex": _TEX,
    "dtex": _DTEX,
    **dict.fromkeys(("denier", "den"), _DENIER),
}
"""What may follow a number, small letters. Cottolin of 22/2 is then 3,300 yd/lb and silk of 60/2 14,880."""
_NO_FIBRE = YarnSystem(
    Count.COTTON, "no fibre is named, so it is taken for cotton: hanks of 840 yd in a pound", _STANDARD
)
_NUMBERED_OTHERWISE = ("wool", "merino", "alpaca", "mohair", "cashmere")
"""Fibres whose yarns are numbered in several ways: their name alone says no size."""
_HOW_MADE = frozenset((
    "pearl", "perle", "mercerized", "mercerised", "unmercerized", "unmercerised", "carded", "combed", "organic",
    "spun", "bombyx", "tussah", "line", "tow",
))  # fmt: skip
"""Words beside a fibre that change nothing of how its yarns are numbered (common practice, no source)."""
_WEIGHTS = (Count.TEX, Count.DTEX, Count.DENIER)
"""Systems that weigh a length: their numbers are not written with a stroke."""
_WRAPS_PER_CM = {
    **dict.fromkeys(("wraps", "wraps per cm"), 1.0),
    **dict.fromkeys(("wpi", "wraps per inch", "wraps an inch"), 1 / CM_PER_INCH),
}
_KM_PER_KG = {
    **dict.fromkeys(("yd/lb", "yds/lb", "ypp", "yards per pound", "yards/lb"), M_PER_YARD / G_PER_POUND),
    **dict.fromkeys(("m/kg", "metres per kg", "meters per kg"), 1 / 1000),
}
_MOST_PLIES = 99
_MOST_PLIES_FIRST = 4
"""A first number above this is a size: nobody writes so many plies in front (common practice, no source)."""
_LAST_WORDS = sorted((*SYSTEMS, *_WRAPS_PER_CM, *_KM_PER_KG), key=len, reverse=True)
_NUMBER = r"[0-9][0-9,]{0,20}(?:\.[0-9]{0,20})?(?:e[+-]?[0-9]{1,3})?|\.[0-9]{1,20}"
_STROKE = rf"(?P<number>{_NUMBER})(?:\s*/\s*(?P<other>[0-9]{{1,6}}(?:\.[0-9]+)?))?"
_AFTER = re.compile(
    rf"{_STROKE}\s*(?P<system>{'|'.join(map(re.escape, _LAST_WORDS))})(?:\s+(?P<plies>[0-9]{{1,2}})[ -]ply)?"
)
_BEFORE = re.compile(rf"(?P<system>nm|ne|nec|tex)\s*{_STROKE}(?:\s+(?P<plies>[0-9]{{1,2}})[ -]ply)?")
_WITH_COMMA = re.compile(r"[0-9]*,[0-9,]*")
_THOUSANDS = re.compile(r"[0-9]{1,3}(?:,[0-9]{3})+")
_ALONE = re.compile(_STROKE)
YARN_SAMPLES = "8/2 cotton, 20/2 tencel, Nm 16/2, 3360 yd/lb, 30 tex or 18 wpi"


@dataclass(frozen=True, slots=True)
class WrittenYarn:
    """A size in tex, between `least_tex` and `most_tex` where it is an estimate, and in words how it was read."""

    tex: float
    least_tex: float
    most_tex: float
    read_as: str

    @property
    def is_estimate(self) -> bool:
        """Whether only a range is known."""
        return self.least_tex != self.most_tex


def read_yarn(text: str) -> WrittenYarn:
    """Return the size that a person wrote; raises ValueError that says how to write one."""
    if any(_THOUSANDS.fullmatch(number) is None for number in _WITH_COMMA.findall(text)):
        raise ValueError(
            f"{text.strip()[:40]!r}: a comma stands before three digits; write such as 7.5 tex or 8/2 cotton"
        )
    words = " ".join(word for word in text.lower().split() if word not in _HOW_MADE)
    match = _AFTER.fullmatch(words) or _BEFORE.fullmatch(words)
    alone = _ALONE.fullmatch(words)
    if match is None and alone is not None and alone["other"] is not None:
        return _counted(float(alone["number"].replace(",", "")), float(alone["other"]), 1, _NO_FIBRE, text)
    if match is None and words.endswith(_NUMBERED_OTHERWISE):
        mend = "write such as 2/24 worsted, Nm 24/2, 3 run, or the yd/lb of the cone"
        raise ValueError(f"{text.strip()[:40]!r}: such yarns are numbered in several ways; {mend}")
    if match is None:
        raise ValueError(f"{text.strip()[:40]!r} is no size of yarn; write such as {YARN_SAMPLES}")
    system, number = match["system"], float(match["number"].replace(",", ""))
    other, plies = match["other"], int(match["plies"] or 1)
    known = SYSTEMS.get(system)
    if other is not None and (match["plies"] is not None or known is None or known.count in _WEIGHTS):
        raise ValueError(f"{text.strip()[:40]!r}: a stroke stands between a number and plies, of a count alone")
    if not number > 0 or not 1 <= plies <= _MOST_PLIES:
        raise ValueError(f"{text.strip()[:40]!r}: no yarn has such numbers; write such as {YARN_SAMPLES}")
    if system in _WRAPS_PER_CM:
        return _wrapped(number * _WRAPS_PER_CM[system], plies)
    if system in _KM_PER_KG:
        tex = 1000 / (number * _KM_PER_KG[system])
        return WrittenYarn(tex, tex, tex, "length to weight, as given")
    return _counted(number, None if other is None else float(other), plies, SYSTEMS[system], text)


def _counted(number: float, other: float | None, plies: int, known: YarnSystem, text: str) -> WrittenYarn:
    """Return a yarn of a count; `other` is the number behind the stroke."""
    turned = ""
    if other is not None:
        number, plies, turned = _plies(number, other, text)
    tex = tex_of(number, known.count, plies)
    return WrittenYarn(tex, tex, tex, f"{turned}{known.words} ({known.source})")


def _plies(first: float, second: float, text: str) -> tuple[float, int, str]:
    """Return the size of one ply, how many there are, and words where that is not the order of the numbers."""
    turned = first < second and first <= _MOST_PLIES_FIRST
    number, plies = (second, first) if turned else (first, second)
    if plies != int(plies) or not 1 <= plies <= _MOST_PLIES:
        raise ValueError(f"{text.strip()[:40]!r}: plies are whole, from 1 to {_MOST_PLIES}")
    same = f"{number:g}/{plies:g}"
    if turned:
        return number, int(plies), f"read as {plies:g} plies of size {number:g}, the same as {same}; "
    return number, int(plies), f"{plies:g} plies of size {number:g}; " if plies > number else ""


def _wrapped(wraps_per_cm: float, plies: int) -> WrittenYarn:
    loosest, usual, firmest = HAND_WRAPPED
    tex, least, most = (plies * tex_of_wraps(wraps_per_cm, firmness) for firmness in (usual, loosest, firmest))
    return WrittenYarn(
        tex, least, most, f"an estimate from yarn wrapped by hand ({_MEMORY}); weigh a length to be sure"
    )
