"""What a teacher wants to say on the sheet of a warp or a draft: paragraphs of words, and of the finishing.

As a text it has one paragraph a line, `words: Keep the edges slack.` or `finishing: Wash warm.`, so that it can be
written by hand too; a line of neither is taken as words.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from companion.weaving.bounds import is_text

LONGEST_PARAGRAPH = 2_000
"""Letters: a sheet has room for some of these."""
MOST_PARAGRAPHS = 20
"""Of either kind."""
_WORDS, _FINISHING = "words", "finishing"


@dataclass(frozen=True, slots=True)
class SheetWords:
    """Paragraphs of the teacher's own words, and of how the cloth is finished."""

    words: tuple[str, ...] = ()
    finishing: tuple[str, ...] = ()

    @property
    def said(self) -> bool:
        """Whether there are any."""
        return bool(self.words or self.finishing)


NOTHING_SAID = SheetWords()


def parse_words(text: str) -> SheetWords:
    """Return the paragraphs of a text; what is beyond the bounds is left out."""
    found: dict[str, list[str]] = {_WORDS: [], _FINISHING: []}
    for line in text.splitlines():
        kind, colon, rest = line.partition(":")
        known = kind.strip().lower() if colon else ""
        paragraph = tidy_paragraph(rest if known in found else line)
        if paragraph:
            found[known if known in found else _WORDS].append(paragraph)
    return SheetWords(tuple(found[_WORDS][:MOST_PARAGRAPHS]), tuple(found[_FINISHING][:MOST_PARAGRAPHS]))


def print_words(words: SheetWords) -> str:
    """Return the text of these paragraphs, which `parse_words` reads again."""
    lines = (*_lines(_WORDS, words.words), *_lines(_FINISHING, words.finishing))
    return "".join(f"{line}\n" for line in lines)


def tidy_paragraph(text: str) -> str:
    """Return a paragraph with single spaces, without signs that cannot be shown, cut to the longest there is."""
    shown = "".join(char if char.isprintable() else " " for char in text if is_text(char))
    return " ".join(shown.split())[:LONGEST_PARAGRAPH].strip()


def _lines(kind: str, paragraphs: Iterable[str]) -> Iterator[str]:
    return (f"{kind}: {paragraph}" for paragraph in map(tidy_paragraph, paragraphs) if paragraph)
