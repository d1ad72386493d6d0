"""The journal of one warp on disk: when `append` returns, the entry is on disk.

One SQLite file, write-ahead logging, synchronous=FULL, one connection that writes (an OS lock keeps every other one
out), append-only. Readers open the file read-only and never checkpoint, so that the fault of SQLite before 3.51.3,
where two connections reset the log at once (sqlite.org/wal.html, "The WAL-Reset Bug"), has no way in.
"""

from __future__ import annotations

import sqlite3
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Self

from companion.journal.codec import decode_event, encode_event
from companion.journal.disk import publish, sync_file
from companion.journal.errors import JournalError, damaged, from_os, from_sqlite
from companion.journal.lock import WriterLock
from companion.journal.plain import PlainError
from companion.journal.schema import TABLES, pragma, require_durable, require_journal, seal_entry, seal_warp
from companion.journal.warp_codec import decode_warp, encode_warp
from companion.weaving.events import Entry, Event
from companion.weaving.warp import Warp

READ_AT_ONCE = 2_000
"""Rows fetched together; no cursor stays open between, so a reader never holds the log back."""


class Journal:
    """An open journal; a context manager. Use from one thread only. Every failure is a JournalError."""

    def __init__(self, path: Path, database: sqlite3.Connection, lock: WriterLock | None) -> None:
        self.path = path
        self._database = database
        self._lock = lock
        with _clear_errors(path):
            require_journal(database, path)
            if lock:
                require_durable(database, path)
            self.identity, self.made_at_ms, self.warp, self._warp_seal = self._read_warp()
            self._last, self._seal = self._read_end()

    @classmethod
    def create(cls, path: Path, warp: Warp, at_ms: int, identity: str = "") -> Self:
        """Make a new journal at `path` and open it for writing.

        `identity` tells this warp from every other on all devices; a new one is drawn unless it is given. Raises
        JournalError where a file of that name stands already.
        """
        lock = WriterLock(path)
        try:
            if path.exists():
                raise JournalError("exists already", place=path, mend="choose another name")
            fresh = path.with_name(path.name + ".new")
            with _clear_errors(path):
                fresh.unlink(missing_ok=True)
                _write_new(fresh, identity or uuid.uuid4().hex, at_ms, encode_warp(warp))
                publish(fresh, path)
            return cls(path, _connect(path, "rw"), lock)
        except BaseException:
            lock.release()
            raise

    @classmethod
    def open(cls, path: Path) -> Self:
        """Open the journal for writing; raises JournalInUseError while another process writes it."""
        _require_file(path)
        lock = WriterLock(path)
        try:
            return cls(path, _connect(path, "rw"), lock)
        except BaseException:
            lock.release()
            raise

    @classmethod
    def open_to_read(cls, path: Path) -> Self:
        """Open the journal for reading only, whoever is writing it."""
        _require_file(path)
        return cls(path, _connect(path, "ro"), None)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Fold the log into the file and let the journal go; safe to call twice."""
        try:
            with _clear_errors(self.path):
                self._database.close()
        finally:
            if self._lock:
                self._lock.release()

    @property
    def last_number(self) -> int:
        """The number of the newest entry; 0 in an empty journal."""
        return self._last

    def append(self, event: Event, at_ms: int) -> Entry:
        """Put an event on disk and return its entry; after a JournalError nothing of it is there.

        `at_ms` may be earlier than that of the entry before (a clock set back): entries are in order by number.
        """
        number = self._last + 1
        try:
            name, body = encode_event(event)
        except ValueError as error:
            raise JournalError(f"cannot hold {event}", place=self.path, mend="give finite numbers") from error
        seal = seal_entry(self._seal, number, at_ms, name, body)
        with _clear_errors(self.path):
            self._database.execute("INSERT INTO entries VALUES (?, ?, ?, ?, ?)", (number, at_ms, name, body, seal))
        self._last, self._seal = number, seal
        return Entry(number, at_ms, event)

    def entries(self, after: int = 0) -> Iterator[Entry]:
        """Yield the entries after number `after`, in order, each checked by its seal; raises JournalDamagedError."""
        number, seal = after, self._seal_of(after)
        while rows := self._rows_after(number):
            for row_number, at_ms, name, body, row_seal in rows:
                number += 1
                seal = seal_entry(seal, row_number, at_ms, name, body)
                if row_number != number or row_seal != seal:
                    raise damaged(self.path, f"entry {number} is not as it was written")
                try:
                    event = decode_event(name, body)
                except PlainError as error:
                    raise damaged(self.path, f"entry {number}: {error}") from error
                yield Entry(number, at_ms, event)

    def _rows_after(self, number: int) -> list[tuple[int, int, str, str, int]]:
        with _clear_errors(self.path):
            return self._database.execute(
                "SELECT number, at_ms, name, body, seal FROM entries WHERE number > ? ORDER BY number LIMIT ?",
                (number, READ_AT_ONCE),
            ).fetchall()

    def _seal_of(self, number: int) -> int:
        if number == 0:
            return self._warp_seal
        with _clear_errors(self.path):
            row = self._database.execute("SELECT seal FROM entries WHERE number = ?", (number,)).fetchone()
        if row is None:
            raise damaged(self.path, f"entry {number} is missing")
        return int(row[0])

    def _read_warp(self) -> tuple[str, int, Warp, int]:
        row = self._database.execute("SELECT identity, made_at_ms, body, seal FROM warp").fetchone()
        if row is None or seal_warp(*row[:3]) != row[3]:
            raise damaged(self.path, "its warp is not as it was written")
        identity, made_at_ms, body, seal = row
        try:
            return identity, made_at_ms, decode_warp(body), seal
        except PlainError as error:
            raise damaged(self.path, str(error)) from error

    def _read_end(self) -> tuple[int, int]:
        row = self._database.execute("SELECT number, seal FROM entries ORDER BY number DESC LIMIT 1").fetchone()
        return row or (0, self._warp_seal)


def _write_new(path: Path, identity: str, at_ms: int, warp: str) -> None:
    database = _connect(path, "rwc")
    try:
        pragma(database, "journal_mode", "WAL")
        database.executescript(f"BEGIN; {TABLES} COMMIT;")
        seal = seal_warp(identity, at_ms, warp)
        database.execute("INSERT INTO warp VALUES (1, ?, ?, ?, ?)", (identity, at_ms, warp, seal))
    finally:
        database.close()
    sync_file(path)


def _connect(path: Path, mode: str) -> sqlite3.Connection:
    # Autocommit: one INSERT is one transaction, on disk when `execute` returns.
    with _clear_errors(path):
        return sqlite3.connect(f"{path.absolute().as_uri()}?mode={mode}", uri=True, isolation_level=None, timeout=2)


def _require_file(path: Path) -> None:
    if not path.is_file():
        raise JournalError("no such journal", place=path, mend="check the name")


@contextmanager
def _clear_errors(path: Path) -> Iterator[None]:
    try:
        yield
    except sqlite3.Error as error:
        raise from_sqlite(error, path) from error
    except OSError as error:
        raise from_os(error, path) from error
