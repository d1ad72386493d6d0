"""Sets kept tidy: called otherwise, and put into the bin of the warps, from which they come back.

What goes into the bin is the list alone. The drafts of a set stay in its folder and its warps on the shelf, whatever
becomes of the list; put back, it finds them there.
"""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path

from companion.journal.bin import bin_folders, new_bin_folder, remove_binned
from companion.journal.disk import sync_folder, write_whole
from companion.journal.errors import JournalError, clear_errors
from companion.journal.shelf import file_stem, free_name, tidy_name
from companion.workshop.project_sets import SET_FILE, set_lines
from companion.workshop.sets_made import called, sets_folder

SUFFIX = ".set"
"""What the list of a set ends with in the bin, where many may lie."""
_CAME_FROM = "came from"
"""The file in the bin that says in which folder the list was."""


@dataclass(frozen=True, slots=True)
class BinnedSet:
    """The list of a set in the bin: its name, its file there, when it was thrown away (Unix milliseconds)."""

    name: str
    path: Path
    at_ms: int


def rename_set(folder: Path, new: str) -> Path:
    """Call a set otherwise, its folder too, and return that; raises JournalError where there is one called so."""
    title = tidy_name(new)
    target = folder.with_name(file_stem(title))
    with clear_errors(folder):
        if target.exists() and target.name.casefold() != folder.name.casefold():
            raise JournalError("exists already", place=target, mend="choose another name")
        called(folder, title)
        if target != folder:
            folder.rename(target)
            sync_folder(target.parent)
    return target


def throw_set_away(folder: Path, bin_: Path, at_ms: int) -> BinnedSet:
    """Move the list of a set into the bin; drafts and warps stay where they are. Raises JournalError."""
    listed = folder / SET_FILE
    with clear_errors(listed):
        own = new_bin_folder(bin_, at_ms)
        binned = BinnedSet(folder.name, own / f"{folder.name}{SUFFIX}", at_ms)
        write_whole(own / _CAME_FROM, f"{folder}\n".encode())
        write_whole(binned.path, listed.read_bytes())
        listed.unlink()
        sync_folder(folder)
    return binned


def sets_in_bin(bin_: Path) -> tuple[BinnedSet, ...]:
    """Return the sets in the bin, those thrown away last first; raises JournalError."""
    with clear_errors(bin_):
        found = [
            BinnedSet(path.stem, path, at_ms)
            for at_ms, own in bin_folders(bin_)
            for path in own.iterdir()
            if path.suffix == SUFFIX and path.is_file()
        ]
    return tuple(sorted(found, key=lambda binned: (-binned.at_ms, binned.path)))


def take_set_out(path: Path, bin_: Path) -> Path:
    """Put a set from the bin back into its folder, and return that.

    Where another set lies there now, it gets a folder with a number, and copies of its drafts. Raises JournalError,
    also where it is in the bin no longer.
    """
    if all(binned.path != path for binned in sets_in_bin(bin_)):
        raise JournalError("is in the bin no longer", place=path, mend="look among your sets")
    with clear_errors(path):
        was_in = _was_in(path)
        folder = was_in
        if (was_in / SET_FILE).exists():
            folder = was_in.with_name(free_name(was_in.name, lambda name: was_in.with_name(name).exists()))
        folder.mkdir(parents=True, exist_ok=True)
        if folder != was_in:
            for _, word, rest in set_lines(path):
                if word == "draft" and (was_in / rest).is_file():
                    shutil.copy2(was_in / rest, folder / Path(rest).name)
        write_whole(folder / SET_FILE, path.read_bytes())
        remove_binned(path.parent)
    return folder


def _was_in(path: Path) -> Path:
    try:
        there = Path((path.parent / _CAME_FROM).read_text(encoding="utf-8").rstrip("\n"))
    except (OSError, ValueError):
        there = sets_folder() / path.stem
    return there if there.parent.is_dir() else sets_folder() / path.stem
