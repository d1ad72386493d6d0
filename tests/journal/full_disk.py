"""A disk filled to its last byte."""

from __future__ import annotations

import contextlib
import shutil


def fill(folder):
    """Write until the disk takes no more; returns the file that takes the space."""
    ballast = folder / "ballast"
    with ballast.open("ab", buffering=0) as file, contextlib.suppress(OSError):
        while file.write(b"\0" * 512):
            pass
    assert shutil.disk_usage(folder).free == 0
    return ballast
