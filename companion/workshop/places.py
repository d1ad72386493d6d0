"""Where files are: the program's own, in a checkout or once installed, and the drafts that a weaver keeps."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from companion.journal.disk import write_whole
from companion.journal.shelf import data_folder

_SHORTHAND_SIGN = b"threading:"
"""The one word that every draft in shorthand has; other texts are no drafts."""
_LOOKED_AT_BYTES = 8192
_MOST_DRAFTS = 60
_MOUNTS = (Path("/media"), Path("/run/media"))
"""Where a USB stick appears, in a folder of whoever is logged in."""
_PACKAGE = Path(__file__).resolve().parents[1]


@dataclass(frozen=True, slots=True)
class Contents:
    """What a folder holds for a weaver who looks for a draft: other folders and drafts, each by name."""

    folders: tuple[Path, ...]
    drafts: tuple[Path, ...]


def asset(name: str) -> Path:
    """Return the path of a file that ships with the program: `asset("drafts/demo.wif")`."""
    installed = _PACKAGE / "assets"
    return (installed if installed.is_dir() else _PACKAGE.parent / "assets") / name


def home() -> Path:
    """Return the weaver's home folder; one who has none has the folder of the warps."""
    try:
        return Path.home()
    except RuntimeError:
        return data_folder()


def last_folder() -> Path:
    """Return the folder in which a draft was seen last when the weaver looked into folders; home before that."""
    try:
        kept = _last_folder_file().read_text(encoding="utf-8").rstrip("\n")
    except (OSError, ValueError):
        return home()
    return Path(kept) if Path(kept).is_absolute() else home()


def remember_folder(folder: Path) -> None:
    """Remember a folder as the last one; a convenience, which a full disk may refuse."""
    with suppress(OSError, UnicodeEncodeError):
        _last_folder_file().parent.mkdir(parents=True, exist_ok=True)
        write_whole(_last_folder_file(), f"{folder}\n".encode())


def _last_folder_file() -> Path:
    return data_folder() / "last-folder"


def own_papers() -> Path:
    """Return the folder for what this weaver saves to keep: records, tie-up cards, changed drafts."""
    return home() / "Documents" / "Fellside"


def sticks() -> tuple[Path, ...]:
    """Return the USB sticks and cards that are in this device now."""
    return tuple(stick for mounts in _MOUNTS for user in _entries(mounts) for stick in _entries(user) if stick.is_dir())


def drafts_to_choose_from(home: Path, also: Path | None = None) -> tuple[Path, ...]:
    """Return the draft files where weavers keep them, newest first, then those that ship with the program.

    Looks into Documents, Downloads, Drafts and USB sticks, and one folder deep; into the folder `also` itself.
    """
    own = set() if also is None or also == asset("drafts") else set(filter(_is_draft, _entries(also)))
    for folder in (*(home / name for name in ("Documents", "Downloads", "Drafts")), *sticks()):
        for path in _entries(folder):
            own.update(filter(_is_draft, _entries(path) if path.is_dir() else (path,)))
    newest = sorted(own, key=_changed, reverse=True)[:_MOST_DRAFTS]
    return (*newest, *sorted(filter(_is_draft, _entries(asset("drafts")))))


def look_into(folder: Path) -> Contents:
    """Return what a folder holds, hidden things left out; raises OSError where it cannot be read."""
    with os.scandir(folder) as found:
        seen = [Path(entry.path) for entry in found if entry.name[0] != "."]
    paths = sorted(seen, key=lambda path: path.name.casefold())
    return Contents(tuple(filter(Path.is_dir, paths)), tuple(filter(_is_draft, paths)))


def _entries(folder: Path) -> Iterator[Path]:
    """Yield what is in a folder; one that is not there or may not be read holds nothing for this weaver."""
    try:
        with os.scandir(folder) as found:
            yield from [Path(entry.path) for entry in found]
    except OSError:
        return


def _is_draft(path: Path) -> bool:
    suffix = path.suffix.lower()
    if suffix not in (".wif", ".txt"):
        return False
    try:
        stat = path.stat()
        return path.is_file() and (suffix == ".wif" or _has_the_sign(path, stat.st_mtime_ns, stat.st_size))
    except OSError:
        return False


@lru_cache(maxsize=2000)
def _has_the_sign(path: Path, _changed_ns: int, _size: int) -> bool:
    """Tell a draft in shorthand from another text; looked at once, until the file changes."""
    with path.open("rb") as file:
        return _SHORTHAND_SIGN in file.read(_LOOKED_AT_BYTES).lower()


def _changed(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:
        return 0.0
