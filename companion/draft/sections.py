"""The sections of a draft as a weaver sets them apart and changes them; a draft without any is one section."""

from __future__ import annotations

from dataclasses import replace
from itertools import accumulate

from companion.draft.errors import DraftError
from companion.draft.model import Draft, LaidIn, Section

ALL_OF_IT = "All of it"
"""The section of a draft that has neither sections nor a title."""


def sections_of(draft: Draft) -> tuple[Section, ...]:
    """Return the sections of the draft; one of all its picks where none is named."""
    return draft.sections or (Section(draft.title or ALL_OF_IT, draft.picks),)


def section_at(draft: Draft, pick: int) -> int:
    """Return which of its `sections_of` (index) a pick (index) is in; raises DraftError where there is no such pick."""
    for index, end in enumerate(accumulate(section.picks for section in sections_of(draft))):
        if 0 <= pick < end:
            return index
    raise DraftError(f"there is no pick {pick + 1}", mend=f"there are {draft.picks}")


def with_section(draft: Draft, index: int, section: Section) -> Draft:
    """Return the draft with this in the place of one of its `sections_of`; raises DraftError where it does not fit."""
    sections = sections_of(draft)
    return replace(draft, sections=(*sections[:index], section, *sections[index + 1 :]))


def wefts_of(draft: Draft, index: int) -> tuple[int, ...]:
    """Return the yarns (indices) of the weft of a section, in order of first use."""
    sections = sections_of(draft)
    first = sum(section.picks for section in sections[:index])
    return tuple(dict.fromkeys(draft.weft[first : first + sections[index].picks]))


def set_apart(draft: Draft, first: int, last: int) -> tuple[Draft, int]:
    """Return the draft with the picks from `first` up to before `last` as a section, and which one (index) that is.

    What is laid in there stays laid in. Raises DraftError for picks of more than one section, and for some of the
    picks of one that is woven to a length: they are one repeat.
    """
    sections = sections_of(draft)
    index = section_at(draft, first)
    end = sum(section.picks for section in sections[: index + 1])
    if not first < last <= end:
        raise DraftError(f"picks {first + 1} to {last} are not of one section", mend="mark some of one")
    whole, begins = sections[index], end - sections[index].picks
    if (first, last) == (begins, end):
        return replace(draft, sections=sections), index
    if whole.until_cm is not None:
        raise DraftError(
            f"section {whole.name!r:.40} is woven to a length, so its picks stay together",
            mend="weave it once, then part it",
        )
    parts = [(begins, first, whole.name), (first, last, f"Section {index + 2}"), (last, end, whole.name)]
    made = tuple(
        Section(name, stop - start, laid_in=_laid_among(whole.laid_in, draft.weft[start:stop]))
        for start, stop, name in parts
        if stop > start
    )
    apart = replace(draft, sections=(*sections[:index], *made, *sections[index + 1 :]))
    return apart, index + (first > begins)


def laid_in_as(section: Section, yarn: int, laid_in: LaidIn | None) -> Section:
    """Return the section with the weft of a yarn (index) laid in like this, or thrown where that is None."""
    others = [laid for laid in section.laid_in if laid.yarn != yarn]
    both = [*others, *([] if laid_in is None else [laid_in])]
    return replace(section, laid_in=tuple(sorted(both, key=lambda laid: laid.yarn)))


def _laid_among(laid_in: tuple[LaidIn, ...], weft: tuple[int, ...]) -> tuple[LaidIn, ...]:
    woven = set(weft)
    return tuple(laid for laid in laid_in if laid.yarn in woven)
