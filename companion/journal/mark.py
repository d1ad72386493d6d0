"""The mark beside a journal: how far it had been acknowledged, kept outside the log so that a lost log is told.

SQLite takes a log that is gone, cut or flipped for one that ended earlier, and says nothing. The mark is written after
each entry, without a sync of its own: a killed program leaves it whole, a power cut may leave it behind the journal,
and it is never ahead of what was on disk when it was written. So entries short of the mark are entries that were lost.
"""

from __future__ import annotations

import os
import re
from io import FileIO
from pathlib import Path
from typing import NamedTuple

_LINE = re.compile(rb"([0-9]{15}) ([0-9]{10}) ([0-9a-zA-Z-]{1,64})\n")
_LONGEST = 128


class Acknowledged(NamedTuple):
    """The newest entry that was acknowledged, of which history: `seal` is that entry's, `identity` the warp's."""

    number: int
    seal: int
    identity: str


def mark_path(journal: Path) -> Path:
    """Return the mark of a journal: `scarf.journal` has `scarf.journal.mark`."""
    return journal.with_name(journal.name + ".mark")


def read_mark(journal: Path) -> Acknowledged | None:
    """Return what the mark beside a journal says; None where there is none that can be read."""
    try:
        with mark_path(journal).open("rb") as file:
            found = _LINE.match(file.read(_LONGEST))
    except OSError:
        return None
    return Acknowledged(int(found[1]), int(found[2]), found[3].decode("ascii")) if found else None


def missing_words(missing: int) -> str:
    """Return the line that tells the weaver of entries that were acknowledged and are gone."""
    what = "entry that was" if missing == 1 else "entries that were"
    return f"{missing} {what} on disk before are gone, since the log beside the journal was lost; look at your cloth"


class Mark:
    """The mark, open to be set at every entry. What the disk does not take is passed over: it only warns."""

    def __init__(self, journal: Path) -> None:
        self._path = mark_path(journal)
        self._file: FileIO | None = None

    def set(self, acknowledged: Acknowledged) -> None:
        """Write how far the journal is acknowledged now."""
        number, seal, identity = acknowledged
        line = f"{number:015} {seal:010} {identity}\n".encode("ascii")
        try:
            if self._file is None:
                # A link in its place may lead anywhere, and is not written through.
                flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0) | getattr(os, "O_NOFOLLOW", 0)
                self._file = FileIO(os.open(self._path, flags, 0o666), "r+b")
            self._file.seek(0)
            self._file.write(line)
        except OSError:
            return

    def close(self) -> None:
        """Let the file go; safe to call twice."""
        if self._file is not None:
            self._file.close()
            self._file = None
