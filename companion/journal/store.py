"""The journal of one warp on disk: when `append` returns, the entry is on disk.

One SQLite file, write-ahead logging, synchronous=FULL, one connection that writes (an OS lock keeps every other one
out), append-only. Readers open the file read-only and never checkpoint, so that the fault of SQLite before 3.51.3,
where two connections reset the log at once (sqlite.org/wal.html, "The WAL-Reset Bug"), has no way in.
"""

from __future__ import annotations

import sqlite3
import uuid
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from types import TracebackType
from typing import Self

from companion.journal.codec import decode_event, encode_event
from companion.journal.database import connect, require_file, ways_to_read, write_new
from companion.journal.disk import log_path, sync_file
from companion.journal.errors import DiskRefusedError, JournalError, clear_errors, damaged
from companion.journal.lock import WriterLock
from companion.journal.mark import Acknowledged, Mark, missing_words, read_mark
from companion.journal.plain import PlainError
from companion.journal.rows import EntryRow, read_end, read_warp, rows_after, seal_in
from companion.journal.schema import (
    require_durable,
    require_journal,
    require_sound,
    require_whole,
    seal_entry,
    seal_snapshot,
)
from companion.journal.warp_codec import encode_warp
from companion.weaving.events import Entry, Event
from companion.weaving.opened import PUT_ON_AGAIN, unopened_words
from companion.weaving.warp import Warp

INSERT_ENTRY = "INSERT INTO entries VALUES (?, ?, ?, ?, ?)"
LOG_GONE = (
    "the program was cut off last time and its log is gone since: the newest picks may be missing here; "
    "compare with your cloth"
)
FOLD_EVERY = 16
"""Entries after which the log is folded into the file: so many a lost log can cost at most."""


class Journal:
    """An open journal; a context manager. Use from one thread only. Every failure is a JournalError."""

    def __init__(
        self,
        path: Path,
        database: sqlite3.Connection,
        lock: WriterLock | None,
        notice: str = "",
        beside: ExitStack | None = None,
    ) -> None:
        """`beside` is closed with the database."""
        self.path = path
        self.notice = notice
        self.missing = 0
        """Entries that were acknowledged once and are not here; told in `notice` too."""
        self.snapshot_number = 0
        """The entry after which the snapshot was taken that was read or kept last; 0 before that."""
        self._database = database
        self._lock = lock
        self._mark = Mark(path)
        self._beside = beside or ExitStack()
        try:
            self._begin()
        except BaseException:
            self.close()
            raise

    def _begin(self) -> None:
        with clear_errors(self.path):
            require_journal(self._database, self.path)
            if self._lock:
                require_durable(self._database, self.path)
            require_sound(self._database, self.path)
            self.identity, self.made_at_ms, self.warp, self._warp_seal = read_warp(self._database, self.path)
            self._last, self._seal = read_end(self._database, self.path, self._warp_seal)
        if self._lock:
            self._lock.name_holder()
            marked = read_mark(self.path)
            if marked and marked.identity == self.identity and marked.number > self._last:
                self.missing = marked.number - self._last
                self.notice = missing_words(self.missing)
            else:
                self._acknowledge()
                self.notice = self.notice or unopened_words(self.warp)
            # Who was cut off between an entry and the fold that was due would have two folds' entries in the log.
            self._fold_log()

    @classmethod
    def create(cls, path: Path, warp: Warp, at_ms: int, identity: str = "") -> Self:
        """Make a new journal at `path` and open it for writing.

        `identity` tells this warp from every other on all devices; a new one is drawn unless it is given. Raises
        JournalError where a file of that name stands already, or where the warp's sheds are not opened.
        """
        if unopened := unopened_words(warp):
            raise JournalError(unopened, place=path, mend=PUT_ON_AGAIN)
        lock = WriterLock(path)
        try:
            if path.exists():
                raise JournalError("exists already", place=path, mend="choose another name")
            with clear_errors(path):
                write_new(path, identity or uuid.uuid4().hex, at_ms, encode_warp(warp))
            return cls(path, connect(path, "rw"), lock)
        except BaseException:
            lock.release()
            raise

    @classmethod
    def open(cls, path: Path) -> Self:
        """Open the journal for writing; raises JournalInUseError while another process writes it.

        `notice` then holds one line for the weaver where the last stop may have cost something; it is empty otherwise.
        """
        require_file(path)
        lock = WriterLock(path)
        try:
            log_gone = lock.left_behind and not log_path(path).exists()
            return cls(path, connect(path, "rw"), lock, LOG_GONE if log_gone else "")
        except BaseException:
            lock.release()
            raise

    @classmethod
    def open_to_read(cls, path: Path) -> Self:
        """Open the journal for reading only, whoever is writing it."""
        require_file(path)
        refused: list[DiskRefusedError] = []
        for way in ways_to_read(path):
            try:
                database, beside = way()
                return cls(path, database, None, beside=beside)
            except DiskRefusedError as error:
                refused.append(error)
        raise refused[0]

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Fold the log into the file and let the journal go; safe to call twice."""
        try:
            with clear_errors(self.path):
                self._database.close()
        finally:
            self._mark.close()
            self._beside.close()
            if self._lock:
                self._lock.release()

    @property
    def last_number(self) -> int:
        """The number of the newest entry; 0 in an empty journal."""
        return self._last

    def append(self, event: Event, at_ms: int) -> Entry:
        """Put an event on disk and fold the log where it is time for that; else as `put`."""
        entry = self.put(event, at_ms)
        self.fold_if_due()
        return entry

    def put(self, event: Event, at_ms: int) -> Entry:
        """Put an event on disk and return its entry; after a JournalError nothing of it is there.

        `fold_if_due` comes after it, and before the next. `at_ms` may be earlier than that of the entry before (a
        clock set back): entries are in order by number.
        """
        number = self._last + 1
        try:
            name, body = encode_event(event)
        except ValueError as error:
            raise JournalError(f"cannot hold {event}", place=self.path, mend="give finite numbers") from error
        seal = seal_entry(self._seal, number, at_ms, name, body)
        with clear_errors(self.path):
            self._database.execute(INSERT_ENTRY, (number, at_ms, name, body, seal))
        self._last, self._seal = number, seal
        self._acknowledge()
        return Entry(number, at_ms, event)

    def fold_if_due(self) -> None:
        """Fold the log into the file, if the newest entry is the last of `FOLD_EVERY`."""
        if self._last % FOLD_EVERY == 0:
            self._fold_log()

    def extend(self, entries: Iterable[Entry]) -> None:
        """Put entries of the same warp, kept elsewhere, on disk: all of them, or none after a JournalError."""
        last, seal = self._last, self._seal
        with self._transaction():
            for entry in entries:
                name, body = encode_event(entry.event)
                last, seal = entry.number, seal_entry(seal, entry.number, entry.at_ms, name, body)
                self._database.execute(INSERT_ENTRY, (last, entry.at_ms, name, body, seal))
        self._last, self._seal = last, seal
        self._acknowledge()
        self._fold_log()

    def entries(self, after: int = 0) -> Iterator[Entry]:
        """Yield the entries after number `after`, in order, each checked by its seal; raises JournalDamagedError."""
        for number, at_ms, name, body, _ in self._rows(after):
            try:
                event = decode_event(name, body)
            except PlainError as error:
                raise damaged(self.path, f"entry {number}: {error}") from error
            yield Entry(number, at_ms, event)

    def look_through(self) -> int:
        """Check every page and every seal and return how many entries there are; raises JournalDamagedError.

        Some 2 s for a million entries on the machine this was written on, so for copies, not for each opening.
        """
        with clear_errors(self.path):
            require_whole(self._database, self.path)
        return sum(1 for _ in self._rows(after=0))

    def copy_to(self, path: Path) -> None:
        """Write a compact copy, as it stands now, into the new file `path`."""
        with clear_errors(path):
            self._database.execute("VACUUM INTO ?", (str(path),))
            sync_file(path)

    def snapshot(self, shape: str) -> str | None:
        """Return the text of the snapshot of this shape, and remember its entry in `snapshot_number`.

        None where there is none, or where it is not as it was written: a snapshot is only a short cut.
        """
        with clear_errors(self.path):
            row = self._database.execute("SELECT number, body, seal FROM snapshot WHERE shape = ?", (shape,)).fetchone()
        if row is None or row[0] > self._last or row[2] != seal_snapshot(self.seal_of(row[0]), shape, row[1]):
            return None
        self.snapshot_number = row[0]
        return str(row[1])

    def keep_snapshot(self, number: int, shape: str, body: str) -> None:
        """Keep a snapshot of how things stood after entry `number`, in place of the one before."""
        seal = seal_snapshot(self.seal_of(number), shape, body)
        with self._transaction():
            self._database.execute("DELETE FROM snapshot")
            self._database.execute("INSERT INTO snapshot VALUES (?, ?, ?, ?)", (number, shape, body, seal))
        self.snapshot_number = number

    def _acknowledge(self) -> None:
        self._mark.set(Acknowledged(self._last, self._seal, self.identity))

    def _fold_log(self) -> None:
        try:
            self._database.execute("PRAGMA wal_checkpoint(PASSIVE)").fetchone()
        except sqlite3.Error:
            # The entry is on disk in the log; that the file does not take it yet will be said when the log is full.
            return

    @contextmanager
    def _transaction(self) -> Iterator[None]:
        with clear_errors(self.path):
            self._database.execute("BEGIN IMMEDIATE")
            try:
                yield
                self._database.execute("COMMIT")
            except BaseException:
                # SQLite itself has rolled back already after some failures, such as a full disk.
                if self._database.in_transaction:
                    self._database.execute("ROLLBACK")
                raise

    def _rows(self, after: int) -> Iterator[EntryRow]:
        return rows_after(self._database, self.path, after, self.seal_of(after))

    def seal_of(self, number: int) -> int:
        """Return the seal of an entry (0: of the warp): equal seals tell that all up to there is equal."""
        return seal_in(self._database, self.path, number) if number else self._warp_seal
