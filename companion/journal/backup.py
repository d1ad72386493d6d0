"""Verified copies of journals, and putting one back.

A copy is made beside its final name, looked through page by page and seal by seal, and only then named; so a damaged
journal or a full disk never costs an older copy. Copies count up (`Blue shawl~000012.journal`), whatever the clock
says; the newest `KEPT` of each warp stay.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from companion.journal.disk import companions_of, publish, remove_database, sync_file, sync_folder
from companion.journal.errors import JournalError, clear_errors
from companion.journal.lock import WriterLock
from companion.journal.shelf import SUFFIX, Shelf, data_folder, name_of
from companion.journal.store import Journal

KEPT = 10
"""How many copies of one warp stay in a folder."""
COUNT_MARK = "~"
"""Stands between name and count; a name never has one, since `file_stem` escapes it."""


@dataclass(frozen=True, slots=True)
class Copy:
    """A verified copy: its file, how many entries it holds, and whether it was made now or stood there already."""

    path: Path
    entries: int
    made_now: bool


@dataclass(frozen=True, slots=True)
class PutBack:
    """A warp put back from a copy, and where the journal went that stood in its place."""

    name: str
    entries: int
    set_aside: Path | None


def backup_folder() -> Path:
    """Return the folder of the copies that are made at each pause."""
    return data_folder() / "backups"


def copies(folder: Path, stem: str) -> tuple[Path, ...]:
    """Return the copies in `folder` of the warp with this file stem, oldest first."""
    counted = [(count, path) for path in folder.glob(f"*{COUNT_MARK}*{SUFFIX}") if (count := _count(path, stem))]
    return tuple(path for _, path in sorted(counted))


def back_up(journal: Path, folder: Path) -> Copy:
    """Make a verified copy of a journal in `folder`, even while it is written; raises JournalError.

    Where the newest copy there holds the same entries already, it is looked through instead of made again.
    """
    with clear_errors(folder):
        folder.mkdir(parents=True, exist_ok=True)
    with _alone_in(folder), Journal.open_to_read(journal) as source, clear_errors(folder):
        source.look_through()
        older = copies(folder, journal.stem)
        if older and (entries := _entries_if_whole(older[-1], source)) == source.last_number:
            return Copy(older[-1], entries, made_now=False)
        part = folder / f"{journal.stem}{COUNT_MARK}part"
        try:
            remove_database(part)
            source.copy_to(part)
            with Journal.open_to_read(part) as copy:
                entries = copy.look_through()
                if entries < source.last_number or copy.seal_of(source.last_number) != source.seal_of(
                    source.last_number
                ):
                    raise JournalError("the copy differs from the journal", place=part, mend="try another disk")
            count = 1 + (_count(older[-1], journal.stem) if older else 0)
            path = folder / f"{journal.stem}{COUNT_MARK}{count:06}{SUFFIX}"
            publish(part, path)
        finally:
            remove_database(part)
        for old in (*older, path)[:-KEPT]:
            old.unlink()
        return Copy(path, entries, made_now=True)


def put_back(copy: Path, shelf: Shelf) -> PutBack:
    """Put a copy on the shelf in place of the damaged journal of its name, which is set aside, not removed.

    Raises JournalError where the copy is not whole, or where the warp on the shelf is whole and has no less in it.
    """
    with Journal.open_to_read(copy) as journal:
        entries, identity = journal.look_through(), journal.identity
    name = name_of(copy.stem.split(COUNT_MARK)[0])
    path = shelf.path(name)
    with clear_errors(path):
        shelf.folder.mkdir(parents=True, exist_ok=True)
        lock = WriterLock(path)
        try:
            lock.name_holder()
            if path.exists():
                _require_worse(path, entries, identity)
            fresh = path.with_name(path.name + ".new")
            shutil.copyfile(copy, fresh)
            sync_file(fresh)
            set_aside = _set_aside(path)
            publish(fresh, path)
        finally:
            lock.release()
    return PutBack(name, entries, set_aside)


def _count(path: Path, stem: str) -> int:
    before, _, count = path.stem.rpartition(COUNT_MARK)
    return int(count) if before == stem and count.isdecimal() else 0


@contextmanager
def _alone_in(folder: Path) -> Iterator[None]:
    lock = WriterLock(folder / ".backup", in_use="copies are being made here already")
    try:
        lock.name_holder()
        yield
    finally:
        lock.release()


def _entries_if_whole(copy: Path, source: Journal) -> int | None:
    try:
        with Journal.open_to_read(copy) as journal:
            whole = journal.look_through()
            return whole if journal.seal_of(whole) == source.seal_of(whole) else None
    except JournalError:
        return None


def _require_worse(path: Path, entries: int, identity: str) -> None:
    try:
        with Journal.open_to_read(path) as present:
            there, other = present.look_through(), present.identity
    except JournalError:
        return
    if other != identity:
        raise JournalError(
            "is another warp than the copy",
            place=path,
            mend="rename the copy to the name it shall have, then try again",
        )
    if there >= entries:
        raise JournalError(
            f"is whole and has {there} entries, the copy {entries}", place=path, mend="weave on; nothing was changed"
        )


def _set_aside(path: Path) -> Path | None:
    files = [file for file in (*companions_of(path), path) if file.exists()]
    if not files:
        return None
    number = 1
    while (aside := path.with_name(f"{path.name}.set-aside-{number}")).exists():
        number += 1
    # The log goes first: it must never lie beside a journal that it does not belong to.
    for file in files:
        file.rename(aside.with_name(aside.name + file.name.removeprefix(path.name)))
        sync_folder(path.parent)
    return aside
