"""From a file name to a draft, for every command that takes FILE."""

from __future__ import annotations

from pathlib import Path

from companion.cli.status import CommandError
from companion.draft.errors import DraftError, ShorthandError
from companion.draft.model import Draft
from companion.draft.reading import Read, read_with_deviations
from companion.journal.shelf import Shelf

LARGEST_FILE_BYTES = 64_000_000
"""No draft is near this size; a mistaken file name (a film, a disk) must not fill the memory."""


def names_a_warp(name: str, shelf: Shelf) -> bool:
    """Tell a warp from the file of a draft, which comes first; raises CommandError where the name is of neither."""
    if Path(name).exists():
        return False
    if shelf.path(name).is_file():
        return True
    there = ", ".join(shelf.names()) or "none yet"
    raise CommandError(f"{name}: neither a file nor a warp; the warps here are: {there}")


def load_draft(name: str) -> Draft:
    """Read the draft in the file called `name`, of whatever dialect; raises CommandError with one clear line."""
    return load_draft_with_deviations(name).draft


def load_draft_with_deviations(name: str) -> Read:
    """Read a draft, with what of its file departs from the standard and was tolerated; raises CommandError."""
    if not name:
        raise CommandError("the name of the file is empty; give the file of a draft")
    try:
        with Path(name).open("rb") as file:
            # Read no further than that: a device has no size to ask for, and no end.
            data = file.read(LARGEST_FILE_BYTES + 1)
    except OSError as error:
        raise CommandError(f"{name}: {error.strerror or error}; check the file's name and rights") from error
    if len(data) > LARGEST_FILE_BYTES:
        raise CommandError(f"{name}: too large for a draft; give a WIF or shorthand file")
    try:
        return read_with_deviations(data)
    except ShorthandError as error:
        raise CommandError(f"{name}: {error} | {error.caret}") from error
    except DraftError as error:
        raise CommandError(f"{name}: {error}") from error
