"""What a section of shorthand lays in at each pick, behind its name: `section: Mat laid in rush 14 in, twig`."""

from __future__ import annotations

import re
from collections.abc import Sequence

from companion.draft.errors import DraftError
from companion.draft.model import LaidIn, Yarn
from companion.draft.written import LENGTH_SAMPLES, read_length

WORDS = "laid in"
MEND = "write such as: section: Mat laid in rush 14 in, twig"
_ONE = re.compile(r'\s*(?P<name>"(?:[^"]|"")*"|[^\s,"]+)(?:\s+(?P<length>[^,]*?))?\s*(?:,|$)')


def read_laid_in(text: str, yarns: Sequence[Yarn]) -> tuple[LaidIn, ...]:
    """Return the wefts that are named, each with its length where that is told; raises DraftError without a place."""
    index = {yarn.name: number for number, yarn in enumerate(yarns)}
    found: dict[int, LaidIn] = {}
    at = 0
    while at < len(text):
        one = _ONE.match(text, at)
        if one is None:
            raise DraftError(f"{text[at:].strip()[:40]!r} is no weft to lay in", mend=MEND)
        name = one["name"]
        name = name[1:-1].replace('""', '"') if name.startswith('"') else name
        if name not in index:
            there = ", ".join(yarn.name for yarn in yarns[:8])
            raise DraftError(f"no yarn is called {name[:40]!r}", mend=f"the yarns are {there}")
        length_cm = _length(one["length"]) if one["length"] else None
        found[index[name]] = LaidIn(index[name], length_cm)
        at = one.end()
    return tuple(found.values())


def _length(text: str) -> float:
    try:
        cm = read_length(text)
    except ValueError:
        cm = 0.0
    if not cm > 0:
        raise DraftError(f"{text[:40]!r} is no length to cut", mend=f"write such as {LENGTH_SAMPLES}")
    return cm
