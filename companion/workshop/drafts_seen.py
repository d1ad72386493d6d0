"""What a list says of a draft file: its title, when it was changed, and a little of its cloth; read once."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from companion.draft.facing import Facing
from companion.present.square_table import sample_picture
from companion.present.start import MenuItem
from companion.present.wording import BETWEEN, ago_words
from companion.workshop.draft_files import DraftFileError, read_draft_file
from companion.workshop.places import asset

_MOST_KNOWN = 400
CANNOT_BE_READ = "cannot be read"


def seen(item: MenuItem, facing: Facing, now_ms: int) -> MenuItem:
    """Return the item of a draft file with title, place, date and picture; one that cannot be read says so."""
    path = Path(item.key)
    try:
        stat = path.stat()
    except OSError:
        return item
    known = _read(path, stat.st_mtime_ns, stat.st_size, facing)
    ours = path.parent == asset("drafts")
    changed = "" if ours else ago_words(max(now_ms - stat.st_mtime_ns // 1_000_000, 0))
    detail = BETWEEN.join(part for part in (known.detail, changed, item.detail) if part)
    return replace(item, detail=detail, picture=known.picture)


@lru_cache(maxsize=_MOST_KNOWN)
def _read(path: Path, _changed_ns: int, _size: int, facing: Facing) -> MenuItem:
    try:
        draft = read_draft_file(path).draft
    except DraftFileError:
        return MenuItem(str(path), path.stem, CANNOT_BE_READ)
    return MenuItem(str(path), path.stem, draft.title, sample_picture(draft, facing))
