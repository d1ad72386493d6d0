"""A yarn's size in words: as it was said, what it comes to, and by whose system it was read."""

from __future__ import annotations

from companion.draft.units import Units, yarn_size_words
from companion.weaving.yarn_written import WrittenYarn


def size_words(read: WrittenYarn, units: Units) -> str:
    """Return what a size comes to, with its range where it is an estimate: `1,467 yd/lb (1,198 yd/lb to …)`."""
    size = yarn_size_words(read.tex, units)
    if not read.is_estimate:
        return size
    return f"{size} (from {yarn_size_words(read.most_tex, units)} to {yarn_size_words(read.least_tex, units)})"


def sized_words(words: str, read: WrittenYarn, units: Units) -> str:
    """Return a size as it was said and what it comes to: `8/2 cotton, 3,360 yd/lb`."""
    return f"{words}, {size_words(read, units)}"


def read_words(words: str, read: WrittenYarn, units: Units) -> str:
    """Return the same with how it was read: `8/2 cotton, 3,360 yd/lb; cotton count: hanks of 840 yd …`."""
    return f"{sized_words(words, read, units)}; {read.read_as}"
