"""`fellside remap`: the loom's tie-up and feet for a draft, or what to do where it does not fit."""

from __future__ import annotations

import argparse
import json

from companion.cli import remap_words
from companion.cli.loom_options import (
    Usual,
    add_aim,
    add_loom_arguments,
    add_plain_weave,
    aim_of,
    profile_of,
    tied_for_plain_weave,
)
from companion.cli.outputs import write_document
from companion.cli.remap_document import document
from companion.cli.sources import load_draft
from companion.cli.spoken import tell
from companion.cli.status import DONE, NO_SUCH_ANSWER, CommandError
from companion.cli.waiting import progress_line, stopped_by_ctrl_c
from companion.draft.model import Draft
from companion.draft.units import counted
from companion.present.aims_compared import other_aims
from companion.present.trade_words import names_in
from companion.record.card import tieup_card
from companion.remap.errors import NoSuchTieUpError, RemapError
from companion.remap.remapped import Remapping, Verdict
from companion.remap.remapping import remap
from companion.remap.spare_treadles import with_plain_weave
from companion.weaving.warp import LoomProfile
from companion.workshop.app import until
from companion.workshop.draft_files import name_of_draft

SUMMARY = "the loom's tie-up and feet for a draft, or how else to weave it"
SECONDS = 30.0
"""How long an answer may take where the weaver names no limit; each part of it ends sooner by itself."""
OTHERS_SECONDS = 3.0
"""How long tie-ups for other aims may be looked for, to be shown beside the answer."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the draft, the loom, and what is wanted of the answer."""
    parser.add_argument("file", metavar="FILE", help="a draft: a Weaving Information File or shorthand")
    add_loom_arguments(parser)
    add_aim(parser)
    add_plain_weave(parser)
    parser.add_argument(
        "--seconds",
        type=float,
        metavar="S",
        help="work up to S seconds (inf: to the end) at what is not proven (default: soon leave it, at most 30)",
    )
    parser.add_argument("--json", action="store_true", help="print one JSON document")
    parser.add_argument("--card", metavar="OUT.html", help="write a tie-up card to print")


def run(arguments: argparse.Namespace) -> int:
    """Work out the answer and print it; exit status 0 where it fits, 1 where it does not or is not known."""
    draft = load_draft(arguments.file)
    if arguments.seconds is not None and not arguments.seconds > 0:
        raise CommandError(f"--seconds {arguments.seconds:g}; give a time above 0")
    try:
        profile = profile_of(arguments, Usual(draft.shafts))
        with stopped_by_ctrl_c(arguments.seconds or SECONDS) as should_stop, progress_line() as line:
            answer = remap(
                draft,
                profile.loom,
                present=profile.present,
                aim=aim_of(arguments),
                thorough=arguments.seconds is not None,
                should_stop=should_stop,
                progress=line.tell,
                so_far=(lambda answer: line.hear(_first_answer_words(answer))) if line.shown else None,
            )
    except NoSuchTieUpError as error:
        raise CommandError(str(error), NO_SUCH_ANSWER) from error
    except RemapError as error:
        raise CommandError(str(error)) from error
    if arguments.plain_weave and answer.verdict is Verdict.FITS:
        answer = tied_for_plain_weave(draft, answer, profile)
    if arguments.card is not None:
        card = tieup_card(
            name_of_draft(draft, arguments.file), draft, answer, arguments.facing, arguments.units, arguments.trade
        )
        write_document(arguments.card, card.encode())
    if arguments.json:
        print(json.dumps(document(draft, answer)))
    else:
        others = _for_other_aims(draft, profile, answer)
        if arguments.plain_weave:
            # Like beside like: each with plain weave too, where it has room for it.
            others = [with_plain_weave(draft, other, profile.present) or other for other in others]
        lines = remap_words.lines(draft, answer, others)
        tell(lines, arguments.trade, (*names_in(draft), profile.name))
    return DONE if answer.verdict is Verdict.FITS else NO_SUCH_ANSWER


def _for_other_aims(draft: Draft, profile: LoomProfile, answer: Remapping) -> list[Remapping]:
    """Return the answers for other aims that are found soon, to be seen beside one that fits."""
    soon = until(OTHERS_SECONDS)
    others = [
        remap(draft, profile.loom, present=profile.present, aim=aim, should_stop=soon) for aim in other_aims(answer)
    ]
    return [other for other in others if other.verdict is Verdict.FITS]


def _first_answer_words(answer: Remapping) -> str:
    """Return the gist of an answer, with its bound: `It fits, footwork 4962 (at least 3000)`."""
    if answer.verdict is Verdict.FITS:
        footwork = answer.stages[0].footwork if answer.stages else None
        return "It fits" if footwork is None else f"It fits, footwork {footwork.cost} (at least {footwork.at_least})"
    stops = counted(len(answer.stages) - 1, "stop")
    return f"At least {counted(answer.fewest.at_least, 'treadle')}; a plan with {stops}"
