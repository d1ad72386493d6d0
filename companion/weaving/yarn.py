"""Yarn counts: every system to tex (grams per kilometre), and what a length weighs.

An indirect count is lengths of so many yards in a pound; its product with tex is a constant (ASTM D2260-03, Table 1:
cotton 590.541, worsted 885.812, woollen run 310.034, linen lea 1653.52), worked out here from the yards, with the exact
453.59237 g and 0.9144 m. A direct count is a weight per length: tex per km, dtex per 10 km (ISO 1144), denier per 9 km.
"""

from __future__ import annotations

from enum import Enum
from math import sqrt

from companion.draft.units import CM_PER_INCH, G_PER_POUND, M_PER_YARD

FIRM_YARN = 0.9
"""Threads side by side in an inch = this times √(yards per pound); T.R. Ashenhurst: 0.9 for firm yarn, 0.84 for soft.

Authors differ (J.T. Taylor, Cotton Weaving and Designing, takes 0.95), so it is a parameter wherever it is used.
"""
HAND_WRAPPED = (0.42, 0.47, 0.52)
"""The same for yarn that a weaver winds round a ruler: loosest, usual, firmest. It lies looser than firm yarn pressed
together. Laid between two figures of weavers: 18 wraps of yarn with 1,800 yards in a pound (0.42), some 30 wraps of 8/2
cotton, 3,360 yards in a pound (0.52); common practice, no source.
"""


class Count(Enum):
    """A system of yarn counts, as people write it."""

    TEX = "tex"
    DTEX = "dtex"
    DENIER = "denier"
    METRIC = "Nm"
    COTTON = "Ne cotton"
    WORSTED = "worsted"
    LINEN_LEA = "linen lea"
    WOOLLEN_RUN = "woollen run"


_TEX_EACH = {Count.TEX: 1.0, Count.DTEX: 0.1, Count.DENIER: 1 / 9}
_YARDS = {Count.COTTON: 840, Count.WORSTED: 560, Count.LINEN_LEA: 300, Count.WOOLLEN_RUN: 1600}


def tex_of(number: float, count: Count, plies: int = 1) -> float:
    """Return the tex of a yarn of this number: `tex_of(20, Count.COTTON)` is 29.5; 2/20s has `plies` 2 and twice that.

    Raises ValueError for a number that is not above 0.
    """
    if not number > 0 or plies < 1:
        raise ValueError(f"{number:g} {count.value}, {plies} plies; give numbers above 0")
    if count in _TEX_EACH:
        return number * _TEX_EACH[count] * plies
    return _product(count) / number * plies


def tex_of_wraps(wraps_per_cm: float, firmness: float = FIRM_YARN) -> float:
    """Return the tex that a yarn of so many wraps per cm is likely to have: an estimate, as good as `firmness`.

    Raises ValueError for a number that is not above 0.
    """
    if not wraps_per_cm > 0:
        raise ValueError(f"{wraps_per_cm:g} wraps per cm; give a number above 0")
    yards_per_pound = (wraps_per_cm * CM_PER_INCH / firmness) ** 2
    return G_PER_POUND / (yards_per_pound * M_PER_YARD) * 1000


def wraps_per_cm(tex: float, firmness: float = FIRM_YARN) -> float:
    """Return how many threads of this yarn lie side by side in a cm: an estimate, as good as `firmness`."""
    return firmness * sqrt(yards_per_pound(tex)) / CM_PER_INCH


def yards_per_pound(tex: float) -> float:
    """Return the length of a pound of yarn, in yards: `yards_per_pound(29.5)` is 16,800."""
    return 1000 * G_PER_POUND / M_PER_YARD / tex


def closest_sett(threads_side_by_side: float, ends: int, intersections: int) -> float:
    """Return the closest sett of a weave with so many ends and intersections in its repeat (T.R. Ashenhurst).

    In the unit of the first argument: 52 threads per inch in plain weave (2 ends, 2 intersections) give 26.
    """
    return threads_side_by_side * ends / (ends + intersections)


def grams(metres: float, tex: float) -> float:
    """Return what so many metres of a yarn weigh: `grams(1000, 30)` is 30."""
    return metres * tex / 1000


def _product(count: Count) -> float:
    if count is Count.METRIC:
        return 1000.0
    return 1000 * G_PER_POUND / (_YARDS[count] * M_PER_YARD)
