"""Drafts that were changed at the screen, kept as files of their own."""

from __future__ import annotations

from itertools import count
from pathlib import Path

from companion.draft.model import Draft
from companion.draft.wif_write import write_wif


def save_changed_draft(stem: str, draft: Draft, folder: Path) -> Path:
    """Write a draft that was changed at the screen as a new WIF file and return its path; raises OSError.

    The weaver's own file stays as it is, and so do drafts kept before: `towel changed.wif`, `towel changed 2.wif`.
    """
    folder.mkdir(parents=True, exist_ok=True)
    stem = stem.partition(" changed")[0]
    names = (f"{stem} changed{'' if number == 1 else f' {number}'}.wif" for number in count(1))
    path = next(folder / name for name in names if not (folder / name).exists())
    # "x": a file that came there in this very moment is not written over either.
    with path.open("xb") as file:
        try:
            file.write(write_wif(draft))
            file.flush()
        except OSError:
            path.unlink(missing_ok=True)
            raise
    return path
