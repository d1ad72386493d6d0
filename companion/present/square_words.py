"""Marked squares of a gamp in words."""

from __future__ import annotations

from collections.abc import Iterable, Set
from dataclasses import replace

from companion.draft.gamp import Area, gamp_of, squares_of
from companion.draft.model import Draft
from companion.draft.units import counted
from companion.weaving.events import SquareMarked
from companion.weaving.state import MarkedSquare

STAR = "star"


def area_words(area: Area) -> str:
    """Return where an area lies: `ends 1 to 24, picks 25 to 48`."""
    return f"ends {area.first_end + 1} to {area.last_end}, picks {area.first_pick + 1} to {area.last_pick}"


def cloth_words(area: Area, lying: Set[int]) -> str:
    """Return how much of an area lies in the cloth, by its picks (indices); empty where all of it does.

    A mark stands when the cloth that it was put on is taken out; who reads it learns that it is.
    """
    woven = sum(pick in lying for pick in range(area.first_pick, area.last_pick))
    if woven == area.picks:
        return ""
    return f"{woven} of {counted(area.picks, 'pick')} in the cloth" if woven else "not in the cloth"


def mark_words(starred: bool, text: str, cloth: str = "") -> str:
    """Return a mark: `star; lies flat`, `star`, or `no mark`; behind it `cloth`, where its cloth is not all there."""
    return "; ".join(filter(None, (STAR if starred else "", text, cloth))) or "no mark"


def named_marks(draft: Draft, marked: Iterable[MarkedSquare]) -> list[tuple[str, MarkedSquare]]:
    """Return marks on a draft's cloth with what each square is called there: `Point on Rosepath`, or where it lies."""
    marks = list(marked)
    # Reading a long treadling takes a moment: only where there is a mark.
    squares = squares_of(gamp_of(draft), draft) if marks else {}
    return [(squares[one.area].name if one.area in squares else area_words(one.area), one) for one in marks]


def marks_told(draft: Draft, marked: Iterable[MarkedSquare], lying: Set[int] | None = None) -> list[str]:
    """Return marks on a draft's cloth, one a line; with `lying`, the picks in the cloth, what is not there is said."""
    return [
        f"marked  {name}: {mark_words(one.starred, one.text, '' if lying is None else cloth_words(one.area, lying))}"
        for name, one in named_marks(draft, marked)
    ]


def with_mark(square: Draft, marked: Iterable[MarkedSquare], area: Area) -> Draft:
    """Return the draft of a square with the words that it was marked with among its notes."""
    bare = replace(area, name="")
    words = [one.text for one in marked if one.area == bare and one.text]
    return replace(square, notes=(*square.notes, *(f"Marked at the loom: {text}" for text in words)))


def marked_words(event: SquareMarked) -> str:
    """Return a square marked: `ends 1 to 24, picks 25 to 48: star; lies flat`."""
    area = Area(event.first_end, event.last_end, event.first_pick, event.last_pick)
    return f"{area_words(area)}: {mark_words(event.starred, event.text)}"
