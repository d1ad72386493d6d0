"""`fellside export`: write a draft out, as a Weaving Information File or in shorthand."""

from __future__ import annotations

import argparse
import os
import tempfile
from pathlib import Path

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
        _write(Path(arguments.wif), write_wif(draft), arguments.overwrite)
    else:
        _write(Path(arguments.shorthand), print_shorthand(draft).encode("utf-8"), arguments.overwrite)
        left_out = ", ".join(section.name for section in draft.foreign)
        if left_out:
            print(f"left out, as shorthand has no place for them: {left_out}")
    return DONE


def _write(path: Path, data: bytes, overwrite: bool) -> None:
    """Put the bytes on disk under a passing name, then give them their own: OUT is whole or as it was."""
    if path.exists() and not overwrite:
        raise CommandError(f"{path}: is there already; give another name or --overwrite")
    passing: Path | None = None
    try:
        with tempfile.NamedTemporaryFile(dir=path.parent, prefix=".fellside-", delete=False) as file:
            passing = Path(file.name)
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        passing.chmod(0o644)
        passing.replace(path)
    except OSError as error:
        if passing is not None:
            passing.unlink(missing_ok=True)
        raise CommandError(f"{path}: {error.strerror or error}; check the folder, its rights and its room") from error
    print(f"{path}: {len(data):,} bytes written")
