"""Where in the window the weaver is, kept on disk while the system may end the program: read once, then gone."""

from __future__ import annotations

import json
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

from companion.journal.disk import write_whole
from companion.journal.plain import from_plain, to_plain
from companion.remap.askable import check_askable
from companion.remap.errors import RemapError
from companion.weaving.errors import WeavingError
from companion.weaving.warp import LoomProfile


class Marked(Enum):
    """Places that can be found again, by the words that stand in the file."""

    START = "start"
    LOOM = "loom"
    RECORD = "record"
    OWN_LOOMS = "looms"
    SETTINGS = "settings"
    DRESSING = "dressing"
    DRAFT = "draft"
    SEARCH = "search"


@dataclass(frozen=True, slots=True)
class Bookmark:
    """One place; `of` is the name of the warp that it shows, the file of the draft, or what `mark_of_search` wrote."""

    at: Marked
    of: str = ""


def mark_of_search(file: Path, loom: LoomProfile) -> Bookmark:
    """Return the place where a tie-up is looked for, of the draft in this file on this loom."""
    return Bookmark(Marked.SEARCH, json.dumps([str(file), to_plain(LoomProfile, loom)]))


def search_of(mark: Bookmark) -> tuple[Path, LoomProfile]:
    """Return the file and the loom of a search; raises ValueError where the mark makes no sense."""
    try:
        file, loom = json.loads(mark.of)
        profile: LoomProfile = from_plain(LoomProfile, loom)
        check_askable(profile.loom, profile.present)
        return Path(file), profile
    except (ValueError, TypeError, RecursionError, WeavingError, RemapError) as error:
        raise ValueError("no search is marked there") from error


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
