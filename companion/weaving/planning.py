"""A cloth planned from its finished size back to the warp: ends, width in the reed, warp length, and yarn.

The width shrinks twice, on the loom (draw-in) and in the wash; the length once in the wash, and warp is used up by
bending (take-up). Each share is of what there was before, so a finished length L takes
L / (1 - shrinkage) / (1 - take-up) of warp, as `amounts` reckons, and fringe and loom waste with it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from math import ceil
from typing import NamedTuple

from companion.weaving.errors import WeavingError
from companion.weaving.mixed_dents import TOLD_WITHIN, dents_for, mixed_dents
from companion.weaving.state import CLOSE_ENOUGH_PICKS
from companion.weaving.yarn import closest_sett, grams, wraps_per_cm

WORKING_SHARE = 0.75
"""Of the closest sett: a cloth that is to drape (a summary of T.R. Ashenhurst; weavers differ)."""


class Weave(Enum):
    """A weave as far as its sett goes."""

    PLAIN = "plain weave"
    TWILL = "2/2 twill"
    LACE = "lace"


_REPEAT = {Weave.PLAIN: (2, 2, 1.0), Weave.TWILL: (4, 2, 1.0), Weave.LACE: (2, 2, 0.9)}
"""Ends and intersections of the repeat, and a share of it: lace is set a tenth more open than plain weave (common
practice, no source)."""


def working_sett(tex: float, weave: Weave) -> float:
    """Return ends per cm that suit a yarn in a weave: `working_sett(147.6, Weave.PLAIN)` is 7.7, about 20 per inch.

    Three quarters of the closest sett of T.R. Ashenhurst's rule. Raises ValueError for a yarn that weighs nothing.
    """
    if not tex > 0:
        raise ValueError("a yarn that weighs nothing has no sett; give its size")
    ends, intersections, share = _REPEAT[weave]
    return WORKING_SHARE * share * closest_sett(wraps_per_cm(tex), ends, intersections)


@dataclass(frozen=True, slots=True)
class Shares:
    """What is lost between warp and finished cloth, each from 0 to below 1."""

    take_up: float = 0.10
    draw_in: float = 0.05
    shrinkage_length: float = 0.10
    shrinkage_width: float = 0.10


USUAL_SHARES = Shares()
USUAL_WASTE_CM, USUAL_FRINGE_CM = 68.58, 0.0
"""What is taken where the weaver tells nothing: common practice, no source. The waste is 27 inches."""


@dataclass(frozen=True, slots=True)
class Wish:
    """A cloth as it is wanted: finished size and lengths in cm, `sett` and `picks` per cm on the loom.

    `picks` None lie as close as the ends. `reed_per_cm` is the reed at hand, None where any will do; its dents are
    mixed so that the sett is met, or lies within the share `sett_within` of it where that is simpler. Raises
    WeavingError for a cloth of no size, and for a share that leaves nothing.
    """

    width_cm: float
    length_cm: float
    sett: float
    picks: float | None
    shares: Shares = USUAL_SHARES
    waste_cm: float = USUAL_WASTE_CM
    fringe_cm: float = USUAL_FRINGE_CM
    pieces: int = 1
    reed_per_cm: float | None = None
    sett_within: float = TOLD_WITHIN

    def __post_init__(self) -> None:
        for what, amount in (
            ("a finished width", self.width_cm),
            ("a finished length", self.length_cm),
            ("a sett", self.sett),
            ("so many picks", 1.0 if self.picks is None else self.picks),
            ("a number of pieces", self.pieces),
        ):
            if not amount > 0:
                raise WeavingError(f"{what} of {amount:g}; give a number above 0")
        each = self.shares
        for share in (each.take_up, each.draw_in, each.shrinkage_length, each.shrinkage_width):
            if not 0 <= share < 1:
                raise WeavingError(f"a share of {100 * share:g} %; give a number from 0 to 99")


@dataclass(frozen=True, slots=True)
class Plan:
    """What the cloth takes: lengths in cm, `sett` and `picks_per_cm` as the reed makes them.

    `dent_ends` lie in the dents by turns, none where no reed is told. `woven_cm` is one piece under tension; `warp_cm`
    the length of warp in all.
    """

    ends: int
    sett: float
    picks_per_cm: float
    dent_ends: tuple[int, ...]
    dents: int | None
    width_in_reed_cm: float
    woven_cm: float
    picks: int
    warp_cm: float


@dataclass(frozen=True, slots=True)
class YarnNeed:
    """A yarn's length in all its threads, and its weight where its size is known."""

    name: str
    threads: int
    metres: float
    grams: float | None


def plan(wish: Wish) -> Plan:
    """Return what a cloth takes; raises WeavingError where the reed is too fine or too coarse for its sett."""
    sett = wish.sett
    in_dents: tuple[int, ...] = ()
    if wish.reed_per_cm is not None:
        try:
            in_dents = mixed_dents(wish.sett / wish.reed_per_cm, wish.sett_within)
        except ValueError as error:
            raise WeavingError(f"that reed does not suit the sett: {error}; take another reed") from error
        sett = sum(in_dents) / len(in_dents) * wish.reed_per_cm
    picks = sett if wish.picks is None else wish.picks
    shares = wish.shares
    width = wish.width_cm / (1 - shares.shrinkage_width) / (1 - shares.draw_in)
    ends = max(round(width * sett), 1)
    woven = wish.length_cm / (1 - shares.shrinkage_length)
    warp = wish.pieces * (woven / (1 - shares.take_up) + wish.fringe_cm) + wish.waste_cm
    return Plan(
        ends,
        sett,
        picks,
        in_dents,
        dents_for(ends, in_dents) if in_dents else None,
        ends / sett,
        woven,
        wish.pieces * ceil(woven * picks - CLOSE_ENOUGH_PICKS),
        warp,
    )


class Thread(NamedTuple):
    """A thread of a planned cloth: the name of its yarn, and how long it is."""

    yarn: str
    length_cm: float


def thread_needs(threads: int, order: Sequence[Thread], sizes: Mapping[str, float]) -> tuple[YarnNeed, ...]:
    """Return the yarns of so many threads in an order that is repeated; sizes are tex by name."""
    whole, rest = divmod(threads, len(order))
    counts = Counter({thread: whole * number for thread, number in Counter(order).items()})
    counts.update(order[:rest])
    taken: dict[str, tuple[int, float]] = {}
    for thread, number in counts.items():
        so_far, metres = taken.get(thread.yarn, (0, 0.0))
        taken[thread.yarn] = (so_far + number, metres + number * thread.length_cm / 100)
    return tuple(
        YarnNeed(name, number, metres, grams(metres, sizes[name]) if name in sizes else None)
        for name, (number, metres) in taken.items()
        if number
    )
