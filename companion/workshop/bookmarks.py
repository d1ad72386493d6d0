"""Where in the window the weaver is, kept on disk while the system may end the program: read once, then gone."""

from __future__ import annotations

import json
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

from companion.journal.disk import write_whole


class Marked(Enum):
    """Places that can be found again, by the words that stand in the file."""

    START = "start"
    LOOM = "loom"
    RECORD = "record"
    OWN_LOOMS = "looms"
    SETTINGS = "settings"
    DRESSING = "dressing"


@dataclass(frozen=True, slots=True)
class Bookmark:
    """One place; `of` is the name of the warp that it shows, where it shows one."""

    at: Marked
    of: str = ""


def keep_bookmarks(path: Path, marks: tuple[Bookmark, ...]) -> None:
    """Keep the way that the weaver has come, the lowest place first; raises OSError."""
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, json.dumps([[mark.at.value, mark.of] for mark in marks]).encode())


def take_bookmarks(path: Path) -> tuple[Bookmark, ...]:
    """Return the way that was kept, and keep it no longer; empty where none is kept or the file makes no sense."""
    try:
        kept = path.read_text(encoding="utf-8")
        path.unlink()
        return tuple(Bookmark(Marked(at), str(of)) for at, of in json.loads(kept))
    except (OSError, ValueError, TypeError, RecursionError):
        return ()
