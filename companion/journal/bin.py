"""Warps put away: renamed, copied, and thrown into the bin, from which they come back until it is emptied.

A journal goes with all the files beside it, under its writer's lock and with its log folded in, so that no entry is in
a file that stays behind. Each thing in the bin has a folder of its own, whose name begins with when it came there.
"""

from __future__ import annotations

import re
import secrets
import shutil
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from companion.journal.database import connect, move_journal
from companion.journal.disk import has_log, remove_database, sync_folder
from companion.journal.errors import JournalError, clear_errors
from companion.journal.lock import WriterLock, lock_path
from companion.journal.mark import mark_path
from companion.journal.schema import pragma
from companion.journal.shelf import SUFFIX, Shelf, data_folder, file_stem, free_name, name_of, same_name, tidy_name
from companion.journal.store import Journal
from companion.journal.words_beside import keep_words, read_words

_FOLDER = re.compile(r"(?P<at_ms>[0-9]{15})-[0-9a-f]{8}")


@dataclass(frozen=True, slots=True)
class BinnedWarp:
    """A warp in the bin: its name, its journal there, and when it was thrown away (Unix milliseconds)."""

    name: str
    path: Path
    at_ms: int


def bin_folder() -> Path:
    """Return the folder of what was thrown away."""
    return data_folder() / "bin"


def rename_warp(shelf: Shelf, name: str, new: str) -> str:
    """Give a warp another name and return that as it is kept; its journal stays as it is, entry by entry.

    Raises JournalError: JournalInUseError while it is woven on, and where another warp has the name.
    """
    path, new = shelf.known(name), tidy_name(new)
    target = path.with_name(file_stem(new) + SUFFIX)
    if target == path:
        return new
    was_last = shelf.last_used() == name_of(path.stem)
    with ExitStack() as stack:
        stack.enter_context(_at_rest(path))
        if not same_name(name, new):
            target = shelf.path(new)
            stack.callback(_locked(target).release)
            _require_free(target)
        _require_folded(path)
        with clear_errors(path):
            move_journal(path, target)
    if was_last:
        shelf.mark_used(target)
    return new


def copy_warp(shelf: Shelf, name: str, new: str) -> str:
    """Put a copy of a warp, every entry and the words beside it, on the shelf as a warp of its own; return its name.

    The warp may be woven on meanwhile. Raises JournalError; nothing is on the shelf then.
    """
    source, new = shelf.known(name), tidy_name(new)
    target = shelf.path(new)
    # Hidden, so no warp, until every entry is there.
    passing = target.with_name(f".{secrets.token_hex(8)}{SUFFIX}")
    lock = _locked(target)
    try:
        _require_free(target)
        with clear_errors(passing), Journal.open_to_read(source) as journal:
            with Journal.create(passing, replace(journal.warp, name=new), journal.made_at_ms) as copy:
                entries = tuple(journal.entries())
                copy.extend(entries)
                if tuple(copy.entries()) != entries:
                    raise JournalError("the copy differs from the journal", place=passing, mend="try another disk")
            _require_folded(passing)
            move_journal(passing, target)
            keep_words(target, read_words(source))
    finally:
        remove_database(passing)
        for beside in (mark_path(passing), lock_path(passing)):
            beside.unlink(missing_ok=True)
        lock.release()
    return new


def throw_away(shelf: Shelf, name: str, folder: Path, at_ms: int) -> BinnedWarp:
    """Move a warp, whole or damaged, from the shelf into the bin `folder`; raises JournalError, also while in use."""
    path = shelf.known(name)
    with _at_rest(path, damaged_too=True), clear_errors(folder):
        own = new_bin_folder(folder, at_ms)
        binned = BinnedWarp(name_of(path.stem), own / path.name, at_ms)
        move_journal(path, binned.path)
    return binned


def in_bin(folder: Path) -> tuple[BinnedWarp, ...]:
    """Return the warps in the bin, those thrown away last first; raises JournalError."""
    found = [
        BinnedWarp(name_of(path.stem), path, at_ms) for at_ms, own in bin_folders(folder) for path in _journals(own)
    ]
    return tuple(sorted(found, key=lambda warp: (-warp.at_ms, warp.path)))


def found_in_bin(folder: Path, path: Path) -> BinnedWarp:
    """Return the warp in the bin with this journal file; raises JournalError where it is there no longer."""
    for warp in in_bin(folder):
        if warp.path == path:
            return warp
    raise JournalError("is in the bin no longer", place=path, mend="look at the shelf")


def take_out(warp: BinnedWarp, shelf: Shelf) -> str:
    """Put a warp from the bin back on the shelf and return its name: with a number where another has its name now."""
    with clear_errors(shelf.folder):
        shelf.folder.mkdir(parents=True, exist_ok=True)
    name = free_name(warp.name, lambda name: shelf.path(name).exists())
    target = shelf.path(name)
    lock = _locked(target)
    try:
        _require_free(target)
        with clear_errors(warp.path):
            move_journal(warp.path, target)
            remove_binned(warp.path.parent)
    finally:
        lock.release()
    return name


def empty_bin(folder: Path) -> int:
    """Remove for ever all that is in the bin; return how many warps that were. Raises JournalError."""
    there = len(in_bin(folder))
    with clear_errors(folder):
        for _, own in bin_folders(folder):
            remove_binned(own)
    return there


@contextmanager
def _at_rest(path: Path, damaged_too: bool = False) -> Iterator[None]:
    """Keep every writer away from a journal, its log folded into it; one that is damaged may not take its log."""
    lock = _locked(path)
    try:
        try:
            with clear_errors(path):
                database = connect(path, "rw")
                try:
                    pragma(database, "wal_checkpoint(TRUNCATE)")
                finally:
                    database.close()
        except JournalError:
            if not damaged_too:
                raise
        yield
    finally:
        lock.release()


def _locked(path: Path) -> WriterLock:
    lock = WriterLock(path)
    lock.name_holder()
    return lock


def _require_folded(path: Path) -> None:
    if has_log(path):
        raise JournalError("is being read", place=path, mend="try again in a moment")


def _require_free(path: Path) -> None:
    if path.exists():
        raise JournalError("exists already", place=path, mend="choose another name")


def new_bin_folder(folder: Path, at_ms: int) -> Path:
    """Make a folder in the bin for one thing that is thrown away now; raises OSError."""
    own = folder / f"{max(at_ms, 0):015}-{secrets.token_hex(4)}"
    own.mkdir(parents=True)
    sync_folder(folder)
    return own


def bin_folders(folder: Path) -> tuple[tuple[int, Path], ...]:
    """Return when each thing came into the bin, and its folder there; what is not of our making is left alone.

    Raises JournalError.
    """
    with clear_errors(folder):
        if not folder.is_dir():
            return ()
        own = [(path, _FOLDER.fullmatch(path.name)) for path in folder.iterdir() if not path.is_symlink()]
        return tuple((int(match["at_ms"]), path) for path, match in own if match and path.is_dir())


def _journals(own: Path) -> tuple[Path, ...]:
    with clear_errors(own):
        return tuple(path for path in own.iterdir() if path.suffix == SUFFIX and path.is_file())


def remove_binned(own: Path) -> None:
    """Remove the folder of one thing in the bin; raises OSError."""
    shutil.rmtree(own)
    sync_folder(own.parent)
