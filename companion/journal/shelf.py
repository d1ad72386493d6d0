"""The shelf of warps on this device: one journal file per warp in one folder, and which was used last.

File names are readable and can be turned back: letters and digits of any script stay, everything that some file system
forbids is written `%XX` as in a URL.
"""

from __future__ import annotations

import os
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import replace
from itertools import count
from pathlib import Path
from urllib.parse import unquote

from companion.journal.database import looks_whole
from companion.journal.disk import write_whole
from companion.journal.errors import JournalError, from_os
from companion.journal.store import Journal
from companion.weaving.warp import Warp

SUFFIX = ".journal"
COUNT_MARK = "~"
"""Stands between name and count of a copy (`backup`); a name never has one, since `file_stem` escapes it."""
LONGEST_NAME = 80
"""Characters in a warp's name; with the longest escapes it may still be refused by its bytes."""
LONGEST_STEM_BYTES = 200
"""File systems allow 255 bytes; the rest is for suffixes of copies and logs."""
_PLAIN = frozenset(" -_.,()+&'")
_RESERVED = frozenset(
    {"con", "prn", "aux", "nul"} | {f"{port}{digit}" for port in ("com", "lpt") for digit in "0123456789¹²³"}
)
"""Names of devices on Windows ("Naming Files, Paths, and Namespaces", Microsoft)."""


def data_folder(environment: Mapping[str, str] = os.environ) -> Path:
    """Return the folder of everything that belongs to the weaver: FELLSIDE_HOME, or the platform's usual place.

    On Android that is the storage that the system gives this program alone. Raises JournalError where there is no home
    to begin from.
    """
    home = environment.get("FELLSIDE_HOME")
    share = environment.get("ANDROID_PRIVATE") or environment.get("XDG_DATA_HOME") or "~/.local/share"
    folder = home or f"{share}/fellside"
    try:
        return Path(folder).expanduser()
    except RuntimeError as error:
        raise JournalError(
            "nobody's home folder is known by that name", place=folder, mend="set FELLSIDE_HOME to a folder"
        ) from error


def file_stem(name: str) -> str:
    """Return the file name, without suffix, of the warp called `name`: `Scarf 1/2` gives `Scarf 1%2F2`.

    Raises JournalError for a name that is empty, too long or not text.
    """
    tidy = tidy_name(name)
    kept = "".join(char if _is_plain(char) else _escaped(char) for char in tidy)
    if kept.split(".")[0].casefold() in _RESERVED or kept[0] == ".":
        kept = _escaped(kept[0]) + kept[1:]
    if kept[-1] == ".":
        kept = kept[:-1] + _escaped(".")
    if len(tidy) > LONGEST_NAME:
        raise JournalError(f"the name {tidy[:30]!r}… is too long", mend=f"use at most {LONGEST_NAME} characters")
    if len(kept.encode()) > LONGEST_STEM_BYTES:
        raise JournalError(f"the name {tidy[:30]!r}… needs more room than a file's name has", mend="use fewer letters")
    return kept


def name_of(stem: str) -> str:
    """Return the name that `file_stem` wrote."""
    return unicodedata.normalize("NFC", unquote(stem))


def tidy_name(name: str) -> str:
    """Return a name with single spaces and composed letters, as it is shown and kept; raises JournalError if none."""
    tidy = unicodedata.normalize("NFC", " ".join(name.split()))
    if not tidy:
        raise JournalError("a warp needs a name", mend="give it at least one letter")
    if not tidy.isprintable():
        raise JournalError(f"the name {tidy!r} has characters that cannot be shown", mend="leave them out")
    return tidy


def same_name(one: str, other: str) -> bool:
    """Tell whether two names are one to the shelf: capitals do not tell warps apart, on some disks they cannot."""
    return tidy_name(one).casefold() == tidy_name(other).casefold()


def free_name(name: str, is_taken: Callable[[str], bool]) -> str:
    """Return the name, with a number behind it where it is taken: `Towel`, else `Towel 2`, `Towel 3`."""
    return next(free for number in count(1) if not is_taken(free := name if number == 1 else f"{name} {number}"))


def shelf_of_weaver(environment: Mapping[str, str] = os.environ) -> Shelf:
    """Return the shelf in the weaver's data folder."""
    return Shelf(data_folder(environment) / "journal")


def as_shelved(journal: Journal) -> Warp:
    """Return the warp of a journal under the name that it has on the shelf: it may have been begun under another."""
    return replace(journal.warp, name=name_of(journal.path.stem))


class Shelf:
    """The warps kept in `folder`, which is made when the first is put there."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def names(self) -> tuple[str, ...]:
        """Return the names of all warps, sorted without regard to capitals; raises JournalError.

        A folder, a link that leads nowhere, a copy and a hidden file are none, whatever they are called.
        """
        return tuple(sorted(self._files(), key=str.casefold))

    def names_by_use(self) -> tuple[str, ...]:
        """Return the names of all warps: the one woven on last, then those whose journals changed last."""
        files, last = self._files(), self.last_used()
        return tuple(sorted(files, key=lambda name: (name != last, -_changed_ns(files[name]), name.casefold())))

    def path(self, name: str) -> Path:
        """Return the journal file of the warp called `name`, whether it is there or not."""
        files = self._files()
        known = next((known for known in files if same_name(known, name)), None)
        return self.folder / (file_stem(name) + SUFFIX) if known is None else files[known]

    def create(self, name: str, warp: Warp, at_ms: int, identity: str = "") -> Journal:
        """Put a new warp on the shelf and open it; raises JournalError where the name is taken."""
        path = self.path(name)
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise from_os(error, self.folder) from error
        journal = Journal.create(path, warp, at_ms, identity)
        self.mark_used(path)
        return journal

    def open(self, name: str) -> Journal:
        """Open a warp to weave on; it becomes the last used. Raises JournalError, naming the warps there are."""
        path = self.known(name)
        journal = Journal.open(path)
        self.mark_used(path)
        return journal

    def open_to_read(self, name: str) -> Journal:
        """Open a warp for reading only, even while another process weaves it."""
        return Journal.open_to_read(self.known(name))

    def unreadable(self) -> frozenset[str]:
        """Return the names of the warps whose journals show at a glance that they cannot be opened.

        That takes some milliseconds a warp; damage to single entries shows only where they are read.
        """
        return frozenset(name for name in self.names() if not looks_whole(self.path(name)))

    def last_used(self) -> str | None:
        """Return the name of the warp that was opened to weave last; None on an empty shelf."""
        names = self.names()
        try:
            marked = name_of(self._mark.read_text(encoding="utf-8").strip())
        except (OSError, ValueError):
            marked = ""
        if marked in names:
            return marked
        return max(names, key=lambda name: _changed_ns(self.path(name)), default=None)

    def _files(self) -> dict[str, Path]:
        """Return the journal of each warp by its name. Older programs wrote more letters as %XX than `file_stem`."""
        try:
            return {name_of(path.stem): path for path in self.folder.iterdir() if _is_warp(path)}
        except FileNotFoundError:
            return {}
        except NotADirectoryError as error:
            raise JournalError("is no folder", place=self.folder, mend="set FELLSIDE_HOME to a folder") from error
        except OSError as error:
            raise from_os(error, self.folder) from error

    @property
    def _mark(self) -> Path:
        return self.folder / "last-used"

    def mark_used(self, path: Path) -> None:
        """Remember the warp with this journal file as the one that was used last."""
        try:
            write_whole(self._mark, f"{path.stem}\n".encode())
        except OSError:
            # A convenience: a full disk must not keep the weaver from a journal that can be read.
            return

    def known(self, name: str) -> Path:
        """Return the journal file of a warp on the shelf; raises JournalError, naming the warps there are."""
        path = self.path(name)
        if not path.is_file():
            there = ", ".join(self.names()) or "none"
            raise JournalError(f"no warp is called {tidy_name(name)!r}", mend=f"the warps here are: {there}")
        return path


def _is_warp(path: Path) -> bool:
    is_name = path.suffix == SUFFIX and COUNT_MARK not in path.name and not path.name.startswith(".")
    return is_name and path.is_file()


def _changed_ns(path: Path) -> int:
    try:
        return path.stat().st_mtime_ns
    except OSError:
        # Taken away this moment: it was not used last.
        return 0


def _is_plain(char: str) -> bool:
    """Tell whether a letter may stand in a file name as it is: signs beyond ASCII (as in an emoji) may too."""
    sign = not char.isascii() and unicodedata.category(char)[0] in "SM"
    return char.isalnum() or char in _PLAIN or sign


def _escaped(char: str) -> str:
    return "".join(f"%{byte:02X}" for byte in char.encode("utf-8", "surrogatepass"))
