"""All that the program tells of a draft and its cloth, worked out together."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from companion.draft.checks import Finding, check
from companion.draft.cloth import crossings_of
from companion.draft.floats import LongestFloats, NeverInterlacing, longest_floats, never_interlacing
from companion.draft.layers import JoinedLayers, Layer, joins, layers
from companion.draft.masks import Shed
from companion.draft.model import Draft
from companion.draft.selvedge import Selvedges, selvedges
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


def facts_of(draft: Draft, *, counterbalanced: bool = False) -> Facts:
    """Work out all facts of a draft, for a loom whose shafts move against each other or not."""
    woven = crossings_of(draft)
    found = layers(woven)
    return Facts(
        draft=draft,
        picks_of_shed=tuple(Counter(draft.sheds_of_ends()).items()),
        floats=longest_floats(woven),
        loose=never_interlacing(woven),
        layers=found,
        joins=joins(found, draft.weft),
        selvedges=selvedges(draft, found),
        findings=check(draft, counterbalanced=counterbalanced),
        tabby=tabby_sheds(draft.threading),
    )
