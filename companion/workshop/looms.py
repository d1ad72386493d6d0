"""The looms that this weaver owns: what each is, and how it is tied now. They are kept in a file (`looms_file`)."""

from __future__ import annotations

import math
import unicodedata
from dataclasses import replace
from itertools import zip_longest

from companion.draft.masks import Shed, every_shaft, union, without
from companion.draft.model import MOST_SHAFTS, MOST_THREADS
from companion.draft.units import Units, length_words
from companion.remap.askable import check_askable
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Action, Loom, Tie, TieUp
from companion.weaving.warp import NO_NAME, LoomProfile

UNNAMED_LOOM = LoomProfile(NO_NAME, Loom(1, 1))
"""What is reckoned with where no loom is chosen: it has no waste, and its width is not known."""
LONGEST_NAME = 80
"""Characters in a loom's name."""
LONGEST_CM = 100_000.0
"""No loom is wider, none wastes more: a slip of the hand."""
AS_KEPT = Units.METRIC
"""What the file of looms has its lengths in, and what is said of it when one makes no sense."""
ALL_SHAFTS = every_shaft(MOST_SHAFTS)

Looms = tuple[LoomProfile, ...]
"""Looms by name, sorted without regard to capitals."""


class LoomsError(ValueError):
    """A loom that cannot be, is not known, or a file of looms that cannot be used: one clear line."""


def loom_named(looms: Looms, name: str) -> LoomProfile:
    """Return the loom of this name, capitals apart; raises LoomsError that names the looms there are."""
    at = _at(looms, name)
    if at is None:
        known = ", ".join(loom.name for loom in looms) or "none yet"
        raise LoomsError(f"no loom is called {name!r:.60}; the looms here are: {known}")
    return looms[at]


def with_loom(looms: Looms, loom: LoomProfile) -> Looms:
    """Return the looms with this one, in the place of one of its name; raises LoomsError where it cannot be."""
    loom = checked(loom)
    others = [other for other in looms if _key(other.name) != _key(loom.name)]
    return tuple(sorted([*others, loom], key=lambda other: _key(other.name)))


def with_loom_kept(looms: Looms, loom: LoomProfile, was: str) -> Looms:
    """Return the looms with this one, which was called `was` before (empty for a new one).

    Raises LoomsError where another loom is called as this one is.
    """
    others = without_loom(looms, was) if was else looms
    if any(same_loom(other.name, loom.name) for other in others):
        raise LoomsError(f"another loom is called {loom.name!r}; give this one another name")
    return with_loom(others, loom)


def without_loom(looms: Looms, name: str) -> Looms:
    """Return the looms without the one of this name; raises LoomsError where it is not among them."""
    gone = loom_named(looms, name)
    return tuple(loom for loom in looms if loom is not gone)


def tied_now(looms: Looms, name: str, tieup: TieUp, told: Shed = ALL_SHAFTS) -> Looms:
    """Return the looms, the one of this name now tied so; the same looms where none is called so or it cannot be.

    Called when a warp is tied on a loom: `tied_now(looms, warp.loom.name, stage.tieup)`. Of treadles beyond the tie-up,
    and of cords to shafts that are not `told`, nothing is known: they stay as they were.
    """
    at = _at(looms, name)
    if at is None or looms[at].loom.action is Action.LEVERS:
        return looms
    before = looms[at].present or ()
    upper = (Tie(without(tie.up, told), without(tie.down, told)) for tie in before)
    lower = zip_longest(tieup, upper, fillvalue=Tie())
    merged = tuple(Tie(union((new.up, old.up)), union((new.down, old.down))) for new, old in lower)
    try:
        return with_loom(looms, replace(looms[at], present=(*merged[: len(tieup)], *before[len(tieup) :])))
    except LoomsError:
        # A loom of the same name, but smaller: another loom than the warp is on.
        return looms


def same_loom(one: str, other: str) -> bool:
    """Tell whether two names are of one loom: capitals and spaces do not tell looms apart."""
    return _key(one) == _key(other)


def checked(loom: LoomProfile) -> LoomProfile:
    """Return the loom with its name tidied; raises LoomsError that says what about it cannot be, and how to mend it."""
    name = unicodedata.normalize("NFC", " ".join(loom.name.split()))
    if not name or not name.isprintable() or len(name) > LONGEST_NAME:
        raise LoomsError(f"the name {loom.name!r:.60}; give a loom 1 to {LONGEST_NAME} letters that can be shown")
    if _key(name) == NO_NAME:
        raise LoomsError(f"{name!r} is what a loom without a name is called; give a name that tells it from others")
    try:
        check_askable(loom.loom, loom.present)
    except RemapError as error:
        raise LoomsError(str(error)) from error
    if loom.weaving_width_cm is not None and not 0 < loom.weaving_width_cm <= LONGEST_CM:
        width = length_words(loom.weaving_width_cm, AS_KEPT)
        raise LoomsError(f"a weaving width of {width}; give a number above 0, or leave it out")
    if not (math.isfinite(loom.loom_waste_cm) and 0 <= loom.loom_waste_cm <= LONGEST_CM):
        raise LoomsError(f"a loom waste of {length_words(loom.loom_waste_cm, AS_KEPT)}; give a number from 0")
    if len(loom.heddles) > loom.loom.shafts or not all(0 <= heddles <= MOST_THREADS for heddles in loom.heddles):
        raise LoomsError(
            f"heddles for {len(loom.heddles)} shafts; give a number up to {MOST_THREADS:,} for each of the "
            f"{loom.loom.shafts}, shaft 1 first"
        )
    return replace(loom, name=name)


def is_kept(looms: Looms, name: str) -> bool:
    """Tell whether a loom of this name is among these."""
    return _at(looms, name) is not None


def _at(looms: Looms, name: str) -> int | None:
    return next((at for at, loom in enumerate(looms) if _key(loom.name) == _key(name)), None)


def _key(name: str) -> str:
    return unicodedata.normalize("NFC", " ".join(name.split())).casefold()
