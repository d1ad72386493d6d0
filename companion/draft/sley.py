"""The sley plan: how many ends lie in each dent of the reed, irregular on purpose, and what follows for width and sett.

A plan stands beside the draft: it changes no shed. Dents are told from the side of end 1. `0 1 1 2 2` leaves a dent
empty, then takes single ends, then pairs: crammed and spaced, or the gaps of a lace-like denting.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from math import isfinite

from companion.draft.errors import DraftError

MOST_DENTS = 100_000
"""More is a slip: a reed of 4 m with 60 dents per inch has some 9,400."""
MOST_IN_DENT = 40
"""More ends than go through any dent."""
FINEST_REED_PER_CM = 60.0
COARSEST_REED_PER_CM = 0.1
"""Reeds made for handweaving lie far within these (common practice, no source)."""
CM_OF_REED = {"in": 2.54, "inch": 2.54, "cm": 1.0, "10 cm": 10.0, "10cm": 10.0, "dm": 10.0}
"""The lengths that a reed's dents are counted on, in cm."""
_REED = re.compile(r"\s*(?P<dents>[0-9]{1,6}(?:\.[0-9]{0,20})?)\s*(?:/\s*(?P<on>10\s?cm|[a-z]+))?\s*", re.IGNORECASE)
REED_SAMPLE = "10/in, 4/cm or 40/10 cm"
"""How a reed is written."""


@dataclass(frozen=True, slots=True)
class Sley:
    """`dents[k]` ends lie in the dent k from the side of end 1; `reed_per_cm` are the reed's dents per cm, where told.

    Without dents there is no plan. Raises DraftError for dents or a reed that cannot be.
    """

    dents: tuple[int, ...] = ()
    reed_per_cm: float | None = None

    def __post_init__(self) -> None:
        if len(self.dents) > MOST_DENTS:
            raise DraftError(f"a sley plan of {len(self.dents):,} dents", mend=f"give at most {MOST_DENTS:,}")
        for dent, ends in enumerate(self.dents, 1):
            if not 0 <= ends <= MOST_IN_DENT:
                raise DraftError(f"dent {dent} holds {ends} ends", mend=f"give 0 to {MOST_IN_DENT}")
        reed = self.reed_per_cm
        if reed is not None and not (isfinite(reed) and COARSEST_REED_PER_CM <= reed <= FINEST_REED_PER_CM):
            raise DraftError(f"a reed of {reed:g} dents per cm", mend=f"write it such as {REED_SAMPLE}")

    @property
    def ends(self) -> int:
        """How many ends the plan takes."""
        return sum(self.dents)

    @property
    def empty_before(self) -> int:
        """How many empty dents the plan has before the first that holds ends."""
        return next((dent for dent, ends in enumerate(self.dents) if ends), len(self.dents))

    @property
    def spanned(self) -> int:
        """How many dents the warp lies in, from the first that holds ends to the last."""
        after = next((dent for dent, ends in enumerate(reversed(self.dents)) if ends), 0)
        return len(self.dents) - self.empty_before - after

    @property
    def width_cm(self) -> float | None:
        """How wide the warp lies in the reed; None where reed or plan are untold."""
        return self.spanned / self.reed_per_cm if self.spanned and self.reed_per_cm else None


UNTOLD = Sley()
"""No plan and no reed."""


def even_sley(ends: int, per_dent: int, reed_per_cm: float | None = None) -> Sley:
    """Return the plan with `per_dent` ends in each dent, the rest in the last: 7 ends by 2 give `2 2 2 1`.

    Raises DraftError for a dent that takes none.
    """
    if not 0 < per_dent <= MOST_IN_DENT:
        raise DraftError(f"{per_dent} ends per dent", mend=f"give 1 to {MOST_IN_DENT}")
    whole, rest = divmod(ends, per_dent)
    return Sley((per_dent,) * whole + ((rest,) if rest else ()), reed_per_cm)


def ends_before(sley: Sley) -> tuple[int, ...]:
    """Return for each dent how many ends lie in the dents before it, and at last how many in all."""
    return tuple(accumulate(sley.dents, initial=0))


def dent_of_ends(sley: Sley) -> tuple[int, ...]:
    """Return the dent (index) that each end of the plan goes through."""
    return tuple(dent for dent, ends in enumerate(sley.dents) for _ in range(ends))


def sley_of_ends(sley: Sley, ends: Sequence[int]) -> Sley:
    """Return the plan for ends (indices) of this plan that follow each other in a new order, as when some are repeated.

    An even plan stays even; otherwise each end that was the first of a dent begins one, behind the empty dents that it
    had before it. A plan that does not tell of these ends is dropped; the reed stays.
    """
    if not sley.dents or max(ends, default=-1) >= sley.ends:
        return Sley((), sley.reed_per_cm)
    if even_sley(sley.ends, sley.dents[0] or 1).dents == sley.dents:
        return even_sley(len(ends), sley.dents[0], sley.reed_per_cm)
    dent_of_end, before = dent_of_ends(sley), ends_before(sley)
    dents: list[int] = []
    for at, end in enumerate(ends):
        dent = dent_of_end[end]
        goes_on = at > 0 and ends[at - 1] == end - 1 and dent_of_end[end - 1] == dent
        if goes_on:
            dents[-1] += 1
            continue
        if at and before[dent] == end:
            previous = dent_of_end[end - 1] if end else -1
            dents += [0] * (dent - previous - 1)
        dents.append(1)
    return Sley(tuple(dents), sley.reed_per_cm)


def widened(sley: Sley, ends: int) -> Sley:
    """Return the plan with so many ends more at each side, as many to a dent as most dents of the plan hold."""
    if not sley.dents:
        return sley
    usual = Counter(held for held in sley.dents if held).most_common(1)[0][0]
    if even_sley(sley.ends, usual).dents == sley.dents:
        return even_sley(sley.ends + 2 * ends, usual, sley.reed_per_cm)
    edge = even_sley(ends, usual).dents
    return Sley((*edge[::-1], *sley.dents, *edge), sley.reed_per_cm)


def spacing_cm(sley: Sley, ends: int) -> tuple[float, ...]:
    """Return the room of each end, in cm, by the plan; none where it is for other ends or no reed is told.

    The ends of a dent share its width; empty dents behind it belong to its last end, those before the first dent that
    holds ends to none.
    """
    if sley.reed_per_cm is None or not sley.dents or sley.ends != ends:
        return ()
    dent_cm = 1 / sley.reed_per_cm
    room: list[float] = []
    for held in sley.dents:
        if held:
            room += [dent_cm / held] * held
        elif room:
            room[-1] += dent_cm
    return tuple(room)


def dents_of_spacing(spacing: Sequence[float], reed_per_cm: float) -> tuple[int, ...] | None:
    """Return the dents that ends spaced so (cm) lie in, or None where no dents of this reed say the same.

    The inverse of `spacing_cm`, but for empty dents before the first end.
    """
    dents: list[int] = []
    at = 0
    while at < len(spacing):
        room = spacing[at] * reed_per_cm
        # The first of the ends in a dent has its share alone, unless it is the only one there.
        held = max(1, round(1 / room)) if room > 0 else 0
        if not 1 <= held <= MOST_IN_DENT or at + held > len(spacing):
            return None
        shared = [size * reed_per_cm for size in spacing[at : at + held]]
        empty = round(shared[-1] - 1 / held)
        shared[-1] -= empty
        if empty < 0 or any(abs(share * held - 1) > _NEAR for share in shared) or len(dents) + empty > MOST_DENTS:
            return None
        dents += [held, *[0] * empty]
        at += held
    return tuple(dents)


_NEAR = 0.01
"""How far, as a share, a stated spacing may be from that of the dents: files round it."""
_EXACT = 1e-6
"""How far, in dents or spaces, a product of measures may be from a whole number that it is: only its last digits.

Finer than the shares in which the finest reed divides the spaces of the coarsest raddle, one in 600.
"""


def start_dent(sley: Sley, reed_cm: float) -> int:
    """Return the dent (from 1, counted from the reed's edge at the side of end 1) in which a centred plan begins.

    What lies centred are the ends: empty dents of the plan before the first come on top of those left over.

    `reed_cm` is the length of the reed. Where an odd number of dents is left over, the one more lies at the far side.
    Raises DraftError where reed or plan are untold, or the plan is wider than the reed.
    """
    if sley.reed_per_cm is None or not sley.dents:
        raise DraftError("neither dents nor reed are told, so nothing can be centred", mend="give sley and reed")
    there = int(reed_cm * sley.reed_per_cm + _EXACT)
    if sley.spanned > there:
        raise DraftError(
            f"the plan takes {sley.spanned:,} dents and the reed has {there:,}",
            mend="take a finer reed, more ends in a dent, or fewer ends",
        )
    return max(1, (there - sley.spanned) // 2 + 1 - sley.empty_before)


def start_beside_middle(sley: Sley) -> int:
    """Return the dent in which a centred plan begins, counted from the middle of the reed to the side of end 1.

    The dent next to the middle is 1. Of an odd number of dents the one in the middle counts as 1.
    """
    return (sley.spanned + 1) // 2 + sley.empty_before


def raddle_groups(sley: Sley, spaces_per_cm: float) -> tuple[int, ...]:
    """Return how many ends lie in each space of a raddle, from the side of end 1: the warp is beamed as wide as sleyed.

    An end belongs to the space in which its dent begins. Raises DraftError where reed or plan are untold.
    """
    if sley.reed_per_cm is None or not sley.dents:
        raise DraftError("neither dents nor reed are told, so the raddle cannot be spread", mend="give sley and reed")
    if not COARSEST_REED_PER_CM <= spaces_per_cm <= FINEST_REED_PER_CM:
        raise DraftError(f"a raddle of {spaces_per_cm:g} spaces per cm", mend="write it such as 1/cm or 2/in")
    groups: list[int] = []
    for dent, ends in enumerate(sley.dents):
        space = int(dent / sley.reed_per_cm * spaces_per_cm + _EXACT)
        groups += [0] * (space + 1 - len(groups))
        groups[space] += ends
    return tuple(groups)


def parse_reed(text: str) -> float:
    """Return the dents per cm of a reed (or the spaces of a raddle) written such as `10/in`, `4/cm`, `40/10 cm`.

    Raises DraftError where it is none.
    """
    match = _REED.fullmatch(text)
    on = "" if match is None or match["on"] is None else " ".join(match["on"].lower().split())
    if match is None or on not in CM_OF_REED:
        raise DraftError(f"{text.strip()[:40]!r} is no reed", mend=f"write dents on a length, such as {REED_SAMPLE}")
    per_cm = float(match["dents"]) / CM_OF_REED[on]
    return Sley((), per_cm).reed_per_cm or per_cm


def print_reed(per_cm: float) -> str:
    """Return a reed as `parse_reed` reads it: on a length on which its dents are a whole number, where there is one."""
    exact = [
        (dents, on)
        for on in ("in", "10 cm", "cm")
        if (dents := round(per_cm * CM_OF_REED[on], 4)) / CM_OF_REED[on] == per_cm
    ]
    dents, on = next((one for one in exact if one[0].is_integer()), exact[0] if exact else (per_cm, "cm"))
    return f"{dents:g}/{on}" if exact else f"{per_cm!r}/cm"
