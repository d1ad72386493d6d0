"""`fellside backup`: a verified copy of every warp, or one put back."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import Any

from companion.cli.status import BAD_INPUT, DONE, NO_SUCH_ANSWER, CommandError
from companion.journal.backup import KEPT, Copy, back_up, backup_folder, put_back
from companion.journal.errors import CannotCopyError, JournalError
from companion.journal.shelf import shelf_of_weaver
from companion.weaving.opened import PUT_ON_AGAIN

SUMMARY = "copy every warp into a folder, verified; or put a copy back"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    what = parser.add_mutually_exclusive_group()
    what.add_argument(
        "folder",
        nargs="?",
        metavar="DIR",
        help=f"where the copies go; the newest {KEPT} of each history stay (default: where each pause puts them)",
    )
    what.add_argument("--restore", metavar="FILE", help="put this copy back; the journal in its place is set aside")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def run(arguments: argparse.Namespace) -> int:
    """Copy or put back; raises CommandError where a warp could not be copied.

    Its status is NO_SUCH_ANSWER where all was copied that can be: no copy can be made of a journal that is not whole,
    and nobody need try again before it is mended.
    """
    if arguments.restore:
        return _restore(Path(arguments.restore), arguments.json)
    shelf = shelf_of_weaver()
    folder = Path(arguments.folder) if arguments.folder else backup_folder()
    made: dict[str, Copy] = {}
    refused: list[JournalError] = []
    try:
        names = shelf.names()
    except JournalError as error:
        raise CommandError(str(error)) from error
    if not names:
        raise CommandError(f"no warp lies in {shelf.folder}, so there is nothing to copy; weave first", NO_SUCH_ANSWER)
    for name in names:
        try:
            made[name] = back_up(shelf.path(name), folder)
        except JournalError as error:
            refused.append(error)
    _tell(folder, made, arguments.json)
    if refused:
        hopeless = all(isinstance(error, CannotCopyError) for error in refused)
        lines = " | ".join(map(str, refused))
        raise CommandError(
            f"{len(refused)} of {len(names)} warps not copied: {lines}", NO_SUCH_ANSWER if hopeless else BAD_INPUT
        )
    return DONE


def _tell(folder: Path, made: dict[str, Copy], as_json: bool) -> None:
    if as_json:
        copies: list[dict[str, Any]] = [
            {
                "warp": name,
                "entries": copy.entries,
                "file": str(copy.path),
                "new": copy.made_now,
                "there": copy.there,
                "others": copy.others,
            }
            for name, copy in made.items()
        ]
        print(json.dumps({"folder": str(folder), "copies": copies}))
        return
    for name, copy in made.items():
        state = "copied and verified" if copy.made_now else "unchanged since this copy, verified again"
        print(f"{name}: {copy.entries} entries, {state}: {copy.path}{_also_there(copy)}")


def _also_there(copy: Copy) -> str:
    if copy.there == 1:
        return ""
    others = f", {copy.others} of them of another warp or history, which stay" if copy.others else ""
    return f" ({copy.there} copies of that name there{others})"


def _restore(copy: Path, as_json: bool) -> int:
    try:
        done = put_back(copy, shelf_of_weaver())
    except JournalError as error:
        raise CommandError(str(error)) from error
    aside = str(done.set_aside) if done.set_aside else None
    if as_json:
        print(json.dumps({"warp": done.name, "entries": done.entries, "set_aside": aside}))
        return DONE
    print(f"{done.name}: {done.entries} entries put back from {copy}")
    if aside:
        print(f"the journal that stood there was set aside: {aside}")
    if done.unopened:
        print(f"! {done.unopened}; {PUT_ON_AGAIN}", file=sys.stderr)
    return DONE
