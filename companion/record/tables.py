"""The record as rows for a spreadsheet (CSV) and as one JSON document.

The CSV has a row for every entry of the journal, undone ones marked. A spreadsheet takes a cell that begins with one of
= + - @, a tab or a carriage return for a formula (OWASP, "CSV Injection"); words that a person wrote are
therefore led by an apostrophe when they begin so.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable
from datetime import UTC, tzinfo

from companion.draft.masks import print_shed, shafts_of
from companion.draft.unit_readings import length_reading, yarn_reading
from companion.draft.units import Units
from companion.present.durations import tenths_of_minutes
from companion.record.dressing_told import dressing_document
from companion.record.planned import piece_document, warp_document
from companion.record.sheet import PieceSheet, Sheet
from companion.record.squares_told import squares_document
from companion.record.wording import event_kind, event_words, time_words
from companion.remap.loom.loom import Action, Footing, TieUp
from companion.weaving.events import BobbinChanged, Event, LengthMeasured, PickTakenOut, PickWoven
from companion.weaving.faults import FaultRate
from companion.weaving.history import Happened
from companion.weaving.yarn_needs import WeftNeed, YarnTotal

COLUMNS = (
    "entry", "time", "what", "undone", "piece", "section", "pick", "shafts up", "left foot", "right foot",
    "shuttle", "from", "words",
)  # fmt: skip
"""What a row tells, before the two amounts that it may have, whose headings say their unit."""
_FORMULA_STARTS = re.compile(r"(^|;)(?=[=+\-@\t\r])")
"""Where a spreadsheet may begin a formula: where a cell starts, and after a semicolon, which parts cells for some."""


def columns(units: Units) -> tuple[str, ...]:
    """Return the heading row: what was measured and wound are plain numbers, their unit is told here."""
    return (*COLUMNS, f"measured ({length_reading(units).sign})", f"bobbin ({yarn_reading(units).sign})")


def to_csv(sheet: Sheet, units: Units, zone: tzinfo | None = UTC) -> str:
    """Return the record as CSV (RFC 4180: comma, CRLF, quotes where needed), with a heading row; words in `units`."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(columns(units))
    for happened in sheet.told.happened:
        writer.writerow([_safe(cell) for cell in _row(sheet, happened, units, zone)])
    return out.getvalue()


def to_document(sheet: Sheet, zone: tzinfo | None = UTC) -> dict[str, object]:
    """Return the record as JSON-ready values; indices are numbers from 1, times as the clock of `zone` shows them."""
    state = sheet.told.progress.now
    loom = sheet.warp.loom
    return {
        "warp": sheet.warp.name,
        "loom": {
            "name": loom.name,
            "shafts": loom.loom.shafts,
            "treadles": loom.loom.treadles,
            "action": loom.loom.action.value,
            "reach": loom.loom.reach,
        },
        "stated": warp_document(sheet.warp),
        "began": time_words(sheet.began_ms, zone, seconds=True),
        "last_entry": time_words(sheet.ended_ms, zone, seconds=True),
        "minutes_at_loom": tenths_of_minutes(state.at_loom_ms),
        "sittings": [
            {
                "began": time_words(sitting.began_ms, zone),
                "ended": time_words(sitting.ended_ms, zone),
                "minutes": tenths_of_minutes(sitting.spent_ms),
                "picks": sitting.picks,
            }
            for sitting in sheet.told.sittings
        ],
        "dressing": dressing_document(sheet.dressing, zone),
        "entries": len(sheet.told.happened),
        "undone": sheet.told.undone,
        "near_misses": sheet.told.near_misses,
        "picks_woven": state.woven,
        "picks_taken_out": state.taken_out,
        "pieces": [_piece(sheet, piece, zone) for piece in sheet.pieces],
        "still_to_come": _ahead(sheet),
        "faults": [
            {
                "fault": fault.number + 1,
                "piece": fault.piece + 1,
                "kind": fault.kind.value,
                "pick": fault.pick + 1,
                "end": None if fault.end is None else fault.end + 1,
                "shaft": None if fault.shaft is None else fault.shaft + 1,
                "treadle": None if fault.treadle is None else fault.treadle + 1,
                "state": fault.state.value,
                "note": fault.note,
                "how": fault.how,
                "found": time_words(fault.found_at_ms, zone, seconds=True),
                "settled": None if fault.settled_at_ms is None else time_words(fault.settled_at_ms, zone, seconds=True),
            }
            for fault in sheet.told.faults
        ],
        "fault_rates": {
            "all": _rate(sheet.faults.all_picks),
            "by_kind": [{"what": kind.value, "faults": number} for kind, number in sheet.faults.by_kind],
            "by_state": [{"what": state.value, "faults": number} for state, number in sheet.faults.by_state],
            "by_change": [_rate(rate) for rate in sheet.faults.by_change],
            "by_section": [_rate(rate) for rate in sheet.faults.by_section],
            "by_hour": [_rate(rate) for rate in sheet.faults.by_hour],
        },
        "measures": [
            {
                "piece": measure.piece + 1,
                "cm": measure.centimetres,
                "under_tension": measure.under_tension,
                "picks": measure.picks,
                "picks_per_cm": round(measure.picks / measure.centimetres, 3),
                "time": time_words(measure.at_ms, zone, seconds=True),
            }
            for measure in sheet.told.measured
        ],
        "notes": [
            {
                "piece": note.piece + 1,
                "next_pick": note.pick + 1,
                "text": note.text,
                "time": time_words(note.at_ms, zone),
            }
            for note in sheet.told.notes
        ],
    }


def _ahead(sheet: Sheet) -> dict[str, object]:
    warp, time = sheet.ahead.warp, sheet.ahead.time
    return {
        "warp_cm": None
        if warp is None
        else {
            "wound": warp.wound_cm,
            "used": _rounded(warp.used_cm),
            "left": _rounded(warp.left_cm),
            "over": _rounded(warp.over_cm),
            "short_for_piece": None if warp.short_piece is None else warp.short_piece + 1,
            "short": _rounded(warp.short_cm),
        },
        "weft": _weft(sheet.ahead.weft),
        "weft_of_later_pieces": [{"piece": piece + 1, "weft": _weft(needs)} for piece, needs in sheet.ahead.later],
        "weft_in_all": _weft(sheet.ahead.in_all),
        "minutes": None
        if time is None
        else [tenths_of_minutes(ms) for ms in (time.least_ms, time.likely_ms, time.most_ms)],
    }


def _weft(needs: Iterable[WeftNeed | YarnTotal]) -> list[dict[str, object]]:
    return [
        {
            "shuttle": need.name,
            "picks": need.picks,
            "metres": None if need.metres is None else [_rounded(metres) for metres in need.metres],
            "grams": None if need.grams is None else [_rounded(weight) for weight in need.grams],
            "laid_in": [{"number": laid.number, "length_cm": laid.length_cm or None} for laid in need.laid_in],
        }
        for need in needs
    ]


def _rounded(amount: float | None) -> float | None:
    return None if amount is None else round(amount, 2)


def _piece(sheet: Sheet, piece: PieceSheet, zone: tzinfo | None) -> dict[str, object]:
    draft = piece.piece.draft
    return {
        "piece": piece.index + 1,
        "name": piece.piece.name,
        "draft": {"title": draft.title, "shafts": draft.shafts, "treadles": draft.treadles, "ends": draft.ends},
        "face_down": piece.piece.face_down,
        "finished": piece.told.finished,
        "planned": piece_document(piece.piece),
        "picks_listed": piece.piece.picks,
        "picks_in_cloth": len(piece.lying),
        "woven_cm": None if piece.told.woven_cm is None else round(piece.told.woven_cm, 2),
        "minutes_at_loom": tenths_of_minutes(piece.told.at_loom_ms),
        "tieups": [_tieup(tieup, sheet.warp.loom.loom.action) for tieup in piece.tieups],
        "sheds": [
            {
                "stage": None if row.stage is None else row.stage + 1,
                "shafts": list(shafts_of(row.shed)),
                "left": _treadles(row.footing, left=True),
                "right": _treadles(row.footing, left=False),
                "picks": row.picks,
            }
            for row in piece.footings
        ],
        "sections": [
            {"name": row.name, "picks_listed": row.listed, "until_cm": row.until_cm, "picks_in_cloth": row.lying}
            for row in piece.sections
        ],
        "squares_marked": squares_document(sheet, piece, zone),
        "shuttles": [{"name": row.name, "picks": row.picks, "bobbins": row.bobbins} for row in piece.shuttles],
    }


def _tieup(tieup: TieUp, action: Action) -> list[object]:
    if action is Action.COUNTERMARCHE:
        return [{"up": list(shafts_of(tie.up)), "down": list(shafts_of(tie.down))} for tie in tieup]
    return [list(shafts_of(tie.down if action is Action.SINKING else tie.up)) for tie in tieup]


def _treadles(footing: Footing | None, left: bool) -> list[int]:
    if footing is None:
        return []
    return [treadle + 1 for treadle in (footing.left if left else footing.right)]


def _rate(rate: FaultRate) -> dict[str, object]:
    per_thousand = None if rate.per_thousand is None else round(rate.per_thousand, 2)
    return {"what": rate.heading, "faults": rate.faults, "picks": rate.picks, "per_1000_picks": per_thousand}


def _row(sheet: Sheet, happened: Happened, units: Units, zone: tzinfo | None) -> list[str | int]:
    entry, piece = happened.entry, sheet.warp.pieces[happened.piece]
    row: list[str | int] = [
        entry.number,
        time_words(entry.at_ms, zone, seconds=True),
        event_kind(entry.event),
        "undone" if happened.undone else "",
        piece.name,
    ]
    if not isinstance(entry.event, PickWoven | PickTakenOut):
        return [*row, "", "", "", "", "", "", "", event_words(entry.event, piece, units), *_amounts(entry.event, units)]
    pick = entry.event.pick
    footing = piece.footings[pick] if piece.footings else None
    return [
        *row,
        piece.sections[piece.section_at(pick)].name,
        pick + 1,
        print_shed(piece.sheds[pick]),
        " ".join(map(str, _treadles(footing, left=True))),
        " ".join(map(str, _treadles(footing, left=False))),
        piece.draft.yarns[piece.draft.weft[pick]].name,
        "laid in" if pick in piece.laid_in else "" if happened.came_from is None else happened.came_from.value,
        "",
        "",
        "",
    ]


def _amounts(event: Event, units: Units) -> tuple[str, str]:
    """Return what an entry measured and what a fresh bobbin holds, as bare numbers in the units of the heading."""
    match event:
        case LengthMeasured(centimetres, _):
            return _plain(centimetres / length_reading(units).each), ""
        case BobbinChanged(_, metres) if metres is not None:
            return "", _plain(metres / yarn_reading(units).each)
        case _:
            return "", ""


def _plain(number: float) -> str:
    return f"{round(number, 3):.12g}"


def _safe(cell: str | int) -> str | int:
    return _FORMULA_STARTS.sub(r"\1'", cell) if isinstance(cell, str) else cell
