"""Files that the weaver asks for: each is whole or as it was, whatever happens while it is written."""

from __future__ import annotations

from pathlib import Path

from companion.cli.status import CommandError
from companion.journal import disk


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
