"""What is left to do where the program itself is at fault: one line for the weaver, and a file for who mends it."""

from __future__ import annotations

import sys
import traceback

from companion.cli.status import BROKE_OFF
from companion.journal.disk import write_whole
from companion.journal.errors import JournalError
from companion.journal.shelf import data_folder

NAME = "broke-off.txt"


def broken_off(error: Exception) -> int:
    """Say that the program broke off and where that is written down, and return the exit status."""
    told = "".join(traceback.format_exception(error))
    try:
        file = data_folder() / NAME
        file.parent.mkdir(parents=True, exist_ok=True)
        write_whole(file, told.encode(errors="backslashreplace"))
        where = f"what happened is written down in {file}"
    except (OSError, JournalError):
        where = "it could not be written down"
    what = " ".join(f"{type(error).__name__}: {error}".split())
    print(
        f"fellside: the program broke off ({what:.200}); every pick that was told is on disk; {where}", file=sys.stderr
    )
    return BROKE_OFF
