"""Marked squares of a gamp in words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from companion.draft.gamp import Area, gamp_of, squares_of
from companion.draft.model import Draft
from companion.weaving.events import SquareMarked
from companion.weaving.state import MarkedSquare

STAR = "star"


def area_words(area: Area) -> str:
    """Return where an area lies: `ends 1 to 24, picks 25 to 48`."""
    return f"ends {area.first_end + 1} to {area.last_end}, picks {area.first_pick + 1} to {area.last_pick}"


def mark_words(starred: bool, text: str) -> str:
    """Return a mark: `star; lies flat`, `star`, or `no mark`."""
    return "; ".join(filter(None, (STAR if starred else "", text))) or "no mark"


def named_marks(draft: Draft, marked: Iterable[MarkedSquare]) -> list[tuple[str, MarkedSquare]]:
    """Return marks on a draft's cloth with what each square is called there: `Point on Rosepath`, or where it lies."""
    marks = list(marked)
    # Reading a long treadling takes a moment: only where there is a mark.
    squares = squares_of(gamp_of(draft), draft) if marks else {}
    return [(squares[one.area].name if one.area in squares else area_words(one.area), one) for one in marks]


def marks_told(draft: Draft, marked: Iterable[MarkedSquare]) -> list[str]:
    """Return marks on a draft's cloth, one a line."""
    return [f"marked  {name}: {mark_words(one.starred, one.text)}" for name, one in named_marks(draft, marked)]


def with_mark(square: Draft, marked: Iterable[MarkedSquare], area: Area) -> Draft:
    """Return the draft of a square with the words that it was marked with among its notes."""
    bare = replace(area, name="")
    words = [one.text for one in marked if one.area == bare and one.text]
    return replace(square, notes=(*square.notes, *(f"Marked at the loom: {text}" for text in words)))


def marked_words(event: SquareMarked) -> str:
    """Return a square marked: `ends 1 to 24, picks 25 to 48: star; lies flat`."""
    area = Area(event.first_end, event.last_end, event.first_pick, event.last_pick)
    return f"{area_words(area)}: {mark_words(event.starred, event.text)}"
