"""Files that the weaver asks for: each is whole or as it was, and none takes the place of something else."""

from __future__ import annotations

from pathlib import Path

from companion.cli.status import CommandError
from companion.journal import disk

_BEGINNING = 64
"""Bytes by which pages, PDF documents and tables of ours are known; drafts and notes begin otherwise."""


def write_document(out: str, data: bytes) -> None:
    """Write a document that is made anew at will: only an older one of its kind makes room for it.

    Raises CommandError, also where something else has that name already, which stays as it is.
    """
    path = Path(out)
    try:
        if path.is_file():
            with path.open("rb") as file:
                there = file.read(_BEGINNING)
            if there and there != data[:_BEGINNING]:
                raise CommandError(f"{out}: is there already, and no older one of its kind; give another name")
    except (OSError, ValueError):
        pass  # Whoever cannot read it learns below whether it can be written.
    write_whole(out, data)


def write_whole(out: str, data: bytes) -> None:
    """Write the bytes to `out`; raises CommandError.

    What is there and is no file (a device, a pipe) is written to as it is: it must never be put out of its place.
    """
    path = Path(out)
    try:
        if path.exists() and not path.is_file():
            path.write_bytes(data)
        else:
            disk.write_whole(path, data)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise CommandError(f"{out}: {why}; check the folder, its rights and its room") from error
