"""One writer per journal: a lock on a file beside it, which the operating system lets go when the process dies.

The lock is not on the journal itself: SQLite holds locks of its own there, and closing a second handle would drop them.
"""

from __future__ import annotations

import os
import sys
from io import FileIO
from pathlib import Path

from companion.journal.errors import JournalError, JournalInUseError, from_os

if sys.platform == "win32":
    import msvcrt

    def _try_lock(file: FileIO) -> None:
        file.seek(0)
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _try_lock(file: FileIO) -> None:
        fcntl.flock(file.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)


def lock_path(journal: Path) -> Path:
    """Return the lock file of a journal: `scarf.journal` has `scarf.journal.lock`."""
    return journal.with_name(journal.name + ".lock")


class WriterLock:
    """The right to write one journal. Raises JournalInUseError, naming the process, when someone else has it.

    The holder writes its process number into the file and takes it out again on release: `left_behind` tells that the
    last holder was cut off before it could.
    """

    def __init__(self, journal: Path, in_use: str = "this warp is already open") -> None:
        path = lock_path(journal)
        try:
            self._file: FileIO = path.open("a+b", buffering=0)
        except OSError as error:
            raise from_os(error, path) from error
        try:
            _try_lock(self._file)
        except (BlockingIOError, PermissionError) as error:
            holder = _holder(path)
            self._file.close()
            raise JournalInUseError(
                in_use + (f" in process {holder}" if holder else ""),
                place=journal,
                mend="weave on there, or close that program first",
            ) from error
        except OSError as error:
            # Such as a network folder that knows no locks.
            self._file.close()
            raise JournalError(
                f"cannot be locked ({error.strerror or error})",
                place=path,
                mend="keep the journals on a local disk (set FELLSIDE_HOME)",
            ) from error
        self.left_behind = path.stat().st_size > 0
        self._named = False

    def name_holder(self) -> None:
        """Write the number of this process into the lock file, for whoever finds the journal in use."""
        self._named = True
        self._write(b"%d\n" % os.getpid())

    def release(self) -> None:
        """Let the journal go; safe to call twice. The lock file stays, since removing it could race with a newcomer."""
        if not self._file.closed:
            if self._named:
                self._write(b"")
            self._file.close()

    def _write(self, text: bytes) -> None:
        try:
            self._file.truncate(0)
            self._file.write(text)
        except OSError:
            # It only makes messages better; a full disk must not keep the weaver out.
            return


def _holder(path: Path) -> str:
    try:
        text = path.read_text(encoding="ascii").strip()
    except (OSError, ValueError):
        return ""
    return text if text.isdigit() else ""
