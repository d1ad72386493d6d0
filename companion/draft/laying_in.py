"""Wefts that are laid in or cut at each pick: which picks they are, and how long each of their lengths is.

A stick, a rush, a strip of rag or an inlay is laid into the shed by hand. It comes from no side, leaves nothing on one,
turns round no selvedge, and is counted in pieces.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import accumulate
from typing import NamedTuple

from companion.draft.model import Draft, LaidIn, Section
from companion.draft.sections import sections_of


class Weft(NamedTuple):
    """How a weft goes in: a yarn (index) thrown, or laid in at each pick in lengths of `length_cm`, 0 where untold."""

    yarn: int
    laid_in: bool = False
    length_cm: float = 0.0


def weft_at(draft: Draft, laid_in: Mapping[int, LaidIn], pick: int) -> Weft:
    """Return how the weft of a pick (index) goes in, given those that are laid in."""
    laid = laid_in.get(pick)
    return Weft(draft.weft[pick]) if laid is None else Weft(laid.yarn, True, laid.length_cm or 0.0)


def laid_in_at(draft: Draft) -> Mapping[int, LaidIn]:
    """Return for each pick (index) that is laid in what is laid in there; empty for most drafts."""
    return dict(_laid(draft)) if any(section.laid_in for section in draft.sections) else {}


def laid_in_among(draft: Draft, picks: frozenset[int]) -> tuple[LaidIn, ...]:
    """Return what is laid in at any of these picks (indices), each yarn once, in order of its number."""
    found = {laid.yarn: laid for pick, laid in laid_in_at(draft).items() if pick in picks}
    return tuple(found[yarn] for yarn in sorted(found))


def only_laid_in(draft: Draft, laid_in: Mapping[int, LaidIn]) -> frozenset[int]:
    """Return the yarns (indices) of the weft that no shuttle carries at any pick, given those that are laid in."""
    if not laid_in:
        return frozenset()
    return frozenset(draft.weft) - {yarn for pick, yarn in enumerate(draft.weft) if pick not in laid_in}


def thrown_yarns(draft: Draft) -> tuple[int, ...]:
    """Return the yarns (indices) of the weft that a shuttle carries, in order of first use."""
    by_hand = only_laid_in(draft, laid_in_at(draft))
    return tuple(yarn for yarn in draft.shuttles() if yarn not in by_hand)


def lay_in(draft: Draft, name: str, length_cm: float | None) -> Draft:
    """Return the draft with the weft of this name laid in at each of its picks, in such lengths where that is told.

    A draft without sections gets one. Raises DraftError for a length that cannot be; a draft without that weft is
    returned as it is.
    """
    yarns = {yarn for yarn in draft.weft if draft.yarns[yarn].name == name}
    return _with(draft, yarns, tuple(LaidIn(yarn, length_cm) for yarn in sorted(yarns))) if yarns else draft


def throw(draft: Draft, name: str) -> Draft:
    """Return the draft with the weft of this name thrown by a shuttle everywhere."""
    return _with(draft, {yarn for yarn in range(len(draft.yarns)) if draft.yarns[yarn].name == name}, ())


def _with(draft: Draft, yarns: set[int], instead: tuple[LaidIn, ...]) -> Draft:
    sections, first = [], 0
    for section in sections_of(draft):
        woven = set(draft.weft[first : first + section.picks])
        kept = tuple(laid for laid in section.laid_in if laid.yarn not in yarns)
        now = tuple(sorted((*kept, *(laid for laid in instead if laid.yarn in woven)), key=lambda laid: laid.yarn))
        sections.append(replace(section, laid_in=now))
        first += section.picks
    return replace(draft, sections=tuple(sections)) if draft.sections or instead else draft


def renumbered(section: Section, new: Mapping[int, int]) -> Section:
    """Return a section whose wefts have new numbers; a weft without one is not laid in any more."""
    if not section.laid_in:
        return section
    kept = tuple(LaidIn(new[laid.yarn], laid.length_cm) for laid in section.laid_in if laid.yarn in new)
    return Section(section.name, section.picks, section.until_cm, kept)


def _laid(draft: Draft) -> Iterator[tuple[int, LaidIn]]:
    for section, end in zip(draft.sections, accumulate(section.picks for section in draft.sections), strict=True):
        of_yarn = {laid.yarn: laid for laid in section.laid_in}
        if of_yarn:
            for pick in range(end - section.picks, end):
                if (laid := of_yarn.get(draft.weft[pick])) is not None:
                    yield pick, laid
