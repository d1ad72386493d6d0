"""What a record says, in order, as one value: chapters of facts, tables, words and drawings, every number in words.

The printed page (`page`) and the pages of a small screen (`pages`) are two ways of showing it; neither walks the sheet.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, tzinfo

from companion.draft.facing import Facing
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
from companion.present.durations import duration_words, whole_minutes
from companion.present.laid_in_words import need_name_words
from companion.present.loom_kinds import loom_in_full
from companion.present.of_loom import of_loom_words
from companion.present.plan_words import note_words, warp_warning
from companion.record.chapters import Chapter, ChapterPart, Table, Value, Words, table
from companion.record.dressing_told import mistake_rows, task_rows
from companion.record.piece_told import piece_chapter
from companion.record.planned import sley_facts, warp_facts
from companion.record.sheet import Sheet
from companion.record.wording import (
    fault_words,
    loom_name_before,
    time_words,
)
from companion.weaving.agreement import notes_ahead
from companion.weaving.dressing import time_ms
from companion.weaving.faults import FaultRate
from companion.weaving.history import SESSION_GAP_MS, Fault, History
from companion.weaving.opened import PUT_ON_AGAIN, unopened_words
from companion.weaving.yarn_needs import WeftNeed, YarnTotal

_LONG_ENOUGH_FOR_A_RANGE_MS = 60_000
"""Of seconds nobody plans an evening, so no range is told of them."""


def outline(sheet: Sheet, units: Units, facing: Facing, zone: tzinfo | None = UTC) -> tuple[Chapter, ...]:
    """Return the whole record of a sheet, in these units, times as the clock of `zone` shows them.

    What was undone is only counted.
    """
    told = sheet.told
    chapters = [
        Chapter(sheet.warp.name, (Table("", (), tuple(_summary(sheet, units, facing, zone))),)),
        Chapter("Dressing the loom", _dressing(sheet, zone)),
        *(piece_chapter(sheet, piece, units, zone) for piece in sheet.pieces),
        Chapter("Still to come", tuple(_ahead(sheet, units))),
        Chapter("Faults", _faults(sheet, zone)),
        Chapter(
            "Measures",
            table(
                ("time", "piece", "length", "picks", f"picks {per_length_words(units)}"), _measures(sheet, units, zone)
            ),
        ),
        Chapter("Notes", table(("time", "piece", "where", "note"), _notes(sheet, zone))),
        Chapter("Sessions", _sessions(told, zone)),
    ]
    return tuple(chapter for chapter in chapters if chapter.parts)


def _summary(sheet: Sheet, units: Units, facing: Facing, zone: tzinfo | None) -> Iterator[tuple[Value, ...]]:
    state, told = sheet.told.progress.now, sheet.told
    yield "Loom", f"{loom_name_before(sheet.warp.loom)}{loom_in_full(sheet.warp.loom.loom)}"
    if unopened := unopened_words(sheet.warp):
        yield "Not the draft's cloth", f"{unopened}; {PUT_ON_AGAIN}"
    yield "First end", f"at the {facing.first_end.value}, as you sit at the loom; ends are counted from there"
    yield "Begun", time_words(sheet.began_ms, zone)
    yield "Last entry", time_words(sheet.ended_ms, zone)
    if dressing_ms := time_ms(state.dressing):
        yield "Time dressing the loom", duration_words(dressing_ms)
    yield "Time at the loom", duration_words(state.at_loom_ms)
    yield "Sessions", len(told.sittings)
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
        *table((), sley_facts(sheet.warp.pieces[0].draft)),
        *table(("task", "state", "done", "time"), task_rows(sheet.dressing)),
        *table(mistakes, mistake_rows(sheet.dressing, zone), "Mistakes found"),
    )


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
        *table(headings, (_fault(sheet, fault, zone) for fault in sheet.told.faults)),
        Words((f"{fault_words(sheet.faults)}.",)),
        *table(("counted", "where", "faults", "picks woven", "per 1,000 picks"), rates, "How often"),
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
        "open" if settled is None else f"{fault.state.said}, {time_words(settled, zone)}",
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


def _sessions(told: History, zone: tzinfo | None) -> tuple[ChapterPart, ...]:
    headings = ("from", "to", "time without pauses", "picks woven")
    ends = f"A session ends where nothing was entered for over {whole_minutes(SESSION_GAP_MS)} minutes."
    rows = table(headings, _sittings(told, zone))
    return (*rows, Words((ends,))) if rows else ()


def _sittings(told: History, zone: tzinfo | None) -> Iterator[tuple[Value, ...]]:
    for sitting in told.sittings:
        spent = duration_words(sitting.spent_ms)
        yield time_words(sitting.began_ms, zone), time_words(sitting.ended_ms, zone), spent, sitting.picks
