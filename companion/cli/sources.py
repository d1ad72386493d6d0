"""From a file name to a draft, for every command that takes FILE."""

from __future__ import annotations

from pathlib import Path

from companion.cli.status import CommandError
from companion.draft.model import Draft
from companion.draft.reading import Read
from companion.journal.shelf import Shelf
from companion.workshop.draft_files import DraftFileError, read_draft_file


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
        return read_draft_file(Path(name))
    except DraftFileError as error:
        place = f" | {error.place}" if error.place else ""
        raise CommandError(f"{name}: {error}{place}", of_a_file=True) from error
