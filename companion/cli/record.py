"""`fellside record`: the record of a warp, as a page, as rows, or as one JSON document; from its journal alone."""

from __future__ import annotations

import argparse
import json
import sys

from companion.cli.outputs import write_document
from companion.cli.spoken import tell
from companion.cli.status import DONE, CommandError
from companion.draft.units import counted
from companion.journal.errors import JournalError
from companion.journal.shelf import as_shelved
from companion.present.durations import duration_words
from companion.present.trade_words import own_words
from companion.record.page import to_html
from companion.record.sheet import Sheet, sheet
from companion.record.tables import to_csv, to_document
from companion.record.wording import time_words
from companion.weaving.errors import WeavingError
from companion.weaving.opened import PUT_ON_AGAIN, unopened_words
from companion.workshop import app

HERE = None
"""Times as the clock of this place shows them, summer time included."""

SUMMARY = "the record of a warp: a page to print, a table, or JSON"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare which warp, and what to make of its record."""
    parser.add_argument("name", nargs="?", metavar="NAME", help="the warp; without a name the one used last")
    parser.add_argument("--html", metavar="OUT", help="write a page that needs no other file and prints well")
    parser.add_argument("--csv", metavar="OUT", help="write a table with a row for every entry of the journal")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def run(arguments: argparse.Namespace) -> int:
    """Write the files asked for; print the document with --json, else a few lines of what the record holds."""
    record = _record(arguments.name)
    if unopened := unopened_words(record.warp):
        print(f"! {unopened}; {PUT_ON_AGAIN}", file=sys.stderr)
    if arguments.html:
        write_document(
            arguments.html, to_html(record, arguments.units, arguments.facing, HERE, arguments.trade).encode()
        )
    if arguments.csv:
        # A mark at the beginning tells spreadsheets that the letters are UTF-8.
        write_document(arguments.csv, to_csv(record, arguments.units, HERE).encode("utf-8-sig"))
    if arguments.json:
        print(json.dumps(to_document(record, HERE)))
    else:
        lines = _lines(record, [out for out in (arguments.html, arguments.csv) if out])
        tell(lines, arguments.trade, own_words(record.warp, record.told.progress))
    return DONE


def _record(name: str | None) -> Sheet:
    shelf = app.shelf()
    try:
        name = name or shelf.last_used()
        if name is None:
            raise CommandError("there is no warp yet; weave one first, such as the demo: fellside weave")
        with shelf.open_to_read(name) as journal:
            return sheet(as_shelved(journal), journal.entries())
    except (JournalError, WeavingError) as error:
        raise CommandError(str(error)) from error


def _lines(record: Sheet, written: list[str]) -> list[str]:
    state = record.told.progress.now
    lines = [
        f"{record.warp.name}: {len(record.told.happened)} entries, {time_words(record.began_ms, HERE)} to "
        f"{time_words(record.ended_ms, HERE)}, {duration_words(state.at_loom_ms)} at the loom"
    ]
    lines += [
        f"  {piece.piece.name}: {counted(len(piece.lying), 'pick')} in the cloth"
        + ("" if not piece.told.finished else ", finished")
        for piece in record.pieces
    ]
    lines.append(
        f"  {counted(state.woven, 'pick')} woven, {state.taken_out} taken out, "
        f"{counted(len(record.told.faults), 'fault')} noted"
    )
    return [*lines, *(f"  written: {out}" for out in written)]
