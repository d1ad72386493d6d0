"""What came of something that was tried beside the weaving: saved, not kept, looked for, in one line each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import PurePath

from companion.present.start import MenuItem
from companion.present.ties_said import ties_words

SAVING = "Saving"
PEDAL_UP = "pedal"
PEDAL_DOWN = "no pedal"
PRESS_SWALLOWED = "A second press so soon was not counted"
FACE_DOWN_ALONE = "a piece woven face down stays alone on its warp"


def why_not(error: OSError) -> str:
    """Return what the system says of a failure, without its number: `No space left on device`."""
    return error.strerror or str(error)


def not_kept_words(error: OSError) -> str:
    """Return that a changed draft is not on disk, and why."""
    return f"the changed draft could not be kept: {why_not(error)}"


def settings_not_kept_words(error: OSError) -> str:
    """Return that the settings are not on disk, and why."""
    return f"the settings hold for today but could not be kept: {why_not(error)}"


def card_words(page: object) -> str:
    """Return where a tie-up card (a path) was saved."""
    return f"Saved: {page}, draft and sheet beside it"


def no_card_words(error: OSError) -> str:
    """Return that a tie-up card was not saved, and why."""
    return f"the card could not be saved: {why_not(error)}"


def saved_words(page: str, folders: Iterable[object]) -> str:
    """Return where the record was saved: `Saved: Towel.html, .csv, .json and sheet in /home/w/Documents`."""
    return f"Saved: {page}, .csv, .json and sheet in {_and(folders)}"


def sheet_saved_words(files: Sequence[PurePath]) -> str:
    """Return where a sheet was saved: `Saved: Towel sheet.pdf and .html in /home/w/Documents`."""
    return f"Saved: {files[0].name} and .html in {_and(file.parent for file in files)}"


def files_written_words(files: Sequence[PurePath]) -> str:
    """Return what of a set was written, and where: `Written: 4 files in /home/w/Documents/Fellside/Sets/Mats`."""
    what = files[0].name if len(files) == 1 else f"{len(files)} files"
    return f"Written: {what} in {files[0].parent}"


def bundled_words(entries: int, files: Iterable[object]) -> str:
    """Return where a warp was bundled, and that the bundle was read back."""
    return f"Bundled: {entries} entries, verified, in {_and(files)}"


def did_not_work_words(why: str) -> str:
    """Return that what was asked for did not work."""
    return f"That did not work: {why}"


def closed_folder_words(error: OSError) -> str:
    """Return that a folder cannot be looked into, and why."""
    return f"it cannot be looked into: {why_not(error)}"


def putting_back_words(file: str) -> str:
    """Return that a copy is being put back, and looked through from end to end."""
    return f"Putting back {file}"


def reading_words(file: str) -> str:
    """Return which file is being read."""
    return f"Reading {file}"


def new_drafts_words(first: MenuItem, number: int) -> str:
    """Return that so many drafts came, the first by its name and place: `New: towel (stick BLUE) and 2 more`."""
    return f"New: {first.words} ({first.detail})" + (f" and {number - 1} more" if number > 1 else "")


def by_touch_words(why: str) -> str:
    """Return that the pedal is gone, and how to weave on."""
    return f"Weave on by touch: {why}"


def no_tie_up_words(title: str) -> str:
    """Return that a piece cannot be planned yet."""
    return f"no tie-up was found for {title}: give the search more time"


def so_far_words(seconds: float) -> str:
    """Return how long a search goes on."""
    return f"{seconds:.0f} s so far"


def order_so_far_words(seconds: float, ties: int | None) -> str:
    """Return how long an order is looked for, and the ties of the best one: `9 s so far: an order with 12 ties`."""
    return so_far_words(seconds) if ties is None else f"{so_far_words(seconds)}: an order with {ties_words(ties)}"


def _and(places: Iterable[object]) -> str:
    return " and ".join(map(str, places))
