"""A journal's database file: made whole, opened, and missed where it is not there."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import ExitStack, closing
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory, gettempdir

from companion.journal.disk import companions_of, has_log, log_path, publish, remove_database, sync_file, sync_folder
from companion.journal.errors import JournalError, clear_errors
from companion.journal.mark import mark_path
from companion.journal.schema import TABLES, pragma, require_journal, require_sound, seal_warp
from companion.journal.words_beside import words_path

Opened = tuple[sqlite3.Connection, ExitStack]
"""An open database, and what is to be closed after it."""
MEMORY = Path("/dev/shm")  # noqa: S108  # only folders made by mkdtemp are put there
"""Lies on no disk: there is room in it when every disk is full."""


def write_new(path: Path, identity: str, at_ms: int, warp: str) -> None:
    """Make a journal file with its warp and no entry, synced, and give it its name when it is whole."""
    fresh = path.with_name(path.name + ".new")
    remove_database(fresh)
    try:
        database = connect(fresh, "rwc")
        try:
            pragma(database, "journal_mode", "WAL")
            database.executescript(f"BEGIN; {TABLES} COMMIT;")
            seal = seal_warp(identity, at_ms, warp)
            database.execute("INSERT INTO warp VALUES (1, ?, ?, ?, ?)", (identity, at_ms, warp, seal))
        finally:
            database.close()
        sync_file(fresh)
        publish(fresh, path)
    finally:
        remove_database(fresh)


def looks_whole(path: Path) -> bool:
    """Tell whether the file is a journal that this program knows, whose pages and warp are as they were written."""
    try:
        with closing(connect(path, "ro")) as database, clear_errors(path):
            require_journal(database, path)
            require_sound(database, path)
            row = database.execute("SELECT identity, made_at_ms, body, seal FROM warp").fetchone()
            return row is not None and seal_warp(*row[:3]) == row[3]
    except JournalError:
        return False


def connect(path: Path, mode: str) -> sqlite3.Connection:
    """Open the database file in a mode of SQLite's (`rw`, `ro`, `rwc`); raises JournalError."""
    # Autocommit: one INSERT is one transaction, on disk when `execute` returns.
    with clear_errors(path):
        return sqlite3.connect(f"{path.absolute().as_uri()}?mode={mode}", uri=True, isolation_level=None, timeout=2)


def ways_to_read(path: Path) -> tuple[Callable[[], Opened], ...]:
    """Return the ways of opening a journal for reading, to be tried in turn, each when the disk refuses the one before.

    In a folder that may not be written, or on a full disk, SQLite cannot make its log's index. Without a log nobody is
    writing and the file may be taken as it lies; with one, a copy of both is read from where there is room, whose seals
    tell if it went wrong. Each way raises JournalError.
    """
    if has_log(path):
        rooms = filter(Path.is_dir, (Path(gettempdir()), MEMORY))
        return (partial(_in_place, path, "ro"), *(partial(_copied, path, room) for room in rooms))
    return partial(_in_place, path, "ro"), partial(_in_place, path, "ro&immutable=1")


def _in_place(path: Path, mode: str) -> Opened:
    return connect(path, mode), ExitStack()


def _copied(path: Path, room: Path) -> Opened:
    with ExitStack() as stack, clear_errors(room):
        folder = Path(stack.enter_context(TemporaryDirectory(prefix="fellside-", dir=room)))
        for file in (path, log_path(path)):
            shutil.copyfile(file, folder / file.name)
        return connect(folder / path.name, "ro"), stack.pop_all()


def move_journal(path: Path, to: Path) -> None:
    """Move a journal that nobody writes, with all the files beside it; raises OSError."""
    # The log goes first: it must never lie beside a journal that it does not belong to.
    for file in (*companions_of(path), mark_path(path), words_path(path), path):
        if file.exists():
            file.rename(to.with_name(to.name + file.name.removeprefix(path.name)))
            sync_folder(to.parent)
            sync_folder(path.parent)


def require_file(path: Path) -> None:
    """Raise JournalError unless a file stands at `path`."""
    if not path.is_file():
        raise JournalError("no such journal", place=path, mend="check the name")
