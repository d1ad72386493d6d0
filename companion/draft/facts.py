"""All that the program tells of a draft and its cloth, worked out together."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace

from companion.draft.checks import Finding, check
from companion.draft.cloth import crossings, crossings_of
from companion.draft.floats import LongestFloats, NeverInterlacing, Threads, longest_floats, never_interlacing
from companion.draft.layers import JoinedLayers, Layer, joins, layers
from companion.draft.masks import Shed
from companion.draft.model import Draft
from companion.draft.selvedge import Selvedges, floating_ends, selvedges
from companion.draft.tabby import tabby_sheds


@dataclass(frozen=True, slots=True)
class Facts:
    """The facts of a draft.

    `picks_of_shed` has each different shed (of shafts with ends) in order of first use, with its picks; `tabby` are the
    sheds of plain weave on the threading, where it has any.
    """

    draft: Draft
    picks_of_shed: tuple[tuple[Shed, int], ...]
    floats: tuple[LongestFloats, ...]
    loose: NeverInterlacing
    layers: tuple[Layer, ...]
    joins: tuple[JoinedLayers, ...]
    selvedges: Selvedges
    findings: tuple[Finding, ...]
    tabby: tuple[Shed, Shed] | None


def floats_of(draft: Draft, places: int = 3) -> tuple[LongestFloats, ...]:
    """Return the longest floats as `longest_floats` does, between the floating selvedges where there are any.

    Those are passed over and under by hand, so that neither they nor the weft float there.
    """
    floating = floating_ends(draft)
    if not floating:
        return longest_floats(crossings_of(draft), places)
    first = int(0 in floating)
    inner = draft.threading[first : draft.ends - int(draft.ends - 1 in floating)]
    return tuple(_further_in(floats, first) for floats in longest_floats(crossings(inner, draft.sheds()), places))


def _further_in(floats: LongestFloats, ends: int) -> LongestFloats:
    """Return floats with their places counted from so many ends before."""
    if floats.threads is Threads.WARP:
        places = tuple(replace(one, thread=one.thread + ends) for one in floats.places)
    else:
        places = tuple(replace(one, first=one.first + ends) for one in floats.places)
    return replace(floats, places=places)


def facts_of(draft: Draft, *, counterbalanced: bool = False) -> Facts:
    """Work out all facts of a draft, for a loom whose shafts move against each other or not."""
    woven = crossings_of(draft)
    found = layers(woven)
    return Facts(
        draft=draft,
        picks_of_shed=tuple(Counter(draft.sheds_of_ends()).items()),
        floats=floats_of(draft),
        loose=never_interlacing(woven),
        layers=found,
        joins=joins(found, draft.weft),
        selvedges=selvedges(draft, found),
        findings=check(draft, counterbalanced=counterbalanced),
        tabby=tabby_sheds(draft.threading),
    )
