"""Making files and their names last: what SQLite does for pages, done for whole files."""

from __future__ import annotations

import errno
import os
import secrets
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

PAGE_BYTES = 4096


def sync_file(path: Path) -> None:
    """Return when the file's content is on disk, as far as the disk tells the truth."""
    with path.open("rb") as file:
        os.fsync(file.fileno())


def sync_folder(folder: Path) -> None:
    """Return when the folder's list of names is on disk; Windows has no such call and keeps names by itself.

    So do some file systems, and a folder that may be written but not read cannot be asked to.
    """
    if os.name == "nt":
        return
    try:
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
    except OSError as error:
        if error.errno not in (errno.EINVAL, errno.EACCES):
            raise


def write_whole(path: Path, content: bytes) -> None:
    """Put a file with this content at `path`, on disk when this returns: all of it or, with OSError, what was there."""
    with finished_in(path.parent, content) as finished:
        publish(finished, path)


@contextmanager
def finished_in(folder: Path, content: bytes) -> Iterator[Path]:
    """Give the path of a file with this content, on disk under a passing name in `folder`, for `publish`; or OSError.

    No other program chooses that name; what was not published is gone at the end.
    """
    # Short, so that it fits wherever the true name does.
    passing = folder / f".fellside-{secrets.token_hex(8)}"
    try:
        with passing.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        yield passing
    finally:
        passing.unlink(missing_ok=True)


def full_disk(place: Path) -> Path | None:
    """Return where the disk begins that `place` lies or would lie on, if it has no room for a page; else None."""
    folders = [folder for folder in (place.absolute(), *place.absolute().parents) if folder.is_dir()]
    try:
        full = shutil.disk_usage(folders[0]).free < PAGE_BYTES
        return next(filter(Path.is_mount, folders)) if full else None
    except (OSError, LookupError, StopIteration):
        return None


def log_path(database: Path) -> Path:
    """Return the write-ahead log that belongs to a database file."""
    return database.with_name(database.name + "-wal")


def has_log(database: Path) -> bool:
    """Tell whether a database's newest entries may lie in a log beside it."""
    try:
        return log_path(database).stat().st_size > 0
    except OSError:
        return False


def companions_of(database: Path) -> tuple[Path, Path]:
    """Return the files that SQLite keeps beside a database: its write-ahead log and the index of that."""
    return log_path(database), database.with_name(database.name + "-shm")


def remove_database(path: Path) -> None:
    """Remove a database file with the files beside it, whichever of them are there."""
    for file in (path, *companions_of(path)):
        file.unlink(missing_ok=True)


def publish(finished: Path, name: Path) -> None:
    """Give a finished file its real name in one step: a crash leaves the old file or the new one, never half of it."""
    finished.replace(name)
    sync_folder(name.parent)
