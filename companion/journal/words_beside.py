"""The words for a sheet in a small file beside the journal or the draft that they belong to, which goes with it."""

from __future__ import annotations

from pathlib import Path

from companion.journal.disk import write_whole
from companion.weaving.sheet_words import NOTHING_SAID, SheetWords, parse_words, print_words

WORDS_SUFFIX = ".words"
MOST_WORDS_BYTES = 400_000
"""More is no file of ours: all paragraphs that there may be, each letter in four bytes, are shorter."""


def words_path(beside: Path) -> Path:
    """Return the file of the words beside a journal or the file of a draft."""
    return beside.with_name(beside.name + WORDS_SUFFIX)


def read_words(beside: Path) -> SheetWords:
    """Return what stands beside a journal or a draft; what cannot be read is nothing for this sheet."""
    try:
        with words_path(beside).open("rb") as file:
            return parse_words(file.read(MOST_WORDS_BYTES).decode("utf-8", "replace"))
    except OSError:
        return NOTHING_SAID


def keep_words(beside: Path, words: SheetWords) -> None:
    """Keep the words beside a journal or a draft; no words need no file. Raises OSError."""
    if words.said:
        write_whole(words_path(beside), print_words(words).encode())
    else:
        words_path(beside).unlink(missing_ok=True)
