"""A journal's database file: made whole, opened, and missed where it is not there."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from companion.journal.disk import publish, remove_database, sync_file
from companion.journal.errors import JournalError, clear_errors
from companion.journal.schema import TABLES, pragma, require_journal, require_sound, seal_warp


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


def require_file(path: Path) -> None:
    """Raise JournalError unless a file stands at `path`."""
    if not path.is_file():
        raise JournalError("no such journal", place=path, mend="check the name")
