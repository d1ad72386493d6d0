"""`fellside export`: write a draft out, as a Weaving Information File or in shorthand."""

from __future__ import annotations

import argparse
from pathlib import Path

from companion.cli.outputs import write_whole
from companion.cli.sources import load_draft
from companion.cli.status import DONE, CommandError
from companion.draft.shorthand_print import print_shorthand
from companion.draft.wif_write import write_wif

SUMMARY = "write a draft out as a WIF file or in shorthand"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the draft, and the file to write in one of the two forms."""
    parser.add_argument("file", metavar="FILE", help="a draft: a Weaving Information File or shorthand")
    form = parser.add_mutually_exclusive_group(required=True)
    form.add_argument("--wif", metavar="OUT", help="write a Weaving Information File, version 1.1")
    form.add_argument("--shorthand", metavar="OUT", help="write shorthand, repeats found")
    parser.add_argument("--overwrite", action="store_true", help="write over OUT if it is there")


def run(arguments: argparse.Namespace) -> int:
    """Read the draft and write it; a file that is there is only written over when told to, and never by halves."""
    draft = load_draft(arguments.file)
    if arguments.wif is not None:
        _write(arguments.wif, write_wif(draft), arguments.overwrite)
    else:
        _write(arguments.shorthand, print_shorthand(draft).encode("utf-8"), arguments.overwrite)
        left_out = ", ".join(section.name for section in draft.foreign)
        if left_out:
            print(f"left out, as shorthand has no place for them: {left_out}")
    return DONE


def _write(out: str, data: bytes, overwrite: bool) -> None:
    if Path(out).exists() and not overwrite:
        raise CommandError(f"{out}: is there already; give another name or --overwrite")
    write_whole(out, data)
    print(f"{out}: {len(data):,} bytes written")
