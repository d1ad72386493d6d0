"""`fellside bundle`: a whole warp, its drafts and its journal in one file, out of this device or into it."""

from __future__ import annotations

import argparse
import json
import shlex
from pathlib import Path

from companion.cli.status import DONE, CommandError
from companion.journal.bundle import ImportResult, bring_in
from companion.journal.bundle_file import write_bundle
from companion.journal.errors import JournalError
from companion.journal.shelf import name_of, shelf_of_weaver
from companion.journal.snapshots import progress_of
from companion.remap.loom.loom import Action
from companion.remap.loom.tieup_text import print_tieup
from companion.weaving.state import tieup_on
from companion.weaving.warp import NO_NAME
from companion.workshop.app import looms_file
from companion.workshop.looms import LoomsError, same_loom
from companion.workshop.looms_file import load_looms

SUMMARY = "a whole warp as one file, to move it to another device"
_WORDS = {
    ImportResult.NEW: "brought in, {entries} entries",
    ImportResult.EXTENDED: "{added} entries added, {entries} in all",
    ImportResult.NOTHING_TO_DO: "nothing to do, all of it is here already ({entries} entries)",
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.add_argument("name", nargs="?", metavar="NAME", help="the warp to write into a bundle, with --out")
    way = parser.add_mutually_exclusive_group(required=True)
    way.add_argument("--out", metavar="FILE", help="write the warp NAME into this new file")
    way.add_argument("--in", dest="source", metavar="FILE", help="bring in the warp of this file")
    parser.add_argument(
        "--as", dest="as_name", default="", metavar="NAME", help="with --in: put it here under this name"
    )
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def run(arguments: argparse.Namespace) -> int:
    """Write a bundle or bring one in."""
    try:
        return _bring_in(arguments) if arguments.source else _write(arguments)
    except JournalError as error:
        raise CommandError(str(error)) from error


def _write(arguments: argparse.Namespace) -> int:
    if not arguments.name:
        raise CommandError("which warp? Give its name: fellside bundle NAME --out FILE")
    if arguments.as_name:
        raise CommandError("--as goes with --in; leave it out")
    file = Path(arguments.out)
    with shelf_of_weaver().open_to_read(arguments.name) as journal:
        name = name_of(journal.path.stem)
        entries = write_bundle(journal, name, file)
    if arguments.json:
        print(json.dumps({"warp": name, "entries": entries, "file": str(file)}))
    else:
        print(f"{name}: {entries} entries, written and verified: {file}")
    return DONE


def _bring_in(arguments: argparse.Namespace) -> int:
    if arguments.name:
        raise CommandError("a bundle knows its warp's name; to change it give --as NAME")
    done = bring_in(Path(arguments.source), shelf_of_weaver(), arguments.as_name)
    strange = _strange_loom(done.name)
    if arguments.json:
        facts = {"warp": done.name, "outcome": done.outcome.value, "added": done.added, "entries": done.entries}
        print(json.dumps(facts | {"loom_to_add": strange}))
    else:
        print(f"{done.name}: {_WORDS[done.outcome].format(added=done.added, entries=done.entries)}")
        if strange:
            print(f"its loom is not among yours; to keep it: {strange}")
    return DONE


def _strange_loom(name: str) -> str:
    """Return the words that add the loom of the warp called `name`, where it is none of the weaver's; else nothing."""
    with shelf_of_weaver().open_to_read(name) as journal:
        warp, state = journal.warp, progress_of(journal).now
    loom = warp.loom
    try:
        known = load_looms(looms_file())
    except LoomsError:
        # The warp is brought in all the same; whoever asks for the looms is told.
        return ""
    if loom.name == NO_NAME or any(same_loom(loom.name, other.name) for other in known):
        return ""
    tieup, has = tieup_on(warp, state), loom.loom
    words = ["fellside", "looms", "add", loom.name, "--shafts", str(has.shafts), "--action", has.action.value]
    if has.action is not Action.LEVERS:
        words += ["--treadles", str(has.treadles), "--reach", str(has.reach)]
        words += [] if tieup is None else [f"--present={print_tieup(tieup, has.action)}"]
    words += [] if loom.weaving_width_cm is None else ["--width", f"{loom.weaving_width_cm:g}"]
    return shlex.join([*words, "--waste", f"{loom.loom_waste_cm:g}"])
