"""The amounts of a warp on the loom: what is still to come of the piece now, of those after it, and of the warp."""

from __future__ import annotations

from collections.abc import Iterator

from companion.cli.amounts_words import Document, between_lines, size_lines, weft_document, weft_lines
from companion.draft.units import Units, density_words, long_words, measured_words, per_length_words
from companion.present.durations import duration_words, tenths_of_minutes
from companion.present.plan_words import early_warnings, note_words
from companion.weaving.agreement import notes_ahead
from companion.weaving.amounts import (
    Density,
    density,
    picks_ahead,
    planned_picks,
    warp_left,
)
from companion.weaving.forecast import forecast
from companion.weaving.progress import Progress
from companion.weaving.state import woven_cm
from companion.weaving.warp import Warp
from companion.weaving.yarn_needs import in_all, weft_to_come


def lines(warp: Warp, progress: Progress, units: Units) -> Iterator[str]:
    """Yield the piece on the loom with time and weft, the pieces ahead, the warp, and what will run short."""
    now = progress.now
    piece = warp.pieces[now.piece]
    left, ahead, time = warp_left(warp, progress), picks_ahead(piece, now), forecast(warp, progress)
    weft = weft_to_come(warp, progress)
    yield f"{piece.name}: {ahead.picks} picks still to weave" + ("" if ahead.certain else ", and more")
    if time is not None:
        between = f"{duration_words(time.least_ms)} to {duration_words(time.most_ms)}"
        yield f"  at your recent pace {duration_words(time.likely_ms)} ({between})"
    closeness = f"picks {per_length_words(units)} {_density_words(density(piece, now), units)}"
    yield f"  woven {measured_words(woven_cm(piece, now), units)}; {closeness}"
    yield from between_lines(warp, now.piece, units)
    yield from weft_lines(weft[now.piece], units)
    for index, later in enumerate(warp.pieces[now.piece + 1 :], now.piece + 1):
        yield f"then {later.name}: {planned_picks(later, later.planned_picks_per_cm()).picks} picks"
        yield from between_lines(warp, index, units)
        yield from weft_lines(weft[index], units)
    if len(warp.pieces) > now.piece + 1:
        yield "in all"
        yield from weft_lines(in_all(need for needs in weft for need in needs), units)
    if left is not None:
        yield f"  warp wound {long_words(left.wound_cm, units)}, used {measured_words(left.used_cm, units)}"
        over = f"over at the end {measured_words(left.over_cm, units)}"
        yield f"  warp left {long_words(left.left_cm, units)}, {over}"
    yield from size_lines(warp, units)
    yield from (f"  note: {warning}" for warning in _notes(warp, progress, units))


def document(warp: Warp, progress: Progress) -> Document:
    """Return the same as JSON-ready values; `picks`, `minutes` and `weft` are of the piece on the loom."""
    now = progress.now
    piece = warp.pieces[now.piece]
    left, ahead, time = warp_left(warp, progress), picks_ahead(piece, now), forecast(warp, progress)
    weft, told = weft_to_come(warp, progress), density(piece, now)
    return {
        "piece": now.piece + 1,
        "picks": ahead.picks,
        "picks_certain": ahead.certain,
        "picks_per_cm": {"planned": told.planned, "measured": told.measured, "relaxed": told.relaxed},
        "woven_cm": woven_cm(piece, now),
        "minutes": None
        if time is None
        else [tenths_of_minutes(ms) for ms in (time.least_ms, time.likely_ms, time.most_ms)],
        "warp_wound_cm": None if left is None else left.wound_cm,
        "warp_used_cm": None if left is None else left.used_cm,
        "warp_left_cm": None if left is None else left.left_cm,
        "warp_over_cm": None if left is None else left.over_cm,
        "weft": weft_document(weft[now.piece]),
        "weft_in_all": weft_document(in_all(need for needs in weft for need in needs)),
        "pieces": [
            {
                "name": other.name,
                "woven_cm": None if left is None else left.pieces[index].woven_cm,
                "warp_cm": None if left is None else left.pieces[index].warp_cm,
                "fringe_cm": other.fringe_cm,
                "spacer_cm": other.spacer_cm,
                "weft": weft_document(weft[index]),
            }
            for index, other in enumerate(warp.pieces)
        ],
        "warnings": _notes(warp, progress, Units.METRIC),
    }


def _notes(warp: Warp, progress: Progress, units: Units) -> list[str]:
    return [*note_words(warp, notes_ahead(warp, progress), units), *early_warnings(warp, progress, units)]


def _density_words(told: Density, units: Units) -> str:
    known = (("planned", told.planned), ("measured", told.measured), ("relaxed", told.relaxed))
    return (
        ", ".join(f"{what} {density_words(each, units, '.2f')}" for what, each in known if each is not None)
        or "not known"
    )
