"""What a record says, in order, as one value: chapters of facts, tables, words and drawings, every number in words.

The printed page (`page`) and the pages of a small screen (`pages`) are two ways of showing it; neither walks the sheet.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, tzinfo
from enum import Enum

from companion.draft.facing import Facing
from companion.draft.masks import print_shed
from companion.draft.model import Colour
from companion.draft.units import (
    Units,
    counted,
    density_words,
    length_words,
    long_words,
    measured_words,
    per_length_words,
    weight_range_words,
    yarn_range_words,
)
from companion.present.laid_in_words import need_name_words, section_name_words
from companion.present.loom_kinds import loom_in_full
from companion.present.of_loom import of_loom_words
from companion.present.plan_words import note_words, warp_warning
from companion.present.wording import treadle_words
from companion.record.dressing_told import mistake_rows, task_rows
from companion.record.planned import piece_plan, sley_facts, warp_facts
from companion.record.sheet import FootingRow, PieceSheet, Sheet
from companion.record.squares_told import HEADINGS, square_rows
from companion.record.wording import (
    duration_words,
    event_kind,
    event_words,
    fault_words,
    loom_name_before,
    tie_words,
    time_words,
)
from companion.remap.loom.loom import TieUp
from companion.weaving.agreement import notes_ahead
from companion.weaving.events import Jumped, ReTied, TieUpAccepted
from companion.weaving.faults import FaultRate
from companion.weaving.history import Fault, History
from companion.weaving.yarn_needs import WeftNeed, YarnTotal

_LONG_ENOUGH_FOR_A_RANGE_MS = 60_000
"""Of seconds nobody plans an evening, so no range is told of them."""

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


def outline(sheet: Sheet, units: Units, facing: Facing, zone: tzinfo | None = UTC) -> tuple[Chapter, ...]:
    """Return the whole record of a sheet, in these units, times as the clock of `zone` shows them.

    What was undone is only counted.
    """
    told = sheet.told
    chapters = [
        Chapter(sheet.warp.name, (Table("", (), tuple(_summary(sheet, units, facing, zone))),)),
        Chapter("Dressing the loom", _dressing(sheet, zone)),
        *(_piece(sheet, piece, units, zone) for piece in sheet.pieces),
        Chapter("Still to come", tuple(_ahead(sheet, units))),
        Chapter("Faults", _faults(sheet, zone)),
        Chapter(
            "Measures",
            _table(
                ("time", "piece", "length", "picks", f"picks {per_length_words(units)}"), _measures(sheet, units, zone)
            ),
        ),
        Chapter("Notes", _table(("time", "piece", "where", "note"), _notes(sheet, zone))),
        Chapter("Sessions", _table(("from", "to", "time", "picks woven"), _sittings(told, zone))),
    ]
    return tuple(chapter for chapter in chapters if chapter.parts)


def _table(headings: tuple[str, ...], rows: Iterable[tuple[Value, ...]], title: str = "") -> tuple[Table, ...]:
    every = tuple(rows)
    return (Table(title, headings, every),) if every else ()


def _summary(sheet: Sheet, units: Units, facing: Facing, zone: tzinfo | None) -> Iterator[tuple[Value, ...]]:
    state, told = sheet.told.progress.now, sheet.told
    yield "Loom", f"{loom_name_before(sheet.warp.loom)}{loom_in_full(sheet.warp.loom.loom)}"
    yield "First end", f"at the {facing.first_end.value}, as you sit at the loom; ends are counted from there"
    yield "Begun", time_words(sheet.began_ms, zone)
    yield "Last entry", time_words(sheet.ended_ms, zone)
    yield "Time at the loom", f"{duration_words(state.at_loom_ms)} in {counted(len(told.sittings), 'session')}"
    yield "Picks woven", f"{state.woven}, {state.taken_out} of these taken out again"
    if state.told:
        yield "Noted afterwards", f"{counted(state.told, 'pick')} of these, woven at a time not known"
    yield "Entries in the journal", f"{len(told.happened)}, {told.undone} of these undone"
    if told.near_misses:
        yield "Near misses", f"{told.near_misses}, shown by sensors before the beat"
    yield from warp_facts(sheet.warp, units)


def _dressing(sheet: Sheet, zone: tzinfo | None) -> tuple[Table, ...]:
    mistakes = ("time", "task", "where", "what became of it", "note")
    return (
        *_table((), sley_facts(sheet.warp.pieces[0].draft)),
        *_table(("task", "state", "done", "time"), task_rows(sheet.dressing)),
        *_table(mistakes, mistake_rows(sheet.dressing, zone), "Mistakes found"),
    )


def _piece(sheet: Sheet, piece: PieceSheet, units: Units, zone: tzinfo | None) -> Chapter:
    views = (View.DRAFT, View.FACE, View.BACK) if piece.lying else (View.DRAFT,)
    return Chapter(
        f"Piece {piece.index + 1}: {piece.piece.name}",
        (
            Table("", (), tuple(_state(piece, units))),
            *(Drawing(view, piece) for view in views),
            *((Words(piece.piece.draft.notes),) if piece.piece.draft.notes else ()),
            *_tieups(sheet, piece),
            *_table(("time", "what"), _tied(sheet, piece, units, zone), "Tied"),
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
            *_table(HEADINGS, square_rows(sheet, piece, zone), "Squares marked"),
            *_table(("entry", "where", "what"), _set_places(sheet, piece, units), "Jumps in the treadling"),
        ),
    )


def _state(piece: PieceSheet, units: Units) -> Iterator[tuple[Value, ...]]:
    told = piece.told
    if piece.piece.draft.title and piece.piece.draft.title != piece.piece.name:
        yield "Draft", piece.piece.draft.title
    yield "In the cloth", counted(len(piece.lying), "pick")
    if told.woven_cm is not None:
        yield "Woven", f"{measured_words(told.woven_cm, units)} under tension"
    if told.relaxed is not None:
        yield "Relaxed", measured_words(told.relaxed.centimetres, units)
    yield "State", "finished" if told.finished else "still on the loom"
    yield "Time", f"{duration_words(told.at_loom_ms)} at the loom"
    if piece.piece.face_down:
        yield "Faces", "woven with its face below"
    if plan := piece_plan(piece.piece, units):
        yield "Planned", plan


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
    return _table(headings, (_footing(piece, row, stages) for row in piece.footings), title)


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


def _ahead(sheet: Sheet, units: Units) -> Iterator[ChapterPart]:
    ahead = sheet.ahead
    groups: list[tuple[str, Iterable[WeftNeed | YarnTotal]]] = [
        (sheet.warp.pieces[sheet.told.progress.now.piece].name, ahead.weft),
        *((sheet.warp.pieces[piece].name, needs) for piece, needs in ahead.later),
        *([("in all", ahead.in_all)] if ahead.later else []),
    ]
    if any(need.picks for need in ahead.in_all):
        rows = tuple(
            (
                what,
                need_name_words(need, units),
                need.picks,
                yarn_range_words(need.metres, units),
                weight_range_words(need.grams, units),
            )
            for what, needs in groups
            for need in needs
        )
        of_name = {yarn.name: yarn.colour for piece in sheet.warp.pieces for yarn in piece.draft.yarns}
        yarns = tuple(of_name[need.name] for _, needs in groups for need in needs)
        yield Table("", ("piece", "shuttle", "picks", "weft", "weight"), rows, yarns)
    if notes := note_words(sheet.warp, notes_ahead(sheet.warp, sheet.told.progress), units):
        yield Words(tuple(f"{note}." for note in notes))
    if ahead.time is not None and ahead.time.picks:
        least, likely, most = map(duration_words, (ahead.time.least_ms, ahead.time.likely_ms, ahead.time.most_ms))
        close = least == most or ahead.time.most_ms < _LONG_ENOUGH_FOR_A_RANGE_MS
        between = "" if close else f", between {least} and {most}"
        yield Words((f"At your recent pace: {likely} at the loom{between}.",))
    if ahead.warp is not None:
        yield Table(
            "",
            ("piece", "woven length, done or planned", "warp it takes"),
            tuple(
                (one.name, measured_words(one.woven_cm, units), measured_words(one.warp_cm, units))
                for one in ahead.warp.pieces
            ),
        )
        short = warp_warning(sheet.warp, sheet.told.progress, units)
        over = f"Left over at the end: {measured_words(ahead.warp.over_cm, units)}"
        end = f"{short[0].upper()}{short[1:]}" if short else over
        yield Words((f"Warp left to weave with: {long_words(ahead.warp.left_cm, units)}. {end}.",))


def _faults(sheet: Sheet, zone: tzinfo | None) -> tuple[ChapterPart, ...]:
    if not sheet.told.faults:
        return (Words(("None was noted.",)),)
    headings = ("fault", "piece", "pick", "end", "kind", "note", "found", "what became of it", "how")
    groups: tuple[tuple[str, tuple[FaultRate, ...]], ...] = (
        ("in all", (sheet.faults.all_picks,)),
        ("by change of the feet", sheet.faults.by_change),
        ("by section", sheet.faults.by_section),
        ("by hour", sheet.faults.by_hour),
    )
    rates = (
        (group, rate.heading, rate.faults, rate.picks, "" if rate.per_thousand is None else rate.per_thousand)
        for group, several in groups
        for rate in several
    )
    return (
        *_table(headings, (_fault(sheet, fault, zone) for fault in sheet.told.faults)),
        Words((f"{fault_words(sheet.faults)}.",)),
        *_table(("counted", "where", "faults", "picks woven", "per 1,000 picks"), rates, "How often"),
    )


def _kind_words(sheet: Sheet, fault: Fault) -> str:
    if not fault.kind.of_loom:
        return fault.kind.value
    return of_loom_words(sheet.warp.pieces[fault.piece].draft, fault.kind, fault.end, fault.shaft, fault.treadle)


def _fault(sheet: Sheet, fault: Fault, zone: tzinfo | None) -> tuple[Value, ...]:
    settled = fault.settled_at_ms
    return (
        fault.number + 1,
        sheet.warp.pieces[fault.piece].name,
        fault.pick + 1,
        "" if fault.end is None else fault.end + 1,
        _kind_words(sheet, fault),
        fault.note,
        time_words(fault.found_at_ms, zone),
        "open" if settled is None else f"{fault.state.value}, {time_words(settled, zone)}",
        fault.how,
    )


def _measures(sheet: Sheet, units: Units, zone: tzinfo | None) -> Iterator[tuple[Value, ...]]:
    for measure in sheet.told.measured:
        yield (
            time_words(measure.at_ms, zone),
            sheet.warp.pieces[measure.piece].name,
            f"{length_words(measure.centimetres, units)} {'under tension' if measure.under_tension else 'relaxed'}",
            measure.picks,
            density_words(measure.picks / measure.centimetres, units, ".2f"),
        )


def _notes(sheet: Sheet, zone: tzinfo | None) -> Iterator[tuple[Value, ...]]:
    for note, task in zip(sheet.told.notes, sheet.dressing.noted, strict=True):
        piece = sheet.warp.pieces[note.piece].name
        where = f"before pick {note.pick + 1}" if task is None else f"while at the {task.value}"
        yield time_words(note.at_ms, zone), piece, where, note.text


def _sittings(told: History, zone: tzinfo | None) -> Iterator[tuple[Value, ...]]:
    for sitting in told.sittings:
        spent = duration_words(max(0, sitting.ended_ms - sitting.began_ms))
        yield time_words(sitting.began_ms, zone), time_words(sitting.ended_ms, zone), spent, sitting.picks
