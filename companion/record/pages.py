"""The record in pages for a small screen: the same values as the printed page, a few rows at a time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, tzinfo

from companion.draft.cloth import Surface
from companion.draft.masks import print_shed
from companion.present.fell import Picture
from companion.present.record_page import RecordPage
from companion.present.wording import BETWEEN, footing_words
from companion.record.drawings import MOST_ENDS, MOST_PICKS_DRAWN, MOST_PICKS_LYING, cloth_image, draft_image
from companion.record.sheet import PieceSheet, Sheet
from companion.record.wording import (
    counted,
    duration_words,
    event_kind,
    event_words,
    fault_words,
    length_words,
    loom_words,
    range_words,
    tie_words,
    time_words,
)
from companion.weaving.amounts import warp_warning
from companion.weaving.events import ReTied, TieUpAccepted
from companion.weaving.yarn_needs import WeftNeed, YarnTotal

MOST_ROWS = 30
"""Rows on one page: what a thumb scrolls through without losing the page."""

Rows = Iterable[tuple[str, str]]


def record_pages(sheet: Sheet, zone: tzinfo | None = UTC) -> tuple[RecordPage, ...]:
    """Return the pages of a record, the whole of it; what was undone is only counted."""
    return tuple(_pages(sheet, zone))


def _pages(sheet: Sheet, zone: tzinfo | None) -> Iterator[RecordPage]:
    yield from _split(sheet.warp.name, _summary(sheet, zone))
    for piece in sheet.pieces:
        yield from _piece(sheet, piece, zone)
    yield from _split("Still to come", _ahead(sheet))
    yield from _split("Faults", _faults(sheet, zone) or (("none was noted", ""),))
    yield from _split("Measures", _measures(sheet, zone))
    yield from _split("Notes", _notes(sheet, zone))
    yield from _split("Sittings", _sittings(sheet, zone))


def _split(title: str, rows: Rows) -> Iterator[RecordPage]:
    every = tuple(rows)
    for first in range(0, len(every), MOST_ROWS):
        yield RecordPage(title, every[first : first + MOST_ROWS])


def _summary(sheet: Sheet, zone: tzinfo | None) -> Iterator[tuple[str, str]]:
    state, told = sheet.told.progress.now, sheet.told
    yield "loom", f"{sheet.warp.loom.name}: {loom_words(sheet.warp.loom.loom)}"
    yield "begun", time_words(sheet.began_ms, zone)
    yield "last entry", time_words(sheet.ended_ms, zone)
    yield "at the loom", f"{duration_words(state.at_loom_ms)} in {counted(len(told.sittings), 'sitting')}"
    yield "picks woven", f"{state.woven}, taken out again of these {state.taken_out}"
    yield "entries", f"{len(told.happened)}, undone of these {told.undone}"
    if told.near_misses:
        yield "near misses", f"{told.near_misses}, told by sensors before the beat"


def _piece(sheet: Sheet, piece: PieceSheet, zone: tzinfo | None) -> Iterator[RecordPage]:
    name, told = piece.piece.name, piece.told
    yield from _split(name, _woven(piece))
    yield _draft(piece)
    for surface in Surface:
        image = cloth_image(piece, surface)
        if image is not None:
            image.flags.writeable = False
            shown = f", newest {MOST_PICKS_LYING} picks" if len(piece.lying) > MOST_PICKS_LYING else ""
            yield RecordPage(f"{name}: {surface.value}, newest pick on top{shown}", picture=Picture(image))
    yield from _split(f"{name}: tie-up", _tying(sheet, piece, zone))
    yield from _split(f"{name}: feet" if piece.tieups else f"{name}: sheds", _feet(piece))
    if told.relaxed is not None:
        yield RecordPage(f"{name}: relaxed", (("relaxed", length_words(told.relaxed.centimetres)),))


def _draft(piece: PieceSheet) -> RecordPage:
    draft = piece.piece.draft
    image = draft_image(draft)
    image.flags.writeable = False
    parts = [
        f"first {most} of {there} {what}"
        for there, most, what in ((draft.ends, MOST_ENDS, "ends"), (draft.picks, MOST_PICKS_DRAWN, "picks"))
        if there > most
    ]
    return RecordPage(", ".join([f"{piece.piece.name}: the draft", *parts]), picture=Picture(image))


def _woven(piece: PieceSheet) -> Iterator[tuple[str, str]]:
    told = piece.told
    yield "in the cloth", counted(len(piece.lying), "pick")
    if told.woven_cm is not None:
        yield "woven", f"{length_words(told.woven_cm)} under tension"
    yield "time", f"{duration_words(told.at_loom_ms)} at the loom"
    yield "state", "finished" if told.finished else "still on the loom"
    if piece.piece.face_down:
        yield "woven", "with its face below"
    yield "by section", ""
    for section in piece.sections:
        until = "" if section.until_cm is None else f", woven to {section.until_cm:g} cm"
        yield section.name, f"{section.lying} in the cloth, {counted(section.listed, 'pick')} listed{until}"
    yield "by shuttle", ""
    for shuttle in piece.shuttles:
        bobbins = f", {counted(shuttle.bobbins, 'bobbin')} put in" if shuttle.bobbins else ""
        yield shuttle.name, f"{counted(shuttle.picks, 'pick')} in the cloth{bobbins}"


def _tying(sheet: Sheet, piece: PieceSheet, zone: tzinfo | None) -> Iterator[tuple[str, str]]:
    for stage, tieup in enumerate(piece.tieups):
        if len(piece.tieups) > 1:
            yield f"stage {stage + 1}", ""
        for treadle, tie in enumerate(tieup, 1):
            yield f"treadle {treadle}", tie_words(tie)
    for happened in sheet.told.happened:
        event = happened.entry.event
        if isinstance(event, ReTied | TieUpAccepted) and happened.piece == piece.index and not happened.undone:
            words = f"{event_kind(event)} {event_words(event, piece.piece)}".strip()
            yield time_words(happened.entry.at_ms, zone), words


def _feet(piece: PieceSheet) -> Iterator[tuple[str, str]]:
    for row in piece.footings:
        stage = f"stage {row.stage + 1}: " if row.stage is not None and len(piece.tieups) > 1 else ""
        feet = "" if row.footing is None else footing_words(row.footing) + BETWEEN
        yield f"{stage}{print_shed(row.shed)} up", f"{feet}{counted(row.picks, 'pick')} in the cloth"


def _ahead(sheet: Sheet) -> Iterator[tuple[str, str]]:
    ahead = sheet.ahead
    if ahead.time is not None and ahead.time.picks:
        least, likely, most = map(duration_words, (ahead.time.least_ms, ahead.time.likely_ms, ahead.time.most_ms))
        yield "time", f"{likely}, between {least} and {most}"
    groups = ((sheet.told.progress.now.piece, ahead.weft), *ahead.later)
    for piece, needs in groups:
        for need in needs:
            if need.picks:
                of_piece = f", piece {piece + 1}" if ahead.later else ""
                yield need.name + of_piece, f"{counted(need.picks, 'pick')}{BETWEEN}{_weft_words(need)}"
    for total in ahead.in_all if ahead.later else ():
        yield f"{total.name}, in all", _weft_words(total)
    if ahead.warp is not None:
        yield "warp left", length_words(ahead.warp.left_cm)
        short = warp_warning(sheet.warp, sheet.told.progress)
        yield ("warning", short) if short else ("over at the end", length_words(ahead.warp.over_cm))


def _weft_words(need: WeftNeed | YarnTotal) -> str:
    weight = "" if need.grams is None else f", {range_words(need.grams, 'g')}"
    return f"weft {range_words(need.metres, 'm')}{weight}"


def _faults(sheet: Sheet, zone: tzinfo | None) -> tuple[tuple[str, str], ...]:
    rows = [("in all", fault_words(sheet.faults))] if sheet.told.faults else []
    for fault in sheet.told.faults:
        end = "" if fault.end is None else f", end {fault.end + 1}"
        became = (
            "open" if fault.settled_at_ms is None else f"{fault.state.value} {time_words(fault.settled_at_ms, zone)}"
        )
        parts = (f"{fault.kind.value} at pick {fault.pick + 1}{end}", fault.note, became, fault.how)
        rows.append((time_words(fault.found_at_ms, zone), BETWEEN.join(part for part in parts if part)))
    return tuple(rows)


def _measures(sheet: Sheet, zone: tzinfo | None) -> Iterator[tuple[str, str]]:
    for measure in sheet.told.measured:
        how = "under tension" if measure.under_tension else "relaxed"
        density = f"{measure.picks / measure.centimetres:.2f} picks per cm"
        yield time_words(measure.at_ms, zone), f"{measure.centimetres:g} cm {how}{BETWEEN}{density}"


def _notes(sheet: Sheet, zone: tzinfo | None) -> Iterator[tuple[str, str]]:
    for note in sheet.told.notes:
        yield time_words(note.at_ms, zone), f"before pick {note.pick + 1}: {note.text}"


def _sittings(sheet: Sheet, zone: tzinfo | None) -> Iterator[tuple[str, str]]:
    for sitting in sheet.told.sittings:
        spent = duration_words(max(0, sitting.ended_ms - sitting.began_ms))
        yield time_words(sitting.began_ms, zone), f"{spent}{BETWEEN}{counted(sitting.picks, 'pick')}"
