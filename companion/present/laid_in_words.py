"""Wefts that are laid in at each pick, in words: which, how many, and how long each is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from companion.draft.model import Section, Yarn
from companion.draft.units import Units, length_words
from companion.weaving.yarn_needs import LaidLengths, WeftNeed, YarnTotal

_BETWEEN = "; "


def section_laid_in_words(section: Section, yarns: Sequence[Yarn], units: Units) -> str:
    """Return what a section lays in: `rush laid in, 14 in each; twig laid in`; empty for none."""
    return _BETWEEN.join(
        f"{yarns[laid.yarn].name} laid in{_each(laid.length_cm or 0.0, units)}" for laid in section.laid_in
    )


def lengths_words(laid_in: Iterable[LaidLengths], units: Units) -> str:
    """Return how many are laid in: `40 laid in, 14 in each`; empty for none.

    Those whose length nobody told are counted as if thrown, which is said.
    """
    return _BETWEEN.join(
        f"{laid.number:,} laid in{_each(laid.length_cm, units) or ', counted as if thrown'}" for laid in laid_in
    )


def section_name_words(section: Section, yarns: Sequence[Yarn], units: Units) -> str:
    """Return a section's name with what it lays in: `Mat; rush laid in, 14 in each`."""
    return _BETWEEN.join(filter(None, (section.name, section_laid_in_words(section, yarns, units))))


def need_name_words(need: WeftNeed | YarnTotal, units: Units) -> str:
    """Return the name of a weft with what of it is laid in: `rush; 40 laid in, 14 in each`."""
    return _BETWEEN.join(filter(None, (need.name, lengths_words(need.laid_in, units))))


def _each(length_cm: float, units: Units) -> str:
    return f", {length_words(length_cm, units)} each" if length_cm else ""
