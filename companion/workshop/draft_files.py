"""From a file to a draft: the one reader of drafts, for every face of the program."""

from __future__ import annotations

from pathlib import Path

from companion.draft.errors import DraftError, ShorthandError
from companion.draft.model import Draft
from companion.draft.reading import Read, read_with_deviations

LARGEST_FILE_BYTES = 64_000_000
"""No draft is near this size; a mistaken file (a film, a disk) must not fill the memory."""


class DraftFileError(ValueError):
    """A file of which no draft can be read: one clear line, to stand behind the file's name.

    `place` shows where in the line of a draft in shorthand; mostly empty.
    """

    def __init__(self, line: str, place: str = "") -> None:
        super().__init__(line)
        self.place = place


def name_of_draft(draft: Draft, path: str | Path) -> str:
    """Return what a draft is called: its title, or else its file without the ending."""
    return draft.title or Path(path).stem


def read_draft_file(path: Path) -> Read:
    """Return the draft in a file of whatever dialect, and what was tolerated in it; raises DraftFileError.

    A large one takes seconds: a window reads in a thread of its own.
    """
    try:
        with path.open("rb") as file:
            # Read no further than that: a device has no size to ask for, and no end.
            data = file.read(LARGEST_FILE_BYTES + 1)
    except OSError as error:
        raise DraftFileError(f"{error.strerror or error}; check the file's name and rights") from error
    if len(data) > LARGEST_FILE_BYTES:
        raise DraftFileError("too large for a draft; give a WIF or shorthand file")
    try:
        return read_with_deviations(data)
    except ShorthandError as error:
        raise DraftFileError(str(error), error.caret) from error
    except DraftError as error:
        raise DraftFileError(str(error)) from error
