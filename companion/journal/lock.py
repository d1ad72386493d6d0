"""One writer per journal: a lock on a file beside it, which the operating system lets go when the process dies.

The lock is not on the journal itself: SQLite holds locks of its own there, and closing a second handle would drop them.
A folder for copies may lie on anybody's stick: no link is followed to a lock file, and nothing is written over that is
not a lock of ours.
"""

from __future__ import annotations

import os
import re
import stat
from importlib import import_module
from io import FileIO
from pathlib import Path

from companion.journal.errors import JournalError, JournalInUseError, from_os


def _try_lock(file: FileIO) -> None:
    """Take the lock of the whole file or, on Windows, which knows none, of its first byte; or raise OSError."""
    try:
        system = import_module("fcntl")
    except ImportError:
        windows = import_module("msvcrt")
        file.seek(0)
        windows.locking(file.fileno(), windows.LK_NBLCK, 1)
    else:
        system.flock(file.fileno(), system.LOCK_EX | system.LOCK_NB)


_OURS = re.compile(rb"(?:[0-9]{1,20}\r?\n?)?")
"""All that a lock file ever holds: nothing, or the number of the process that has it."""
_LONGEST = 22


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
        self._file = _open_without_following(path)
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


def _open_without_following(path: Path) -> FileIO:
    if path.is_symlink():
        raise _not_ours(path, "is a link")
    # Where the system has no such flag, the look before must do.
    flags = os.O_RDWR | os.O_CREAT | os.O_APPEND | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    flags |= getattr(os, "O_BINARY", 0)
    try:
        file = FileIO(os.open(path, flags, 0o666), "a+b")
    except OSError as error:
        raise from_os(error, path) from error
    try:
        _require_ours(file, path)
    except BaseException:
        file.close()
        raise
    return file


def _require_ours(file: FileIO, path: Path) -> None:
    about = os.fstat(file.fileno())
    if not stat.S_ISREG(about.st_mode):
        raise _not_ours(path, "is no ordinary file")
    file.seek(0)
    if not _OURS.fullmatch(file.read(_LONGEST + 1)):
        raise _not_ours(path, "holds something else")


def _not_ours(path: Path, what: str) -> JournalError:
    return JournalError(
        f"{what}, where a lock belongs; nothing was written", place=path, mend="look what it is, and move it away"
    )


def _holder(path: Path) -> str:
    try:
        text = path.read_text(encoding="ascii").strip()
    except (OSError, ValueError):
        return ""
    return text if text.isdigit() else ""
