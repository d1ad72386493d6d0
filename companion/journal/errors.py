"""Every exception that the journal room raises, and the wording of what SQLite and the disk complain about."""

from __future__ import annotations

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from companion.journal.disk import full_disk

_PRIMARY_CODE = 0xFF
"""An extended SQLite result code keeps the primary code in its low byte (SQLite documentation, "Result Codes")."""

_DAMAGED = ("is damaged", "put a copy back with: fellside backup --restore FILE")
NOT_A_JOURNAL = (
    "is not a journal of Fellside",
    "name another file, or put a copy back with: fellside backup --restore FILE",
)
_COMPLAINTS = {
    sqlite3.SQLITE_FULL: ("could not be written: the disk is full", "free some space; nothing written before is lost"),
    sqlite3.SQLITE_IOERR: ("the disk did not take or give it", "check the disk, its space and limits, then try again"),
    sqlite3.SQLITE_READONLY: ("may not be written", "make the file and its folder writable for you"),
    sqlite3.SQLITE_PERM: ("may not be read or written", "give yourself the right to the file and its folder"),
    sqlite3.SQLITE_CANTOPEN: ("cannot be opened", "check that file and folder exist and that you may write there"),
    sqlite3.SQLITE_BUSY: ("is in use by another program", "close that program, then try again"),
    sqlite3.SQLITE_LOCKED: ("is in use by another program", "close that program, then try again"),
    sqlite3.SQLITE_CORRUPT: _DAMAGED,
    sqlite3.SQLITE_NOTADB: NOT_A_JOURNAL,
}
_OF_THE_DISK = {
    sqlite3.SQLITE_FULL,
    sqlite3.SQLITE_IOERR,
    sqlite3.SQLITE_READONLY,
    sqlite3.SQLITE_PERM,
    sqlite3.SQLITE_CANTOPEN,
}
_OTHER = ("cannot be used", "try again; if it stays so: fellside backup --restore FILE")


class JournalError(Exception):
    """The journal cannot do what was asked: says what, where and how to mend it, in one line."""

    def __init__(self, what: str, *, place: Path | str = "", mend: str = "") -> None:
        # SQLite quotes what it stumbles over, which may be anything, line ends included.
        self.what = what = " ".join(what.split())
        self.place = str(place)
        self.mend = mend
        super().__init__((f"{place}: " if self.place else "") + what + (f"; {mend}" if mend else ""))


class DiskRefusedError(JournalError):
    """The disk did not take or give what was needed: it is full, may not be written, or fails."""


class JournalInUseError(JournalError):
    """Another process (or another part of this one) is writing this journal."""


class JournalDamagedError(JournalError):
    """What is on disk is not what was written there."""


class CannotCopyError(JournalError):
    """A journal of which no copy can be made, since it cannot be read whole."""


class BundleError(JournalError):
    """A bundle that cannot be brought in: nothing on the shelf was changed."""


def damaged(place: Path, detail: str) -> JournalDamagedError:
    """Return the error for a journal whose content is wrong; `detail` says where, e.g. `entry 7`."""
    what, mend = _DAMAGED
    return JournalDamagedError(f"{what} ({detail})", place=place, mend=mend)


def from_sqlite(error: sqlite3.Error, place: Path) -> JournalError:
    """Return the clear line for a complaint of SQLite about the journal at `place`."""
    code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & _PRIMARY_CODE
    if code == sqlite3.SQLITE_CORRUPT:
        return damaged(place, str(error))
    if code in _OF_THE_DISK:
        # What SQLite makes of a full disk goes by what it was about to do there.
        what, mend = _full(full_disk(place)) or _COMPLAINTS[code]
        return DiskRefusedError(what, place=place, mend=mend)
    what, mend = _COMPLAINTS.get(code, (f"{_OTHER[0]} ({error})", _OTHER[1]))
    return JournalError(what, place=place, mend=mend)


def from_os(error: OSError, place: Path) -> JournalError:
    """Return the clear line for a complaint of the operating system about `place`."""
    disk = full_disk(place) if error.errno in (errno.ENOSPC, errno.EDQUOT) else None
    usual = error.strerror or str(error), "check that it exists, its rights and the disk"
    what, mend = _full(disk) or usual
    return DiskRefusedError(what, place=place, mend=mend)


def _full(disk: Path | None) -> tuple[str, str] | None:
    if disk is None:
        return None
    return f"could not be written: the disk at {disk} is full", "free some space there; nothing written before is lost"


@contextmanager
def clear_errors(place: Path) -> Iterator[None]:
    """Turn every complaint of SQLite or the system inside the block into a JournalError about `place`."""
    try:
        yield
    except sqlite3.Error as error:
        raise from_sqlite(error, place) from error
    except UnicodeDecodeError as error:
        # Python's sqlite3 stumbles over a damaged text, even where it is only part of SQLite's own complaint.
        raise damaged(place, "a text is not as it was written") from error
    except OSError as error:
        raise from_os(error, place) from error
