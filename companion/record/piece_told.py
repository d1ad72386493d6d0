"""What the record says of one piece: its state, drawings, ties, feet, sections, shuttles, squares and jumps."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import tzinfo

from companion.draft.masks import print_shed
from companion.draft.units import Units, counted, length_words, measured_words
from companion.present.durations import duration_words
from companion.present.laid_in_words import section_name_words
from companion.present.wording import treadle_words
from companion.record.chapters import Chapter, ChapterPart, Drawing, Table, TieUpDrawing, Value, View, Words, table
from companion.record.planned import piece_plan
from companion.record.sheet import FootingRow, PieceSheet, Sheet
from companion.record.squares_told import HEADINGS, square_rows
from companion.record.wording import event_kind, event_words, tie_words, time_words
from companion.weaving.events import Jumped, ReTied, TieUpAccepted
from companion.weaving.history import PieceTold


def piece_chapter(sheet: Sheet, piece: PieceSheet, units: Units, zone: tzinfo | None) -> Chapter:
    """Return the chapter of a piece."""
    views = (View.DRAFT, View.FACE, View.BACK) if piece.lying else (View.DRAFT,)
    return Chapter(
        f"Piece {piece.index + 1}: {piece.piece.name}",
        (
            Table("", (), tuple(_state(piece, units))),
            *(Drawing(view, piece) for view in views),
            *((Words(piece.piece.draft.notes),) if piece.piece.draft.notes else ()),
            *_tieups(sheet, piece),
            *table(("time", "what"), _tied(sheet, piece, units, zone), "Tied"),
            *_feet(piece),
            Table(
                "Sections",
                ("section", "picks listed", "woven to", "picks in the cloth"),
                tuple(
                    (
                        section_name_words(section, piece.piece.draft.yarns, units),
                        row.listed,
                        "" if row.until_cm is None else length_words(row.until_cm, units),
                        row.lying,
                    )
                    for row, section in zip(piece.sections, piece.piece.sections, strict=True)
                ),
            ),
            Table(
                "Shuttles",
                ("shuttle", "picks in the cloth", "bobbins put in"),
                tuple((row.name, row.picks, row.bobbins) for row in piece.shuttles),
                tuple(piece.piece.draft.yarns[row.yarn].colour for row in piece.shuttles),
            ),
            *table(HEADINGS, square_rows(sheet, piece, zone), "Squares marked"),
            *table(("entry", "where", "what"), _set_places(sheet, piece, units), "Jumps in the treadling"),
        ),
    )


def _state(piece: PieceSheet, units: Units) -> Iterator[tuple[Value, ...]]:
    told = piece.told
    if piece.piece.draft.title and piece.piece.draft.title != piece.piece.name:
        yield "Draft", piece.piece.draft.title
    yield "In the cloth", counted(len(piece.lying), "pick")
    if told.woven_cm is not None:
        yield "Woven", _woven_words(told, told.woven_cm, units)
    if told.relaxed is not None:
        yield "Relaxed", measured_words(told.relaxed.centimetres, units)
    yield "State", "finished" if told.finished else "still on the loom"
    yield "Time", f"{duration_words(told.at_loom_ms)} at the loom"
    if piece.piece.face_down:
        yield "Faces", "woven with its face below"
    if plan := piece_plan(piece.piece, units):
        yield "Planned", plan


def _woven_words(told: PieceTold, woven_cm: float, units: Units) -> str:
    words = f"{measured_words(woven_cm, units)} under tension"
    if told.measured is None:
        return f"about {words}, by the picks planned"
    return words if told.measured.picks == told.cloth.picks else f"about {words}, reckoned on from the last measure"


def _tieups(sheet: Sheet, piece: PieceSheet) -> Iterator[ChapterPart]:
    for stage, tieup in enumerate(piece.tieups):
        of = f", stage {stage + 1} of {len(piece.tieups)}" if len(piece.tieups) > 1 else ""
        yield TieUpDrawing(f"Tie-up{of}", tieup, sheet.warp.loom.loom.shafts)
        yield Table("", ("treadle", "tied to shafts"), tuple((n, tie_words(tie)) for n, tie in enumerate(tieup, 1)))


def _tied(sheet: Sheet, piece: PieceSheet, units: Units, zone: tzinfo | None) -> Iterator[tuple[Value, ...]]:
    for happened in sheet.told.happened:
        event = happened.entry.event
        if isinstance(event, ReTied | TieUpAccepted) and happened.piece == piece.index and not happened.undone:
            words = f"{event_kind(event)} {event_words(event, piece.piece, units)}".strip()
            yield time_words(happened.entry.at_ms, zone), words


def _feet(piece: PieceSheet) -> tuple[Table, ...]:
    stages = len(piece.tieups) > 1
    headings = (
        "shafts up",
        *(("stage",) if stages else ()),
        *(("left foot", "right foot") if piece.tieups else ()),
        "picks in the cloth",
    )
    title = "Treadles for each shed" if piece.tieups else "Sheds"
    return table(headings, (_footing(piece, row, stages) for row in piece.footings), title)


def _footing(piece: PieceSheet, row: FootingRow, stages: bool) -> tuple[Value, ...]:
    feet: tuple[Value, ...] = ()
    if piece.tieups and row.footing is not None:
        feet = (treadle_words(row.footing.left), treadle_words(row.footing.right))
    stage: tuple[Value, ...] = (row.stage + 1,) if stages and row.stage is not None else ()
    return (print_shed(row.shed), *stage, *feet, row.picks)


def _set_places(sheet: Sheet, piece: PieceSheet, units: Units) -> Iterator[tuple[Value, ...]]:
    for happened in sheet.told.happened:
        event = happened.entry.event
        if happened.piece == piece.index and not happened.undone and isinstance(event, Jumped):
            yield happened.entry.number, f"after pick {happened.next_pick}", event_words(event, piece.piece, units)
