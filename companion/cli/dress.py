"""`fellside dress`: what is counted before a warp is put on, and stepping through threading and sleying."""

from __future__ import annotations

import argparse
import json
import sys
from dataclasses import dataclass, replace

from companion.cli.dress_words import counts_document, counts_lines
from companion.cli.dressing_stepper import DressingStepper
from companion.cli.loom_options import heddles_of, loom_named_in
from companion.cli.sizes import length
from companion.cli.sources import load_draft, names_a_warp
from companion.cli.status import DONE, CommandError
from companion.draft.errors import DraftError, ShorthandError
from companion.draft.model import Draft
from companion.draft.shorthand_sley import parse_sley
from companion.draft.sley import Sley, parse_reed
from companion.draft.threading_groups import USUAL_GROUP
from companion.journal.errors import JournalError
from companion.weaving.dressing import BACK_TO_FRONT, FRONT_TO_BACK
from companion.weaving.dressing_counts import Tools, count_dressing
from companion.weaving.dressing_way import DressingWay
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.warp import LoomProfile
from companion.workshop import app

SUMMARY = "dress the loom: heddles, colours and dents counted; thread and sley step by step"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what is put on the loom, and the tools at hand."""
    parser.add_argument("what", metavar="FILE or NAME", help="a draft, to count, or a warp's name, to dress")
    parser.add_argument("--counts", action="store_true", help="print what is counted before the warp is put on")
    parser.add_argument("--front-to-back", action="store_true", help="sley first, then thread and beam")
    parser.add_argument("--json", action="store_true", help="print one JSON document (with --counts)")
    tools = parser.add_argument_group("what is at hand")
    tools.add_argument("--loom", metavar="NAME", help="one of your looms, for its heddles and its width")
    tools.add_argument("--heddles", metavar="N,…", help="heddles on each shaft, shaft 1 first; one number is for all")
    tools.add_argument("--reed", metavar="DENTS", help="dents on a length: 10/in, 4/cm or 40/10 cm")
    tools.add_argument("--reed-width", type=length, metavar="LENGTH", help="of the reed (default: the loom's)")
    tools.add_argument("--sley", metavar="PLAN", help='ends in each dent, in shorthand: 2, or "(1 1 2 2 0)x20"')
    tools.add_argument("--raddle", metavar="SPACES", help="spaces of the raddle on a length: 1/cm or 2/in")
    tools.add_argument("--at-once", type=int, default=1, metavar="N", help="ends wound at once (default 1)")
    tools.add_argument("--group", type=int, default=USUAL_GROUP, metavar="N", help="ends in a group to thread, at most")


@dataclass(frozen=True, slots=True)
class _PutOn:
    """What is put on the loom: its draft, and of a warp on the shelf its loom."""

    draft: Draft
    loom: LoomProfile | None = None


def run(arguments: argparse.Namespace) -> int:
    """Step through the dressing of a warp, or print the counts; what nothing tells is left out."""
    try:
        if not arguments.counts and not arguments.json and names_a_warp(arguments.what, app.shelf()):
            return _step(arguments)
        put_on = _put_on(arguments)
        sley = _sley(arguments, put_on.draft)
        counts = count_dressing(put_on.draft, sley, _tools(arguments, put_on))
    except (JournalError, WeavingError) as error:
        raise CommandError(error_words(error, arguments.units)) from error
    except DraftError as error:
        raise CommandError(str(error)) from error
    if arguments.json:
        print(json.dumps(counts_document(put_on.draft, counts)))
    else:
        print("\n".join(counts_lines(put_on.draft, counts, sley, arguments.units)))
    return DONE


def _step(arguments: argparse.Namespace) -> int:
    order = FRONT_TO_BACK if arguments.front_to_back else BACK_TO_FRONT
    with app.sit_down(arguments.what) as loom:
        way = DressingWay(order, at_once=arguments.at_once).with_group(loom.warp, arguments.group)
        DressingStepper(loom, way, arguments.units, arguments.facing).run(sys.stdin, _say)
    return DONE


def _say(line: str) -> None:
    print(line, flush=True)


def _put_on(arguments: argparse.Namespace) -> _PutOn:
    shelf = app.shelf()
    if names_a_warp(arguments.what, shelf):
        with shelf.open_to_read(arguments.what) as journal:
            warp = journal.warp
        return _PutOn(warp.pieces[0].draft, warp.loom)
    return _PutOn(load_draft(arguments.what))


def _sley(arguments: argparse.Namespace, draft: Draft) -> Sley:
    sley = draft.sley
    try:
        if arguments.sley is not None:
            sley = replace(parse_sley(arguments.sley, draft.ends), reed_per_cm=sley.reed_per_cm)
        if arguments.reed is not None:
            sley = replace(sley, reed_per_cm=parse_reed(arguments.reed))
    except ShorthandError as error:
        raise CommandError(f"--sley: {error.what}: {error.caret.removeprefix('sley: ')}; {error.mend}") from error
    except DraftError as error:
        raise CommandError(f"--reed: {error}") from error
    return sley


def _tools(arguments: argparse.Namespace, put_on: _PutOn) -> Tools:
    loom = put_on.loom if arguments.loom is None else loom_named_in(arguments)
    reed_cm = arguments.reed_width
    if reed_cm is not None and not 0 < reed_cm <= 100_000:
        raise CommandError(f"--reed-width {reed_cm:g}: give a number above 0")
    if reed_cm is None and loom is not None:
        reed_cm = loom.weaving_width_cm
    heddles = () if loom is None else loom.heddles
    if arguments.heddles is not None:
        heddles = heddles_of(arguments.heddles, put_on.draft.shafts)
    try:
        raddle = None if arguments.raddle is None else parse_reed(arguments.raddle)
    except DraftError as error:
        raise CommandError(f"--raddle: {error.what}; write spaces on a length, such as 1/cm or 2/in") from error
    return Tools(heddles, reed_cm, raddle, arguments.at_once, arguments.group)
