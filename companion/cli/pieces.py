"""`fellside pieces`: in which order to weave several pieces of one warp so that few cords change between them."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator, Sequence
from pathlib import Path

from companion.cli import remap_words
from companion.cli.columns import columns
from companion.cli.loom_options import Usual, add_aim, add_loom_arguments, aim_of, profile_of
from companion.cli.outputs import write_document
from companion.cli.remap_document import document, footwork_document
from companion.cli.sources import load_draft
from companion.cli.spoken import tell
from companion.cli.status import DONE, NO_SUCH_ANSWER, CommandError
from companion.cli.waiting import progress_line, stopped_by_ctrl_c
from companion.draft.masks import print_shed
from companion.draft.model import Draft
from companion.draft.units import counted
from companion.journal.shelf import file_stem, tidy_name
from companion.present.cords import change_words
from companion.present.feet_wish import wish_told
from companion.present.footing_in_words import stage_footing_words
from companion.present.loom_kinds import loom_in_full
from companion.present.ties_said import TO_CHANGE, ties_words
from companion.present.trade_words import names_in
from companion.present.ways_of_pieces import OWN_FEET, SAME_FEET, ways_compared
from companion.present.wording import footing_words
from companion.record.card import tieup_card
from companion.remap.errors import RemapError
from companion.remap.feet.tied_stage import Footwork, TiedStage
from companion.remap.loom.loom import Action, Loom, TieUp
from companion.remap.pieces import PiecePlan, plan_pieces
from companion.remap.remapped import Remapping, Verdict
from companion.remap.same_feet import SameFeet, plan_same_feet
from companion.remap.search.answers import SearchProgress
from companion.workshop.draft_files import name_of_draft

SUMMARY = "the order of several pieces on one warp that changes fewest ties"
SECONDS = 60.0
"""How long the searches may take in all where the weaver names no limit."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the pieces and the loom."""
    parser.add_argument("files", nargs="+", metavar="FILE", help="a draft for each piece, all threaded alike")
    add_loom_arguments(parser, [action for action in Action if action is not Action.LEVERS])
    add_aim(parser)
    parser.add_argument("--seconds", type=float, default=SECONDS, metavar="S", help="longest search (default 60)")
    parser.add_argument("--json", action="store_true", help="print one JSON document")
    parser.add_argument(
        "--cards", metavar="FOLDER", help="write a tie-up card for each piece, with the same feet where that fits"
    )


def run(arguments: argparse.Namespace) -> int:
    """Plan the pieces and print the plan; exit status 1 where a piece does not fit on so many treadles."""
    if not arguments.seconds > 0:
        raise CommandError(f"--seconds {arguments.seconds:g}; give a time above 0")
    drafts = [load_draft(name) for name in arguments.files]
    try:
        profile = profile_of(arguments, Usual(max(draft.shafts for draft in drafts)))
        loom, present = profile.loom, profile.present
        if loom.action is Action.LEVERS:
            raise CommandError(f"loom {profile.name!r} has levers, no ties to change; weave the pieces in any order")
        plan, same = _planned(arguments, drafts, loom, present)
    except RemapError as error:
        raise CommandError(str(error)) from error
    names = list(map(name_of_draft, drafts, arguments.files))
    if arguments.cards is not None and not plan.unfit:
        chosen = same if same is not None and same.fits else plan
        _write_cards(arguments, chosen.order, chosen.answers, drafts, names)
    if arguments.json:
        print(json.dumps(_document(plan, same, drafts, arguments.files, names, loom)))
    else:
        own = [*names, profile.name, *(name for draft in drafts for name in names_in(draft))]
        tell(_lines(plan, same, names, loom), arguments.trade, own)
    return NO_SUCH_ANSWER if plan.unfit else DONE


def _planned(
    arguments: argparse.Namespace, drafts: Sequence[Draft], loom: Loom, present: TieUp | None
) -> tuple[PiecePlan, SameFeet | None]:
    """Plan both ways, until Ctrl-C or the end of the time; raises RemapError."""
    with stopped_by_ctrl_c(arguments.seconds) as should_stop, progress_line() as line:

        def tell_of(piece: int | None, progress: SearchProgress) -> None:
            line.tell(progress, f"piece {piece + 1} of {len(drafts)}: " if piece is not None else "one tie-up: ")

        def hear(plan: PiecePlan) -> None:
            line.hear(f"An order of the pieces changes {ties_words(plan.cords)}")

        plan = plan_pieces(
            drafts,
            loom,
            present=present,
            aim=aim_of(arguments),
            should_stop=should_stop,
            progress=tell_of,
            so_far=hear,
        )
        line.begin("the same feet in every piece")
        same = plan_same_feet(
            drafts,
            loom,
            present=present,
            should_stop=should_stop,
            progress=lambda progress: line.tell(progress, "same feet: "),
        )
    return plan, same


def _write_cards(
    arguments: argparse.Namespace,
    order: Sequence[int],
    answers: Sequence[Remapping],
    drafts: Sequence[Draft],
    names: Sequence[str],
) -> None:
    """Write the card of every piece into the folder, numbered in the order of weaving; raises CommandError."""
    folder = Path(arguments.cards)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise CommandError(f"{folder}: {error.strerror}; name a folder that can be made") from error
    for number, (piece, answer) in enumerate(zip(order, answers, strict=True), 1):
        card = tieup_card(names[piece], drafts[piece], answer, arguments.facing, arguments.units, arguments.trade)
        write_document(str(folder / f"{number} {file_stem(tidy_name(names[piece]))} card.html"), card.encode())


def _lines(plan: PiecePlan, same: SameFeet | None, names: list[str], loom: Loom) -> Iterator[str]:
    yield f"{counted(len(names), 'piece')} on one warp; loom: {loom_in_full(loom)}"
    if plan.unfit:
        for piece, answer in zip(plan.order, plan.answers, strict=True):
            if answer.verdict is not Verdict.FITS:
                yield f"{names[piece]}: {_why_not(answer)}"
        return
    yield "Each weaves its draft's cloth (checked pick by pick)."
    if same is not None:
        yield ""
        yield from (f"  {row}" for row in columns(ways_compared(plan, same)))
    if same is not None and not same.fits:
        yield f"  The same feet need more: {remap_words.fewest_words(same.fewest)}."
    yield ""
    yield f"{OWN_FEET[plan.one_tieup].capitalize()}:"
    if plan.one_tieup:
        yield "One tie-up weaves them all, in any order: no tie changes between them."
    else:
        certain = "; no order of these tie-ups changes fewer (proven)" if plan.order_proven else "; the best found"
        yield f"{TO_CHANGE.capitalize()} in this order: {plan.cords}; as given: {plan.cords_as_given}{certain}."
        if plan.cords_on_one is not None:
            yield f"One tie-up would weave them all, and would change {ties_words(plan.cords_on_one)}."
    yield from _pieces(plan.order, plan.answers, names, loom, draw_each=not plan.one_tieup)
    if same is not None and same.fits:
        yield ""
        yield f"{SAME_FEET.capitalize()}:"
        certain = "; no order of these tie-ups changes fewer (proven)" if same.order_proven else "; the best found"
        yield f"{TO_CHANGE.capitalize()} in this order: {same.cords}; as given: {same.cords_as_given}{certain}."
        yield f"Feet in every piece: {stage_footing_words(same.answers[0], same.answers[0].stages[0])}."
        if same.footwork is not None:
            yield _footwork_of_each(same.footwork)
        yield from _pieces(same.order, same.answers, names, loom, draw_each=True)


def _footwork_of_each(footwork: Footwork) -> str:
    """Return what one piece costs, and what is known of all tie-ups that weave every piece with the same feet."""
    if footwork.proven:
        return f"Footwork of each {footwork.cost}, as light as one treadling for all pieces can be (proven)."
    return f"Footwork of each {footwork.cost}; no one treadling for all pieces is lighter than {footwork.at_least}."


def _pieces(
    order: Sequence[int], answers: Sequence[Remapping], names: list[str], loom: Loom, *, draw_each: bool
) -> Iterator[str]:
    for number, (piece, answer) in enumerate(zip(order, answers, strict=True), 1):
        yield ""
        yield f"{number}. {names[piece]} (given as {piece + 1}), {counted(len(answer.footings), 'pick')}"
        if unkept := wish_told(answer):
            yield f"  {unkept}"
        for stage in answer.stages:
            yield from _stage(stage, loom, draw=number == 1 or draw_each)


def _stage(stage: TiedStage, loom: Loom, *, draw: bool) -> Iterator[str]:
    if draw:
        if stage.changes is not None:
            yield f"  {TO_CHANGE} before: {stage.cords_changed}"
            yield from (f"    {change_words(change, loom.action)}" for change in stage.changes)
        yield from remap_words.drawn(stage.tieup, loom)
    for feet in stage.sheds:
        yield f"  {print_shed(feet.shed):<20} {footing_words(feet.footing)}  ({counted(feet.picks, 'pick')})"


def _why_not(answer: Remapping) -> str:
    match answer.verdict:
        case Verdict.TOO_FEW_SHAFTS:
            missing = ", ".join(map(str, answer.missing_shafts))
            return f"ends are threaded on shafts that the loom lacks: {missing}"
        case Verdict.UNKNOWN:
            return f"not known, the search was stopped; at least {answer.fewest.at_least} treadles are needed"
        case _:
            return f"does not fit; {remap_words.fewest_words(answer.fewest)}"


def _document(
    plan: PiecePlan, same: SameFeet | None, drafts: list[Draft], files: list[str], names: list[str], loom: Loom
) -> dict[str, object]:
    def pieces(order: Sequence[int], answers: Sequence[Remapping]) -> list[dict[str, object]]:
        return [
            {"given_as": piece + 1, "file": files[piece], "title": names[piece]} | document(drafts[piece], answer)
            for piece, answer in zip(order, answers, strict=True)
        ]

    return {
        "loom": {
            "shafts": loom.shafts,
            "treadles": loom.treadles,
            "action": loom.action.value,
            "reach": loom.reach,
        },
        "outcome": "does not fit" if plan.unfit else "fits",
        "one_tieup": plan.one_tieup,
        "order": [piece + 1 for piece in plan.order],
        "cords": plan.cords,
        "cords_as_given": plan.cords_as_given,
        "cords_on_one_tieup": plan.cords_on_one,
        "order_proven": plan.order_proven,
        "pieces": pieces(plan.order, plan.answers),
        "same_feet": None
        if same is None
        else {
            "outcome": "fits" if same.fits else "does not fit" if same.fewest.at_least > loom.treadles else "unknown",
            "fewest": {
                "treadles": same.fewest.best,
                "proven": same.fewest.proven,
                "at_least": same.fewest.at_least,
            },
            "order": [piece + 1 for piece in same.order],
            "cords": same.cords,
            "cords_as_given": same.cords_as_given,
            "order_proven": same.order_proven,
            # Bounds of footwork and of treadles are those of all pieces together, in each piece too.
            "bounds_of": "all pieces together",
            "footwork": None if same.footwork is None else footwork_document(same.footwork),
            "pieces": pieces(same.order, same.answers),
        },
    }
