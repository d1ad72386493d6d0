"""How large the window was when it was closed last, in pixels."""

from __future__ import annotations

import re
from contextlib import suppress
from pathlib import Path

from companion.journal.disk import write_whole
from companion.journal.shelf import data_folder

_SIZE = re.compile(r"([1-9][0-9]{0,4}) ([1-9][0-9]{0,4})\n?")


def last_window_size() -> tuple[int, int] | None:
    """Return width and height; None where none is known."""
    try:
        kept = _SIZE.fullmatch(_file().read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    return (int(kept[1]), int(kept[2])) if kept else None


def remember_window_size(width: int, height: int) -> None:
    """Remember the size for the next start; a convenience, which a full disk may refuse."""
    with suppress(OSError):
        _file().parent.mkdir(parents=True, exist_ok=True)
        write_whole(_file(), f"{width} {height}\n".encode())


def _file() -> Path:
    return data_folder() / "last-window"
