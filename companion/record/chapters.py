"""Of what a record is made: chapters of tables, words and drawings, every number in words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from companion.draft.model import Colour
from companion.record.sheet import PieceSheet
from companion.remap.loom.loom import TieUp

Value = str | int | float
"""What stands in a cell: a number is set to the right."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings; without headings each row is a label and what belongs to it. `title` may be empty.

    `yarns` are the colours of the yarns that the rows are about, one for each row, where they are.
    """

    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[Value, ...], ...]
    yarns: tuple[Colour, ...] = ()


@dataclass(frozen=True, slots=True)
class Words:
    """Sentences, one a line."""

    lines: tuple[str, ...]


class View(Enum):
    """What is drawn of a piece; the value is what it is called."""

    DRAFT = "the draft"
    FACE = "face"
    BACK = "back"


@dataclass(frozen=True, slots=True)
class Drawing:
    """A picture of a piece."""

    view: View
    piece: PieceSheet


@dataclass(frozen=True, slots=True)
class TieUpDrawing:
    """A picture of a tie-up on a loom of so many shafts."""

    title: str
    tieup: TieUp
    shafts: int


ChapterPart = Table | Words | Drawing | TieUpDrawing


@dataclass(frozen=True, slots=True)
class Chapter:
    """A titled run of parts, in the order in which they are read."""

    title: str
    parts: tuple[ChapterPart, ...]


def table(headings: tuple[str, ...], rows: Iterable[tuple[Value, ...]], title: str = "") -> tuple[Table, ...]:
    """Return a table of these rows; none where there are none."""
    every = tuple(rows)
    return (Table(title, headings, every),) if every else ()
