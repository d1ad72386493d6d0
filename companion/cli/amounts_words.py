"""Weft and warp yarn in lines and in JSON, as both kinds of amounts print them."""

from __future__ import annotations

from collections.abc import Iterable

from companion.draft.units import (
    NOT_KNOWN,
    Units,
    measured_words,
    measured_yarn_words,
    weight_range_words,
    weight_words,
    yarn_range_words,
    yarn_size_words,
)
from companion.present.laid_in_words import lengths_words
from companion.present.plan_words import UNTIL_LENGTH
from companion.present.yarn_read_words import read_words
from companion.weaving.warp import Warp, YarnSize
from companion.weaving.yarn_needs import WarpYarn, WeftNeed, YarnTotal
from companion.weaving.yarn_written import read_yarn

Document = dict[str, object]


def weft_lines(needs: Iterable[WeftNeed | YarnTotal], units: Units, certain: bool = True) -> list[str]:
    """Return a line for each shuttle: its picks, length and weight; not `certain`: they are repeated to a length."""
    return [
        f"  weft {need.name}: {need.picks} picks, {_laid_in(need, units)}"
        f"{_or_not_known('length', yarn_range_words(need.metres, units))}, "
        f"{_or_not_known('weight', weight_range_words(need.grams, units))}{'' if certain else UNTIL_LENGTH}"
        for need in needs
    ]


def _laid_in(need: WeftNeed | YarnTotal, units: Units) -> str:
    words = lengths_words(need.laid_in, units)
    return f"{words}; " if words else ""


def weft_document(needs: Iterable[WeftNeed | YarnTotal]) -> list[Document]:
    """Return the needs as JSON-ready values, metres and grams as (least, likely, most)."""
    return [
        {
            "shuttle": need.name,
            "picks": need.picks,
            "metres": None if need.metres is None else list(need.metres),
            "grams": None if need.grams is None else list(need.grams),
            "laid_in": [{"number": laid.number, "length_cm": laid.length_cm or None} for laid in need.laid_in],
        }
        for need in needs
    ]


def warp_lines(yarns: Iterable[WarpYarn], units: Units) -> list[str]:
    """Return a line for each yarn of the warp: its ends, length and weight."""
    return [
        f"  warp {yarn.name}: {yarn.ends} ends, "
        f"{_or_not_known('length', measured_yarn_words(yarn.metres, units))}, "
        f"{_or_not_known('weight', weight_words(yarn.grams, units))}"
        for yarn in yarns
    ]


def _or_not_known(what: str, words: str) -> str:
    return f"{what} {words}" if words == NOT_KNOWN else words


def size_lines(warp: Warp, units: Units) -> list[str]:
    """Return a line for each yarn whose size is known, so that the weaver sees how it was read."""
    return [f"  yarn {size.yarn}: {_size_words(size, units)}" for size in warp.sizes]


def _size_words(size: YarnSize, units: Units) -> str:
    """Return a size as it was said, what it comes to, and by whose system it was read."""
    try:
        read = read_yarn(size.words)
    except ValueError:
        # Nothing was said, or it was read by an earlier version.
        return ", ".join(filter(None, (size.words, yarn_size_words(size.tex, units))))
    return read_words(size.words, read, units)


def between_lines(warp: Warp, piece: int, units: Units) -> list[str]:
    """Return what is kept or cut away with a piece (index) besides its cloth, in one line or none."""
    parts = [
        f"{what} {measured_words(length_cm, units)}"
        for what, length_cm in (("fringe", warp.pieces[piece].fringe_cm), ("spacer", warp.pieces[piece].spacer_cm))
        if length_cm
    ]
    return [f"  {', '.join(parts)}"] if parts else []
