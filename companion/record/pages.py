"""The record in pages for a small screen: the same outline as the printed page, a few rows at a time."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, tzinfo

import numpy as np
from numpy.typing import NDArray

from companion.draft.cloth import Surface
from companion.draft.facing import Facing
from companion.draft.model import Colour
from companion.draft.units import Units
from companion.present.fell import Picture
from companion.present.record_page import RecordPage
from companion.present.wording import BETWEEN
from companion.record.chapters import Chapter, Drawing, Table, TieUpDrawing, Value, View, Words
from companion.record.drawings import (
    MOST_ENDS,
    MOST_PICKS_DRAWN,
    MOST_PICKS_LYING,
    cloth_image,
    draft_image,
    newest_words,
)
from companion.record.outline import outline
from companion.record.sheet import PieceSheet, Sheet

MOST_ROWS = 30
"""Rows on one page: what a thumb scrolls through without losing the page."""

TableRow = tuple[str, str]
_Coloured = tuple[TableRow, Colour | None]
_NAMED = frozenset(
    {
        "shafts up", "left foot", "right foot", "weft", "weight", "woven length, done or planned", "warp it takes", "to"
    }
)  # fmt: skip
"""Headings that say what their words are: these stand before them, where a page has no columns."""


def record_pages(sheet: Sheet, units: Units, facing: Facing, zone: tzinfo | None = UTC) -> tuple[RecordPage, ...]:
    """Return the pages of a record, the whole of it."""
    return tuple(page for chapter in outline(sheet, units, facing, zone) for page in _pages(chapter, facing))


def _pages(chapter: Chapter, facing: Facing) -> Iterator[RecordPage]:
    rows: list[_Coloured] = []
    for part in chapter.parts:
        match part:
            case Drawing():
                yield from _split(chapter.title, rows)
                rows = []
                yield from _picture(part, facing)
            case TieUpDrawing(title):
                rows.append(((title, ""), None))
            case Words(lines):
                rows += [(("", line), None) for line in lines]
            case Table():
                rows += [((part.title, ""), None)] if part.title else []
                yarns = part.yarns or (None,) * len(part.rows)
                rows += [(_row(part.headings, row), yarn) for row, yarn in zip(part.rows, yarns, strict=True)]
    yield from _split(chapter.title, rows)


def _split(title: str, rows: list[_Coloured]) -> Iterator[RecordPage]:
    for first in range(0, len(rows), MOST_ROWS):
        here = rows[first : first + MOST_ROWS]
        yarns = {at: yarn for at, (_, yarn) in enumerate(here) if yarn is not None}
        yield RecordPage(title, tuple(row for row, _ in here), yarns=yarns)


def _row(headings: tuple[str, ...], row: tuple[Value, ...]) -> TableRow:
    """Return the first cell and the others beside it; a number says what it counts, since no heading stands above."""
    if not headings:
        label, words = row
        return str(label), str(words)
    label = row[0] if isinstance(row[0], str) and headings[0] not in _NAMED else f"{headings[0]} {row[0]}"
    cells = (_cell(heading, value) for heading, value in zip(headings[1:], row[1:], strict=True) if value != "")
    return str(label), BETWEEN.join(cells)


def _cell(heading: str, value: Value) -> str:
    """Return a value with its heading: `7 picks in the cloth`, `end 2`, `weft 28 m`; words that need none, alone."""
    counted, _, rest = heading.partition(" ")
    if heading in _NAMED or (not isinstance(value, str) and not counted.endswith("s") and counted != "per"):
        return f"{heading} {_number(value)}"
    if isinstance(value, str) and not heading.startswith("picks per "):
        return value
    one = counted[:-1] if value == 1 else counted
    return " ".join(filter(None, (_number(value), one, rest)))


def _number(value: Value) -> str:
    return f"{value:.1f}" if isinstance(value, float) else str(value)


def _picture(drawing: Drawing, facing: Facing) -> Iterator[RecordPage]:
    piece = drawing.piece
    image: NDArray[np.uint8] | None
    if drawing.view is View.DRAFT:
        image, words = draft_image(piece.piece.draft, facing), _draft_words(piece)
    else:
        image = cloth_image(piece, Surface.FACE if drawing.view is View.FACE else Surface.BACK, facing)
        shown = f", newest {MOST_PICKS_LYING} picks" if len(piece.lying) > MOST_PICKS_LYING else ""
        words = f"{drawing.view.value}, {newest_words(facing)}{shown}"
    if image is not None:
        image.flags.writeable = False
        yield RecordPage(f"{piece.piece.name}: {words}", picture=Picture(image))


def _draft_words(piece: PieceSheet) -> str:
    draft = piece.piece.draft
    parts = [
        f"first {most} of {there} {what}"
        for there, most, what in ((draft.ends, MOST_ENDS, "ends"), (draft.picks, MOST_PICKS_DRAWN, "picks"))
        if there > most
    ]
    return ", ".join([View.DRAFT.value, *parts])
