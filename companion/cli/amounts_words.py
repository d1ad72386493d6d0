"""Weft and warp yarn in lines and in JSON, as both kinds of amounts print them."""

from __future__ import annotations

from collections.abc import Iterable

from companion.draft.units import measured_words, size_words, weight_amount, yarn_amount
from companion.record.wording import metres_words, weight_words
from companion.weaving.warp import Warp
from companion.weaving.yarn_needs import WarpYarn, WeftNeed, YarnTotal

Document = dict[str, object]


def weft_lines(needs: Iterable[WeftNeed | YarnTotal], indent: str = "  ") -> list[str]:
    """Return a line for each shuttle: its picks, metres and grams."""
    return [
        f"{indent}weft {need.name}: {need.picks} picks, {metres_words(need.metres)}, {weight_words(need.grams)}"
        for need in needs
    ]


def weft_document(needs: Iterable[WeftNeed | YarnTotal]) -> list[Document]:
    """Return the needs as JSON-ready values, metres and grams as (least, likely, most)."""
    return [
        {
            "shuttle": need.name,
            "picks": need.picks,
            "metres": None if need.metres is None else list(need.metres),
            "grams": None if need.grams is None else list(need.grams),
        }
        for need in needs
    ]


def warp_lines(yarns: Iterable[WarpYarn]) -> list[str]:
    """Return a line for each yarn of the warp: its ends, metres and grams."""
    return [f"  warp {yarn.name}: {yarn.ends} ends, {_yarn_words(yarn)}" for yarn in yarns]


def size_lines(warp: Warp) -> list[str]:
    """Return a line for each yarn whose size is known, so that the weaver sees how it was read."""
    return [
        f"  yarn {size.yarn}: {f'{size.words}, ' if size.words else ''}{size_words(size.tex)}" for size in warp.sizes
    ]


def between_lines(warp: Warp, piece: int) -> list[str]:
    """Return what is kept or cut away with a piece (index) besides its cloth, in one line or none."""
    parts = [
        f"{what} {measured_words(length_cm)}"
        for what, length_cm in (("fringe", warp.pieces[piece].fringe_cm), ("spacer", warp.pieces[piece].spacer_cm))
        if length_cm
    ]
    return [f"  {', '.join(parts)}"] if parts else []


def _yarn_words(yarn: WarpYarn) -> str:
    amounts = ((yarn.metres, yarn_amount), (yarn.grams, weight_amount))
    parts = (
        f"{in_units(1)[1]} not known" if amount is None else "{:.1f} {}".format(*in_units(amount))
        for amount, in_units in amounts
    )
    return ", ".join(parts)
