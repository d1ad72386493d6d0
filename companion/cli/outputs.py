"""Files that the weaver asks for: each is whole or as it was, whatever happens while it is written."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from companion.cli.status import CommandError


def write_whole(out: str, data: bytes) -> None:
    """Write the bytes under a passing name beside `out`, then give them theirs; raises CommandError.

    What is there and is no file (a device, a pipe) is written to as it is: it must never be put out of its place.
    """
    path = Path(out)
    passing: Path | None = None
    try:
        if path.exists() and not path.is_file():
            path.write_bytes(data)
            return
        with tempfile.NamedTemporaryFile(dir=path.parent, prefix=".fellside-", delete=False) as file:
            passing = Path(file.name)
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        passing.chmod(0o644)
        passing.replace(path)
    except (OSError, ValueError) as error:
        if passing is not None:
            passing.unlink(missing_ok=True)
        why = getattr(error, "strerror", None) or error
        raise CommandError(f"{out}: {why}; check the folder, its rights and its room") from error
