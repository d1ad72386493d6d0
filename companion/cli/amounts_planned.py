"""The amounts of a warp that is planned: its pieces, the warp to wind, and the yarn in all."""

from __future__ import annotations

from collections.abc import Iterator

from companion.cli.amounts_words import (
    Document,
    between_lines,
    size_lines,
    warp_lines,
    weft_document,
    weft_lines,
)
from companion.draft.units import Units, long_words, measured_words
from companion.present.plan_words import UNTIL_LENGTH, early_warnings, note_words
from companion.weaving.agreement import plan_notes
from companion.weaving.amounts import (
    finished_cm,
    pieces_planned,
    planned_picks,
    warp_left,
    warp_needed,
)
from companion.weaving.progress import begin
from companion.weaving.warp import Warp
from companion.weaving.yarn_needs import WeftNeed, in_all, warp_yarns, weft_planned


def lines(warp: Warp, wound: bool, units: Units) -> Iterator[str]:
    """Yield what the pieces and the warp take; `wound`: the length of the warp is given."""
    for index, share in enumerate(pieces_planned(warp)):
        piece = warp.pieces[index]
        picks = planned_picks(piece, piece.planned_picks_per_cm())
        yield f"{share.name}: {picks.picks} picks" + ("" if picks.certain else UNTIL_LENGTH)
        finished = None if share.woven_cm is None else finished_cm(warp, share.woven_cm)
        yield f"  woven on the loom {measured_words(share.woven_cm, units)}, finished {measured_words(finished, units)}"
        yield from between_lines(warp, index, units)
        yield from weft_lines(weft_planned(warp, index), units, picks.certain)
    needed = warp_needed(warp)
    if len(warp.pieces) > 1:
        yield "in all"
        whole = all(planned_picks(piece, piece.planned_picks_per_cm()).certain for piece in warp.pieces)
        yield from weft_lines(in_all(_all_weft(warp)), units, whole)
    left_out = _left_out(warp)
    yield f"  warp to wind {long_words(needed, units)} of {warp.pieces[0].draft.ends} ends{left_out}"
    yield from warp_lines(warp_yarns(warp, needed), units)
    yield from size_lines(warp, units)
    left = warp_left(warp, begin(warp)) if wound else None
    if left is not None:
        over = f"over at the end {'at most ' if left_out else ''}{measured_words(left.over_cm, units)}"
        yield f"  warp wound {long_words(left.wound_cm, units)}, {over}"
    yield from (f"  note: {note}" for note in _notes(warp, wound, units))


def document(warp: Warp, wound: bool) -> Document:
    """Return the same as JSON-ready values; at the top what all pieces take together."""
    shares = pieces_planned(warp)
    picks = [planned_picks(piece, piece.planned_picks_per_cm()) for piece in warp.pieces]
    woven = _sum([share.woven_cm for share in shares])
    needed = warp_needed(warp)
    return {
        "picks": sum(each.picks for each in picks),
        "picks_certain": all(each.certain for each in picks),
        "woven_cm": woven,
        "finished_cm": None if woven is None else finished_cm(warp, woven),
        "warp_cm": needed,
        "warp": [
            {"yarn": yarn.name, "ends": yarn.ends, "metres": yarn.metres, "grams": yarn.grams}
            for yarn in warp_yarns(warp, needed)
        ],
        "weft": weft_document(in_all(_all_weft(warp))),
        "yarns": [{"yarn": size.yarn, "tex": size.tex} for size in warp.sizes],
        "pieces": [
            {
                "name": share.name,
                "picks": each.picks,
                "picks_certain": each.certain,
                "picks_per_cm": piece.planned_picks_per_cm(),
                "woven_cm": share.woven_cm,
                "finished_cm": None if share.woven_cm is None else finished_cm(warp, share.woven_cm),
                "fringe_cm": piece.fringe_cm,
                "spacer_cm": piece.spacer_cm,
                "warp_cm": share.warp_cm,
                "weft": weft_document(weft_planned(warp, share.piece)),
            }
            for piece, share, each in zip(warp.pieces, shares, picks, strict=True)
        ],
        "notes": _notes(warp, wound, Units.METRIC),
    }


def _left_out(warp: Warp) -> str:
    """Return what nobody told and is not counted: `, take-up and loom waste not counted`."""
    take_up = warp.winding is not None and warp.winding.take_up
    parts = [what for what, told in (("take-up", take_up), ("loom waste", warp.loom.loom_waste_cm)) if not told]
    return f", {' and '.join(parts)} not counted" if parts else ""


def _all_weft(warp: Warp) -> list[WeftNeed]:
    return [need for index in range(len(warp.pieces)) for need in weft_planned(warp, index)]


def _notes(warp: Warp, wound: bool, units: Units) -> list[str]:
    short = early_warnings(warp, begin(warp), units) if wound else ()
    return [*note_words(warp, plan_notes(warp), units), *short]


def _sum(lengths: list[float | None]) -> float | None:
    known = [length for length in lengths if length is not None]
    return sum(known) if len(known) == len(lengths) else None
