"""`fellside amounts`: how much warp and weft drafts will take, or what is still to come of a warp on the loom."""

from __future__ import annotations

import argparse
import json

from companion.cli import amounts_left, amounts_planned
from companion.cli.loom_options import loom_named_in
from companion.cli.new_warp import add_measures, as_laid_in, measures_of, with_waste
from companion.cli.sizes import option_of
from companion.cli.sources import load_draft, names_a_warp
from companion.cli.spoken import tell
from companion.cli.status import DONE, CommandError
from companion.cli.told_otherwise import options_given
from companion.journal.errors import JournalError
from companion.journal.snapshots import progress_of
from companion.present.trade_words import names_in
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.warp import Warp
from companion.workshop import app
from companion.workshop.draft_files import name_of_draft
from companion.workshop.dressing import reckon_with
from companion.workshop.looms import UNNAMED_LOOM

SUMMARY = "how much warp and weft drafts take, or a warp still needs"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what is woven, and the sizes that a draft does not tell."""
    parser.add_argument(
        "what",
        nargs="+",
        metavar="FILE or NAME",
        help="a draft (several: pieces of one warp, in order), or the name of a warp",
    )
    plan = parser.add_argument_group("for drafts")
    plan.add_argument("--loom", metavar="NAME", help="one of your looms (see fellside looms), for its width and waste")
    add_measures(plan)
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def run(arguments: argparse.Namespace) -> int:
    """Print the amounts; what nothing tells is said to be not known."""
    shelf, what = app.shelf(), arguments.what
    try:
        if len(what) == 1 and names_a_warp(what[0], shelf):
            _refuse_measures(arguments)
            with shelf.open_to_read(what[0]) as journal:
                warp, progress = journal.warp, progress_of(journal)
            document = amounts_left.document(warp, progress)
            lines = amounts_left.lines(warp, progress, arguments.units)
        else:
            warp, wound = _planned(arguments), arguments.length is not None
            document = amounts_planned.document(warp, wound)
            lines = amounts_planned.lines(warp, wound, arguments.units)
    except (JournalError, WeavingError) as error:
        raise CommandError(error_words(error, arguments.units)) from error
    if arguments.json:
        print(json.dumps(document))
    else:
        own = [warp.name, *(name for piece in warp.pieces for name in (piece.name, *names_in(piece.draft)))]
        tell(lines, arguments.trade, own)
    return DONE


def _planned(arguments: argparse.Namespace) -> Warp:
    drafts = as_laid_in(arguments, [load_draft(name) for name in arguments.what])
    loom = UNNAMED_LOOM if arguments.loom is None else loom_named_in(arguments)
    measures = measures_of(arguments, drafts, only_planned=True)
    return reckon_with(name_of_draft(drafts[0], arguments.what[0]), drafts, with_waste(loom, arguments), measures)


def _refuse_measures(arguments: argparse.Namespace) -> None:
    for option in options_given(arguments, "what", "json"):
        raise CommandError(
            f"{option_of(option)} is for drafts; {arguments.what[0]!r} is on the shelf and has its own measures"
        )
