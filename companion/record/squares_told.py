"""What the record says of the squares of a gamp that the weaver marked."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import tzinfo

from companion.present.square_words import STAR, area_words, cloth_words, named_marks
from companion.record.sheet import PieceSheet, Sheet
from companion.record.wording import time_words
from companion.weaving.state import MarkedSquare

HEADINGS = ("square", "where", "mark", "words", "time")


def square_rows(sheet: Sheet, piece: PieceSheet, zone: tzinfo | None) -> Iterator[tuple[str, ...]]:
    """Yield a row for each marked square of a piece, in the order of marking; see `HEADINGS`."""
    for name, one in _marked(sheet, piece):
        where = ", ".join(filter(None, (area_words(one.area), cloth_words(one.area, frozenset(piece.lying)))))
        yield name, where, STAR if one.starred else "", one.text, time_words(one.at_ms, zone)


def squares_document(sheet: Sheet, piece: PieceSheet, zone: tzinfo | None) -> list[dict[str, object]]:
    """Return the same as JSON-ready values; ends and picks count from 1."""
    return [
        {
            "name": name,
            "ends": [one.area.first_end + 1, one.area.last_end],
            "picks": [one.area.first_pick + 1, one.area.last_pick],
            "star": one.starred,
            "words": one.text,
            "picks_in_cloth": len(frozenset(piece.lying) & set(range(one.area.first_pick, one.area.last_pick))),
            "time": time_words(one.at_ms, zone, seconds=True),
        }
        for name, one in _marked(sheet, piece)
    ]


def _marked(sheet: Sheet, piece: PieceSheet) -> list[tuple[str, MarkedSquare]]:
    marked = (one for one in sheet.told.progress.now.squares if one.piece == piece.index)
    return named_marks(piece.piece.draft, marked)
