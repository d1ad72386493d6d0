"""The record as one page of HTML that needs nothing else: words, tables and drawings, made for paper and screen.

Whatever a person typed passes through `_text`, which escapes it. The page loads nothing and runs nothing: it says so
itself in its content security policy (W3C, "Content Security Policy Level 3").
"""

from __future__ import annotations

import html
from collections.abc import Iterable, Sequence
from datetime import UTC, tzinfo

from companion.draft.cloth import Surface
from companion.draft.masks import print_shed
from companion.present.wording import treadle_words
from companion.record.drawings import (
    MOST_ENDS,
    MOST_ENDS_LYING,
    MOST_PICKS_DRAWN,
    MOST_PICKS_LYING,
    cloth_drawing,
    draft_drawing,
    tieup_drawing,
)
from companion.record.planned import piece_plan, warp_facts
from companion.record.sheet import PieceSheet, Sheet
from companion.record.wording import (
    counted,
    duration_words,
    event_words,
    fault_words,
    length_words,
    loom_words,
    range_words,
    tie_words,
    time_words,
)
from companion.weaving.agreement import notes_ahead
from companion.weaving.amounts import warp_warning
from companion.weaving.events import Jumped
from companion.weaving.faults import FaultRate
from companion.weaving.yarn_needs import WeftNeed, YarnTotal

_STYLE = """
body { font: 11pt/1.4 Georgia, "Liberation Serif", serif; color: #111; background: #fff; }
body { max-width: 46em; margin: 2em auto; padding: 0 1em; }
h1 { font-size: 1.7em; margin: 0 0 .2em; }
h2 { font-size: 1.25em; border-bottom: 1px solid #777; margin-top: 1.8em; }
h3 { font-size: 1em; margin: 1.2em 0 .3em; }
table { border-collapse: collapse; margin: .4em 0 1em; }
th, td { border: 1px solid #999; padding: .15em .55em; text-align: left; vertical-align: top; }
td { overflow-wrap: anywhere; min-width: 4em; }
th { background: #eee; }
td.number { text-align: right; min-width: 0; font-variant-numeric: tabular-nums; }
figure { margin: .6em 1.4em .8em 0; display: inline-block; vertical-align: top; }
figcaption { font-size: .85em; max-width: 30em; }
img { image-rendering: pixelated; border: 1px solid #777; max-width: 100%; height: auto; }
svg { max-width: 100%; height: auto; }
@media print {
  body { margin: 0; max-width: none; font-size: 10pt; }
  h2, h3 { break-after: avoid; }
  table, tr, figure { break-inside: avoid; }
  thead { display: table-header-group; }
}
"""


def to_html(sheet: Sheet, zone: tzinfo | None = UTC) -> str:
    """Return the record as a complete HTML page, times as the clock of `zone` shows them."""
    name = _text(sheet.warp.name)
    body = [
        f"<h1>{name}</h1>",
        *_summary(sheet, zone),
        *(line for piece in sheet.pieces for line in _piece(sheet, piece)),
        *_ahead(sheet),
        *_faults(sheet, zone),
        *_measures(sheet, zone),
        *_notes(sheet, zone),
        *_sittings(sheet, zone),
    ]
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta http-equiv="Content-Security-Policy" '
        "content=\"default-src 'none'; style-src 'unsafe-inline'; img-src data:\">\n"
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{name}: record</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n"
        + "\n".join(body)
        + "\n</body>\n</html>\n"
    )


def _summary(sheet: Sheet, zone: tzinfo | None) -> list[str]:
    state = sheet.told.progress.now
    loom = sheet.warp.loom
    rows: list[Sequence[object]] = [
        ("Loom", f"{loom.name}: {loom_words(loom.loom)}"),
        ("Begun", time_words(sheet.began_ms, zone)),
        ("Last entry", time_words(sheet.ended_ms, zone)),
        ("Time at the loom", f"{duration_words(state.at_loom_ms)} in {counted(len(sheet.told.sittings), 'sitting')}"),
        ("Picks woven", f"{state.woven}, taken out again of these {state.taken_out}"),
        ("Entries in the journal", f"{len(sheet.told.happened)}, undone of these {sheet.told.undone}"),
    ]
    if sheet.told.near_misses:
        rows.append(("Near misses", f"{sheet.told.near_misses}, told by sensors before the beat"))
    rows += warp_facts(sheet.warp)
    return [_table((), rows)]


def _piece(sheet: Sheet, piece: PieceSheet) -> list[str]:
    draft, told = piece.piece.draft, piece.told
    length = "" if told.woven_cm is None else f", {told.woven_cm:.1f} cm under tension"
    end = "finished" if told.finished else "still on the loom"
    lying = counted(len(piece.lying), "pick")
    lines = [
        f"<h2>Piece {piece.index + 1}: {_text(piece.piece.name)}</h2>",
        f"<p>In the cloth: {lying}{length}; {end}; {duration_words(told.at_loom_ms)} at the loom."
        + (" Woven with its face below." if piece.piece.face_down else "")
        + (f" Planned: {plan}." if (plan := piece_plan(piece.piece)) else "")
        + "</p>",
    ]
    lines.append(
        _figure(
            draft_drawing(draft),
            f"The draft: {draft.shafts} shafts, {draft.ends} ends, {draft.picks} picks listed."
            + _shown(draft.ends, MOST_ENDS, "ends")
            + _shown(draft.picks, MOST_PICKS_DRAWN, "picks"),
        )
    )
    lines += [
        _figure(cloth_drawing(piece, surface), _cloth_words(piece, surface)) for surface in Surface if piece.lying
    ]
    for stage, tieup in enumerate(piece.tieups):
        stages = f", stage {stage + 1} of {len(piece.tieups)}" if len(piece.tieups) > 1 else ""
        lines.append(f"<h3>Tie-up{stages}</h3>")
        lines.append(
            _figure(tieup_drawing(tieup, sheet.warp.loom.loom.shafts), "Treadle 1 on the left, shaft 1 lowest.")
        )
        lines.append(
            _table(("treadle", "cords to shafts"), [(number, tie_words(tie)) for number, tie in enumerate(tieup, 1)])
        )
    lines.append("<h3>Footing of each shed</h3>" if piece.tieups else "<h3>Sheds</h3>")
    lines.append(_footings(piece))
    lines.append("<h3>Sections</h3>")
    lines.append(
        _table(
            ("section", "picks listed", "woven to", "picks in the cloth"),
            [
                (row.name, row.listed, "" if row.until_cm is None else f"{row.until_cm:g} cm", row.lying)
                for row in piece.sections
            ],
        )
    )
    lines.append("<h3>Shuttles</h3>")
    lines.append(
        _table(
            ("shuttle", "picks in the cloth", "bobbins put in"),
            [(row.name, row.picks, row.bobbins) for row in piece.shuttles],
        )
    )
    return [*lines, *_set_places(sheet, piece)]


def _cloth_words(piece: PieceSheet, surface: Surface) -> str:
    through = " Read through the cloth: end 1 on the left." if surface is Surface.BACK else ""
    where = "as it lies"
    if piece.piece.face_down:
        where = "which lies below on the loom" if surface is Surface.FACE else "which lies up on the loom"
    return (
        f"The {surface.value}, {where}, newest pick on top.{through}"
        + _shown(piece.piece.draft.ends, MOST_ENDS_LYING, "ends")
        + _shown(len(piece.lying), MOST_PICKS_LYING, "picks", "newest")
    )


def _shown(there: int, shown: int, what: str, which: str = "first") -> str:
    return f" Shown are the {which} {shown} of {there} {what}." if there > shown else ""


def _footings(piece: PieceSheet) -> str:
    with_feet, stages = bool(piece.tieups), len(piece.tieups) > 1
    headings = [*(["stage"] if stages else []), "shafts up", *(["left foot", "right foot"] if with_feet else [])]
    rows = []
    for row in piece.footings:
        feet = []
        if with_feet and row.footing is not None:
            feet = [treadle_words(row.footing.left), treadle_words(row.footing.right)]
        stage = [] if not stages or row.stage is None else [row.stage + 1]
        rows.append([*stage, print_shed(row.shed), *feet, row.picks])
    return _table([*headings, "picks in the cloth"], rows)


def _set_places(sheet: Sheet, piece: PieceSheet) -> list[str]:
    rows = [
        (happened.entry.number, f"after pick {happened.next_pick}", event_words(happened.entry.event, piece.piece))
        for happened in sheet.told.happened
        if happened.piece == piece.index and not happened.undone and isinstance(happened.entry.event, Jumped)
    ]
    return ["<h3>Out of turn</h3>", _table(("entry", "where", "what"), rows)] if rows else []


def _ahead(sheet: Sheet) -> list[str]:
    ahead = sheet.ahead
    lines: list[str] = []
    groups: list[tuple[str, Iterable[WeftNeed | YarnTotal]]] = [
        (sheet.warp.pieces[sheet.told.progress.now.piece].name, ahead.weft),
        *((sheet.warp.pieces[piece].name, needs) for piece, needs in ahead.later),
        *([("in all", ahead.in_all)] if ahead.later else []),
    ]
    rows = [
        (what, need.name, need.picks, range_words(need.metres, "m"), range_words(need.grams, "g"))
        for what, needs in groups
        for need in needs
    ]
    if any(need.picks for need in ahead.in_all):
        lines.append(_table(("piece", "shuttle", "picks", "weft", "weight"), rows))
    lines += [f"<p>{_text(note)}.</p>" for note in notes_ahead(sheet.warp, sheet.told.progress)]
    if ahead.time is not None and ahead.time.picks:
        least, likely, most = (
            duration_words(ms) for ms in (ahead.time.least_ms, ahead.time.likely_ms, ahead.time.most_ms)
        )
        lines.append(f"<p>At the pace of late: {likely} at the loom, between {least} and {most}.</p>")
    if ahead.warp is not None:
        cells = [(piece.name, length_words(piece.woven_cm), length_words(piece.warp_cm)) for piece in ahead.warp.pieces]
        lines.append(_table(("piece", "woven length, done or planned", "warp it takes"), cells))
        left, over = length_words(ahead.warp.left_cm), length_words(ahead.warp.over_cm)
        short = warp_warning(sheet.warp, sheet.told.progress)
        end = f"{short[0].upper()}{short[1:]}" if short else f"Left over at the end: {over}"
        lines.append(f"<p>Warp left to weave with: {left}. {_text(end)}.</p>")
    return ["<h2>Still to come</h2>", *lines] if lines else []


def _faults(sheet: Sheet, zone: tzinfo | None) -> list[str]:
    if not sheet.told.faults:
        return ["<h2>Faults</h2>", "<p>None was noted.</p>"]
    rows = [
        (
            fault.number + 1,
            sheet.warp.pieces[fault.piece].name,
            fault.pick + 1,
            "" if fault.end is None else fault.end + 1,
            fault.kind.value,
            fault.note,
            time_words(fault.found_at_ms, zone),
            "open" if fault.settled_at_ms is None else f"{fault.state.value}, {time_words(fault.settled_at_ms, zone)}",
            fault.how,
        )
        for fault in sheet.told.faults
    ]
    headings = ("fault", "piece", "pick", "end", "kind", "note", "found", "what became of it", "how")
    lines = ["<h2>Faults</h2>", _table(headings, rows), f"<p>{_text(fault_words(sheet.faults))}.</p>"]
    groups: tuple[tuple[str, tuple[FaultRate, ...]], ...] = (
        ("in all", (sheet.faults.all_picks,)),
        ("by change of the feet", sheet.faults.by_change),
        ("by section", sheet.faults.by_section),
        ("by hour", sheet.faults.by_hour),
    )
    rates = [
        (group, rate.heading, rate.faults, rate.picks, "" if rate.per_thousand is None else rate.per_thousand)
        for group, several in groups
        for rate in several
    ]
    return [*lines, _table(("counted", "where", "faults", "picks woven", "per 1,000 picks"), rates)]


def _measures(sheet: Sheet, zone: tzinfo | None) -> list[str]:
    rows = [
        (
            time_words(measure.at_ms, zone),
            sheet.warp.pieces[measure.piece].name,
            f"{measure.centimetres:g} cm {'under tension' if measure.under_tension else 'relaxed'}",
            measure.picks,
            f"{measure.picks / measure.centimetres:.2f}",
        )
        for measure in sheet.told.measured
    ]
    return ["<h2>Measures</h2>", _table(("time", "piece", "length", "picks", "picks per cm"), rows)] if rows else []


def _notes(sheet: Sheet, zone: tzinfo | None) -> list[str]:
    rows = [
        (time_words(note.at_ms, zone), sheet.warp.pieces[note.piece].name, f"before pick {note.pick + 1}", note.text)
        for note in sheet.told.notes
    ]
    return ["<h2>Notes</h2>", _table(("time", "piece", "where", "note"), rows)] if rows else []


def _sittings(sheet: Sheet, zone: tzinfo | None) -> list[str]:
    rows = [
        (
            time_words(sitting.began_ms, zone),
            time_words(sitting.ended_ms, zone),
            duration_words(max(0, sitting.ended_ms - sitting.began_ms)),
            sitting.picks,
        )
        for sitting in sheet.told.sittings
    ]
    return ["<h2>Sittings</h2>", _table(("from", "to", "time", "picks woven"), rows)] if rows else []


def _figure(drawing: str, caption: str) -> str:
    return f"<figure>{drawing}<figcaption>{_text(caption)}</figcaption></figure>"


def _table(headings: Iterable[str], rows: Iterable[Sequence[object]]) -> str:
    head = "".join(f"<th>{_text(heading)}</th>" for heading in headings)
    lines = [f"<thead><tr>{head}</tr></thead>"] if head else []
    for row in rows:
        cells = [_cell(value) for value in row]
        lines.append(f"<tr>{''.join(cells)}</tr>")
    return f"<table>{''.join(lines)}</table>"


def _cell(value: object) -> str:
    if isinstance(value, float):
        value = f"{value:.1f}"
    elif not isinstance(value, int):
        return f"<td>{_text(value)}</td>"
    return f'<td class="number">{value}</td>'


def _text(value: object) -> str:
    return html.escape(str(value), quote=True)
