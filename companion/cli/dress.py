"""`fellside dress`: what is counted before a warp is put on, and stepping through threading and sleying."""

from __future__ import annotations

import argparse
import json
import sys
from dataclasses import dataclass, replace
from functools import partial

from companion.cli.dress_words import counts_document, counts_lines
from companion.cli.dressing_stepper import DressingStepper
from companion.cli.loom_options import heddles_of, loom_named_in
from companion.cli.sizes import check_sizes, length, option_of
from companion.cli.sources import load_draft, names_a_warp
from companion.cli.spoken import tell
from companion.cli.status import DONE, CommandError
from companion.draft.errors import DraftError, ShorthandError
from companion.draft.model import Draft
from companion.draft.shorthand_sley import parse_sley
from companion.draft.sley import Sley, parse_reed
from companion.draft.threading_groups import USUAL_GROUP
from companion.journal.errors import JournalError
from companion.journal.snapshots import progress_of
from companion.present.preferences import dressing_way
from companion.present.trade_words import names_in, own_words
from companion.weaving.decide import resume
from companion.weaving.dressing import FRONT_TO_BACK, sley_of
from companion.weaving.dressing_commands import plan_sley
from companion.weaving.dressing_counts import Tools, count_dressing
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.warp import LoomProfile
from companion.workshop import app
from companion.workshop.loomside import AtTheLoom
from companion.workshop.preference_file import load_preferences, preference_file

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
    tools.add_argument("--at-once", type=int, metavar="N", help="ends wound at once (default 1)")
    tools.add_argument("--group", type=int, metavar="N", help="ends in a group to thread, at most (12)")


@dataclass(frozen=True, slots=True)
class _PutOn:
    """What is put on the loom: its draft and the plan of its dents, and of a warp on the shelf its loom."""

    draft: Draft
    sley: Sley
    loom: LoomProfile | None = None


def run(arguments: argparse.Namespace) -> int:
    """Step through the dressing of a warp, or print the counts; what nothing tells is left out."""
    try:
        if not arguments.counts and not arguments.json and names_a_warp(arguments.what, app.shelf()):
            return _step(arguments)
        put_on = _put_on(arguments)
        sley = _sley(arguments, put_on)
        counts = count_dressing(put_on.draft, sley, _tools(arguments, put_on))
    except (JournalError, WeavingError) as error:
        raise CommandError(error_words(error, arguments.units)) from error
    except DraftError as error:
        raise CommandError(str(error)) from error
    if arguments.json:
        print(json.dumps(counts_document(put_on.draft, counts)))
    else:
        tell(counts_lines(put_on.draft, counts, sley, arguments.units), arguments.trade, names_in(put_on.draft))
    return DONE


def _step(arguments: argparse.Namespace) -> int:
    for option in ("loom", "heddles", "reed_width", "raddle"):
        if getattr(arguments, option) is not None:
            raise CommandError(f"{option_of(option)} goes with --counts; a warp on the shelf has its own loom")
    kept = dressing_way(load_preferences(preference_file()))
    order = FRONT_TO_BACK if arguments.front_to_back else kept.order
    at_once = kept.at_once if arguments.at_once is None else arguments.at_once
    with app.sit_down(arguments.what) as loom:
        way = replace(kept, order=order, at_once=at_once)
        if arguments.group is not None:
            way = way.with_group(loom.warp, arguments.group)
        _plan(arguments, loom)

        def say(line: str) -> None:
            tell([line], arguments.trade, own_words(loom.warp, loom.progress))

        DressingStepper(loom, way, arguments.units, arguments.facing).run(sys.stdin, say)
    return DONE


def _plan(arguments: argparse.Namespace, loom: AtTheLoom) -> None:
    """Set the plan that is asked for, where it is another than there is."""
    put_on = _PutOn(loom.warp.pieces[0].draft, sley_of(loom.warp, loom.progress.now.dressing))
    wanted = _sley(arguments, put_on)
    if wanted != put_on.sley:
        if loom.progress.now.paused:
            loom.do(resume)
        loom.do(partial(plan_sley, sley=wanted))


def _put_on(arguments: argparse.Namespace) -> _PutOn:
    shelf = app.shelf()
    if names_a_warp(arguments.what, shelf):
        with shelf.open_to_read(arguments.what) as journal:
            warp, progress = journal.warp, progress_of(journal)
        return _PutOn(warp.pieces[0].draft, sley_of(warp, progress.now.dressing), warp.loom)
    draft = load_draft(arguments.what)
    return _PutOn(draft, draft.sley)


def _sley(arguments: argparse.Namespace, put_on: _PutOn) -> Sley:
    sley = put_on.sley
    try:
        if arguments.sley is not None:
            sley = replace(parse_sley(arguments.sley, put_on.draft.ends), reed_per_cm=sley.reed_per_cm)
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
    check_sizes(arguments, "reed_width")
    if reed_cm == 0:
        raise CommandError("--reed-width 0: give a number above 0")
    if reed_cm is None and loom is not None:
        reed_cm = loom.weaving_width_cm
    heddles = () if loom is None else loom.heddles
    if arguments.heddles is not None:
        heddles = heddles_of(arguments.heddles, put_on.draft.shafts)
    try:
        raddle = None if arguments.raddle is None else parse_reed(arguments.raddle)
    except DraftError as error:
        raise CommandError(f"--raddle: {error.what}; write spaces on a length, such as 1/cm or 2/in") from error
    at_once = 1 if arguments.at_once is None else arguments.at_once
    return Tools(heddles, reed_cm, raddle, at_once, USUAL_GROUP if arguments.group is None else arguments.group)
