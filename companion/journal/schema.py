"""The tables of a journal file, and the checks that a file is one.

`entries` and `warp` are append-only: triggers refuse update and delete, and an entry whose number is not the next.
`seal` is a CRC-32 over the row and the seal before it, so a changed, missing or swapped row shows when it is read, even
where the change left SQLite's own structure whole. `snapshot` may be thrown away at any time.
"""

from __future__ import annotations

import sqlite3
import zlib
from pathlib import Path

from companion.journal.errors import NOT_A_JOURNAL, JournalError, damaged

APPLICATION_ID = 0x46454C4C
"""`FELL`, in the header of every journal, so that a file tells what it is."""
VERSION = 1
"""The version of these tables; a file with a higher one is refused."""
LOOKED_THROUGH_BYTES = 8_000_000
"""Files up to this size (some 170,000 entries) have their pages checked at every opening: 3 ms per MB where this was
written. Larger ones, so that opening stays quick, only where they are read, and whole whenever a copy is made."""

TABLES = f"""
PRAGMA application_id = {APPLICATION_ID};
PRAGMA user_version = {VERSION};
CREATE TABLE warp (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    identity TEXT NOT NULL,
    made_at_ms INTEGER NOT NULL,
    body TEXT NOT NULL,
    seal INTEGER NOT NULL
) STRICT;
CREATE TABLE entries (
    number INTEGER PRIMARY KEY CHECK (number > 0),
    at_ms INTEGER NOT NULL,
    name TEXT NOT NULL,
    body TEXT NOT NULL,
    seal INTEGER NOT NULL
) STRICT;
CREATE TABLE snapshot (
    number INTEGER PRIMARY KEY,
    shape TEXT NOT NULL,
    body TEXT NOT NULL,
    seal INTEGER NOT NULL
) STRICT;
CREATE TRIGGER entries_in_order BEFORE INSERT ON entries
WHEN new.number IS NOT (SELECT coalesce(max(number), 0) + 1 FROM entries)
BEGIN SELECT raise(ABORT, 'entries are numbered without a gap'); END;
CREATE TRIGGER entries_stay BEFORE UPDATE ON entries
BEGIN SELECT raise(ABORT, 'entries are never changed'); END;
CREATE TRIGGER entries_remain BEFORE DELETE ON entries
BEGIN SELECT raise(ABORT, 'entries are never removed'); END;
CREATE TRIGGER warp_once BEFORE INSERT ON warp WHEN EXISTS (SELECT 1 FROM warp)
BEGIN SELECT raise(ABORT, 'a journal has one warp'); END;
CREATE TRIGGER warp_stays BEFORE UPDATE ON warp
BEGIN SELECT raise(ABORT, 'the warp is never changed'); END;
CREATE TRIGGER warp_remains BEFORE DELETE ON warp
BEGIN SELECT raise(ABORT, 'the warp is never removed'); END;
"""


def seal_warp(identity: str, made_at_ms: int, body: str) -> int:
    """Return the first seal of a journal, over its warp."""
    return zlib.crc32(f"{identity} {made_at_ms} {body}".encode("utf-8", "surrogatepass"))


def seal_entry(before: int, number: int, at_ms: int, name: str, body: str) -> int:
    """Return the seal of an entry that follows one with the seal `before`."""
    return zlib.crc32(f"{number} {at_ms} {name} {body}".encode("utf-8", "surrogatepass"), before)


def seal_snapshot(entry_seal: int, shape: str, body: str) -> int:
    """Return the seal of a snapshot taken after the entry with the seal `entry_seal`."""
    return zlib.crc32(f"{shape} {body}".encode("utf-8", "surrogatepass"), entry_seal)


def pragma(database: sqlite3.Connection, name: str, value: str = "") -> int | str:
    """Return a setting of SQLite, after setting it where `value` is given."""
    if value:
        database.execute(f"PRAGMA {name} = {value}")
    found: int | str = database.execute(f"PRAGMA {name}").fetchone()[0]
    return found


def require_journal(database: sqlite3.Connection, place: Path) -> None:
    """Raise JournalError unless the database is a journal of a version that this program knows."""
    if pragma(database, "application_id") != APPLICATION_ID:
        what, mend = NOT_A_JOURNAL
        raise JournalError(what, place=place, mend=mend)
    version = int(pragma(database, "user_version"))
    if version > VERSION:
        raise JournalError(
            f"was written by a newer Fellside (journal version {version}, this program knows {VERSION})",
            place=place,
            mend="update Fellside on this device",
        )


def require_durable(database: sqlite3.Connection, place: Path) -> None:
    """Set write-ahead logging with a sync at every commit, and raise JournalError where SQLite does not obey."""
    pragma(database, "foreign_keys", "ON")
    if pragma(database, "journal_mode", "WAL") != "wal":
        raise JournalError(
            "this folder cannot keep a write-ahead log",
            place=place,
            mend="keep the journals on a local disk (set FELLSIDE_HOME)",
        )
    if pragma(database, "synchronous", "FULL") != 2:
        raise JournalError("this SQLite does not sync its writes", place=place, mend="install another SQLite")


def require_sound(database: sqlite3.Connection, place: Path) -> None:
    """Raise JournalDamagedError where a journal of ordinary size has a damaged page."""
    if int(pragma(database, "page_count")) * int(pragma(database, "page_size")) <= LOOKED_THROUGH_BYTES:
        _require_ok(database, "quick_check", place)


def require_whole(database: sqlite3.Connection, place: Path) -> None:
    """Raise JournalDamagedError where any page or index of the journal is damaged."""
    _require_ok(database, "integrity_check", place)


def _require_ok(database: sqlite3.Connection, check: str, place: Path) -> None:
    found = str(pragma(database, check))
    if found != "ok":
        raise damaged(place, found)
