"""`fellside amounts`: how much warp and weft a draft will take, or what is still to come of a warp on the loom."""

from __future__ import annotations

import argparse
import json

from companion import app
from companion.cli.sizes import check_sizes
from companion.cli.sources import load_draft, names_a_warp
from companion.cli.status import DONE, CommandError
from companion.cli.yarn_words import yarn_size
from companion.draft.model import Draft
from companion.journal.errors import JournalError
from companion.journal.snapshots import progress_of
from companion.record.wording import duration_words, length_words, range_words
from companion.remap.loom import Action, Loom
from companion.weaving.amounts import (
    WeftNeed,
    early_warnings,
    picks_ahead,
    planned_picks,
    warp_left,
    warp_needed,
    weft_needed,
    weft_planned,
)
from companion.weaving.errors import WeavingError
from companion.weaving.forecast import forecast
from companion.weaving.progress import Progress
from companion.weaving.warp import LoomProfile, Piece, Warp, Winding, YarnSize
from companion.weaving.yarn import grams

SUMMARY = "how much warp and weft a draft takes, or a warp still needs"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what is woven, and the sizes that a draft does not tell."""
    parser.add_argument("what", metavar="FILE or NAME", help="a draft, or the name of a warp")
    parser.add_argument("--picks-per-cm", type=float, metavar="N", help="picks per cm on the loom")
    parser.add_argument("--width", type=float, metavar="CM", help="width in the reed")
    parser.add_argument("--waste", type=float, default=0.0, metavar="CM", help="loom waste")
    parser.add_argument("--fringe", type=float, default=0.0, metavar="CM", help="unwoven warp to keep")
    parser.add_argument("--take-up", type=float, default=0.0, metavar="PERCENT", help="of the warp, by bending")
    parser.add_argument("--shrinkage", type=float, default=0.0, metavar="PERCENT", help="off the loom and washed")
    parser.add_argument(
        "--yarn", action="append", default=[], metavar="SIZE", help='such as "sand 20 cotton 2-ply" or "sea 60 tex"'
    )
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def run(arguments: argparse.Namespace) -> int:
    """Print the amounts; what nothing tells is said to be not known."""
    shelf = app.shelf()
    try:
        if names_a_warp(arguments.what, shelf):
            with shelf.open_to_read(arguments.what) as journal:
                lines, document = _of_warp(journal.warp, progress_of(journal))
        else:
            lines, document = _of_draft(arguments, load_draft(arguments.what))
    except (JournalError, WeavingError) as error:
        raise CommandError(str(error)) from error
    print(json.dumps(document) if arguments.json else "\n".join(lines))
    return DONE


def _of_draft(arguments: argparse.Namespace, draft: Draft) -> tuple[list[str], dict[str, object]]:
    check_sizes(arguments, "picks_per_cm", "width", "waste", "fringe", "take_up", "shrinkage")
    sizes = tuple(yarn_size(words, draft) for words in arguments.yarn)
    loom = LoomProfile("plan", Loom(draft.shafts, 0, Action.LEVERS), None, arguments.width, arguments.waste)
    piece = Piece(draft.title or arguments.what, draft, picks_per_cm=arguments.picks_per_cm, fringe_cm=arguments.fringe)
    winding = Winding(1.0, arguments.take_up / 100, arguments.shrinkage / 100)
    warp = Warp(piece.name, loom, (piece,), winding, sizes)
    per_cm = piece.planned_picks_per_cm()
    picks = planned_picks(piece, per_cm)
    woven = picks.picks / per_cm if per_cm and picks.certain else None
    finished = None if woven is None else woven * (1 - winding.shrinkage)
    needed = warp_needed(warp)
    ends = _warp_yarns(draft, needed, sizes)
    weft = weft_planned(warp, 0)
    lines = [
        f"{piece.name}: {picks.picks} picks" + ("" if picks.certain else " and more, until a length is reached"),
        f"  woven on the loom {length_words(woven)}, finished {length_words(finished)}",
        f"  warp to wind {length_words(needed)} of {draft.ends} ends",
        *(
            f"  warp {name}: {number} ends, {_likely(metres, 'm')}, {_likely(weight, 'g')}"
            for name, number, metres, weight in ends
        ),
        *_weft_lines(weft),
    ]
    document: dict[str, object] = {
        "picks": picks.picks,
        "picks_certain": picks.certain,
        "woven_cm": woven,
        "finished_cm": finished,
        "warp_cm": needed,
        "warp": [
            {"yarn": name, "ends": number, "metres": metres, "grams": weight} for name, number, metres, weight in ends
        ],
        "weft": _weft_document(weft),
    }
    return lines, document


def _of_warp(warp: Warp, progress: Progress) -> tuple[list[str], dict[str, object]]:
    piece = warp.pieces[progress.now.piece]
    left, ahead, time = warp_left(warp, progress), picks_ahead(piece, progress.now), forecast(warp, progress)
    weft, warnings = weft_needed(warp, progress), early_warnings(warp, progress)
    lines = [f"{piece.name}: {ahead.picks} picks still to weave" + ("" if ahead.certain else ", and more")]
    if time is not None:
        between = f"{duration_words(time.least_ms)} to {duration_words(time.most_ms)}"
        lines.append(f"  at the pace of late {duration_words(time.likely_ms)} ({between})")
    if left is not None:
        lines.append(f"  warp left {length_words(left.left_cm)}, over at the end {length_words(left.over_cm)}")
    document: dict[str, object] = {
        "picks": ahead.picks,
        "picks_certain": ahead.certain,
        "minutes": None
        if time is None
        else [round(ms / 60_000, 1) for ms in (time.least_ms, time.likely_ms, time.most_ms)],
        "warp_left_cm": None if left is None else left.left_cm,
        "warp_over_cm": None if left is None else left.over_cm,
        "weft": _weft_document(weft),
        "warnings": list(warnings),
    }
    return [*lines, *_weft_lines(weft), *(f"  note: {warning}" for warning in warnings)], document


def _warp_yarns(
    draft: Draft, needed_cm: float | None, sizes: tuple[YarnSize, ...]
) -> list[tuple[str, int, float | None, float | None]]:
    tex = {size.yarn: size.tex for size in sizes}
    rows = []
    for yarn in dict.fromkeys(draft.warp):
        name, ends = draft.yarns[yarn].name, draft.warp.count(yarn)
        metres = None if needed_cm is None else ends * needed_cm / 100
        rows.append((name, ends, metres, None if metres is None or name not in tex else grams(metres, tex[name])))
    return rows


def _weft_lines(needs: tuple[WeftNeed, ...]) -> list[str]:
    return [
        f"  weft {need.name}: {need.picks} picks, {range_words(need.metres, 'm')}, {range_words(need.grams, 'g')}"
        for need in needs
    ]


def _weft_document(needs: tuple[WeftNeed, ...]) -> list[dict[str, object]]:
    return [
        {
            "shuttle": need.name,
            "picks": need.picks,
            "metres": None if need.metres is None else list(need.metres),
            "grams": None if need.grams is None else list(need.grams),
        }
        for need in needs
    ]


def _likely(amount: float | None, unit: str) -> str:
    return f"{unit} not known" if amount is None else f"{amount:.1f} {unit}"
