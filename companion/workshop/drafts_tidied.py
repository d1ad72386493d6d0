"""A weaver's drafts kept tidy: renamed, copied, and thrown into the bin of the warps, from which they come back.

The words for its sheet go with a draft. What is in the bin has a folder of its own there (`journal.bin`), with a line
that says where the draft was.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from companion.journal.bin import bin_folders, new_bin_folder, remove_binned
from companion.journal.disk import sync_file, sync_folder, write_whole
from companion.journal.errors import JournalError, clear_errors
from companion.journal.shelf import file_stem, free_name, tidy_name
from companion.journal.words_beside import words_path
from companion.workshop.places import asset, drafts_to_choose_from, own_papers

_CAME_FROM = "came from"
"""The file in the bin that says in which folder the draft was."""
_SUFFIXES = (".wif", ".txt")


@dataclass(frozen=True, slots=True)
class BinnedDraft:
    """A draft in the bin: its file there, when it was thrown away (Unix milliseconds), and the folder it was in."""

    path: Path
    at_ms: int
    was_in: Path


def own_drafts(home: Path) -> tuple[Path, ...]:
    """Return the drafts that are this weaver's own, newest first: not those that come along."""
    return tuple(path for path in drafts_to_choose_from(home) if path.parent != asset("drafts"))


def rename_draft(path: Path, new: str) -> Path:
    """Call the file of a draft otherwise, its ending kept, and return it; raises JournalError where that is taken."""
    target = _named(path, new)
    if target == path:
        return path
    same = target.name.casefold() == path.name.casefold()
    with clear_errors(path):
        if not same:
            _require_free(target)
        if words_path(path).exists():
            words_path(path).rename(words_path(target))
        path.rename(target)
        sync_folder(path.parent)
    return target


def copy_draft(path: Path, new: str) -> Path:
    """Put a copy of a draft beside it under another name and return it; raises JournalError."""
    target = _named(path, new)
    with clear_errors(path):
        _require_free(target)
        write_whole(target, path.read_bytes())
        if words_path(path).exists():
            write_whole(words_path(target), words_path(path).read_bytes())
    return target


def throw_draft_away(path: Path, folder: Path, at_ms: int) -> BinnedDraft:
    """Move a draft into the bin `folder`; raises JournalError, and has left the draft where it was."""
    with clear_errors(path):
        own = new_bin_folder(folder, at_ms)
        write_whole(own / _CAME_FROM, f"{path.parent}\n".encode())
        _move(path, own)
    return BinnedDraft(own / path.name, at_ms, path.parent)


def drafts_in_bin(folder: Path) -> tuple[BinnedDraft, ...]:
    """Return the drafts in the bin, those thrown away last first; raises JournalError."""
    found = [BinnedDraft(path, at_ms, _was_in(own)) for at_ms, own in bin_folders(folder) for path in _drafts(own)]
    return tuple(sorted(found, key=lambda draft: (-draft.at_ms, draft.path)))


def take_draft_out(path: Path, folder: Path) -> Path:
    """Put a draft from the bin back where it was, or among the weaver's papers; return it, with a number where need be.

    Raises JournalError, also where it is in the bin no longer.
    """
    draft = next((draft for draft in drafts_in_bin(folder) if draft.path == path), None)
    if draft is None:
        raise JournalError("is in the bin no longer", place=path, mend="look among your drafts")
    with clear_errors(path):
        there = draft.was_in if draft.was_in.is_dir() else own_papers()
        there.mkdir(parents=True, exist_ok=True)
        stem = free_name(path.stem, lambda stem: (there / f"{stem}{path.suffix}").exists())
        _move(path, there, f"{stem}{path.suffix}")
        remove_binned(path.parent)
    return there / f"{stem}{path.suffix}"


def _named(path: Path, new: str) -> Path:
    name = tidy_name(new)
    if name.lower().endswith(path.suffix.lower()):
        name = name[: -len(path.suffix)]
    return path.with_name(file_stem(name) + path.suffix)


def _require_free(target: Path) -> None:
    if target.exists():
        raise JournalError("exists already", place=target, mend="choose another name")


def _move(path: Path, folder: Path, name: str = "") -> None:
    """Move a draft with its words, also from one disk to another: a copy is on disk before the draft goes."""
    for file, to in (
        (words_path(path), words_path(folder / (name or path.name))),
        (path, folder / (name or path.name)),
    ):
        if file.exists():
            shutil.copy2(file, to)
            sync_file(to)
    sync_folder(folder)
    path.unlink()
    words_path(path).unlink(missing_ok=True)


def _drafts(own: Path) -> Iterator[Path]:
    with clear_errors(own):
        yield from (path for path in own.iterdir() if path.suffix.lower() in _SUFFIXES and path.is_file())


def _was_in(own: Path) -> Path:
    try:
        return Path((own / _CAME_FROM).read_text(encoding="utf-8").rstrip("\n"))
    except (OSError, ValueError):
        return own_papers()
