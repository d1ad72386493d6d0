"""The rows of an open journal, each held against its seal as it is read. Every failure is a JournalError."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from companion.journal.errors import clear_errors, damaged
from companion.journal.plain import PlainError
from companion.journal.schema import seal_entry, seal_warp
from companion.journal.warp_codec import decode_warp
from companion.weaving.warp import Warp

EntryRow = tuple[int, int, str, str, int]
"""A row of `entries`: number, at_ms, name, body, seal."""
READ_AT_ONCE = 2_000
"""Rows fetched together; no cursor stays open between, so a reader never holds the log back."""


class WarpRow(NamedTuple):
    """What a journal begins with; `seal` is the first of its seals."""

    identity: str
    made_at_ms: int
    warp: Warp
    seal: int


def read_warp(database: sqlite3.Connection, path: Path) -> WarpRow:
    """Return the warp of the journal at `path`; raises JournalDamagedError."""
    row = database.execute("SELECT identity, made_at_ms, body, seal FROM warp").fetchone()
    if row is None or seal_warp(*row[:3]) != row[3]:
        raise damaged(path, "its warp is not as it was written")
    identity, made_at_ms, body, seal = row
    try:
        return WarpRow(identity, made_at_ms, decode_warp(body), seal)
    except PlainError as error:
        raise damaged(path, str(error)) from error


def read_end(database: sqlite3.Connection, path: Path, warp_seal: int) -> tuple[int, int]:
    """Return number and seal of the newest entry, 0 and the warp's in an empty journal; raises JournalDamagedError."""
    row = database.execute("SELECT number, seal FROM entries ORDER BY number DESC LIMIT 1").fetchone()
    if row is None:
        return 0, warp_seal
    if not all(isinstance(value, int) for value in row):
        raise damaged(path, "its newest entry is not as it was written")
    return row[0], row[1]


def seal_in(database: sqlite3.Connection, path: Path, number: int) -> int:
    """Return the seal of an entry; raises JournalDamagedError where it is missing."""
    with clear_errors(path):
        row = database.execute("SELECT seal FROM entries WHERE number = ?", (number,)).fetchone()
    if row is None or not isinstance(row[0], int):
        raise damaged(path, f"entry {number} is missing")
    return row[0]


def rows_after(database: sqlite3.Connection, path: Path, number: int, seal: int) -> Iterator[EntryRow]:
    """Yield the rows after the entry with this number and seal, in order; raises JournalDamagedError."""
    while rows := _fetched(database, path, number):
        for row in rows:
            number += 1
            seal = seal_entry(seal, *row[:4])
            if row[0] != number or row[4] != seal:
                raise damaged(path, f"entry {number} is not as it was written")
            yield row


def _fetched(database: sqlite3.Connection, path: Path, number: int) -> list[EntryRow]:
    with clear_errors(path):
        return database.execute(
            "SELECT number, at_ms, name, body, seal FROM entries WHERE number > ? ORDER BY number LIMIT ?",
            (number, READ_AT_ONCE),
        ).fetchall()
