"""How wide letters are in the sans-serif of the fourteen fonts that every PDF reader has, and where a line breaks.

Widths are those of Adobe's font metrics for Helvetica and Helvetica-Bold, in thousandths of the size (from memory; a
test asks another program for them). Accented letters are as wide as their base letter.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import lru_cache

_PLAIN = (
    *(278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278),
    *(556,) * 10,
    *(278, 278, 584, 584, 584, 556, 1015),
    *(667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667),
    *(944, 667, 667, 611, 278, 278, 278, 469, 556, 333),
    *(556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500),
    *(722, 500, 500, 500, 334, 260, 334, 584),
)
_BOLD = (
    *(278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278),
    *(556,) * 10,
    *(333, 333, 584, 584, 584, 611, 975),
    *(722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667),
    *(944, 667, 667, 611, 333, 278, 333, 584, 556, 333),
    *(556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611, 611, 611, 389, 556, 333, 611, 556),
    *(778, 556, 556, 500, 389, 280, 389, 584),
)
_OTHERS = {
    **dict.fromkeys("×±", (584, 584)), **dict.fromkeys("–€", (556, 556)), **dict.fromkeys("—…Æ", (1000, 1000)),
    **dict.fromkeys("½¼¾", (834, 834)), **dict.fromkeys("“”", (333, 500)), **dict.fromkeys("‘’", (222, 278)),
    "°": (400, 400), "·": (278, 278), "•": (350, 350), "ß": (611, 611), "Ø": (778, 778), "ø": (611, 611),
    "æ": (889, 889), "í": (278, 278), "ì": (278, 278), "î": (278, 278), "ï": (278, 278),
}  # fmt: skip
"""Plain and bold, of letters that have no base letter of their width."""
_FIRST = ord(" ")
_USUAL, _WIDE = 556, 1000


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Return how many points a line of text is wide."""
    return sum(_width(letter, bold) for letter in text) * size / 1000


def wrapped(text: str, size: float, width: float, first_indent: float = 0.0, bold: bool = False) -> Iterator[str]:
    """Yield the text in lines no wider than `width` points, broken at blanks; a longer word is cut.

    The first line leaves `first_indent` points free, and may be empty for that.
    """
    line, wide, room, blank = "", 0.0, width - first_indent, text_width(" ", size, bold)
    for word in text.split():
        of_word = text_width(word, size, bold)
        with_word = wide + blank + of_word if line else of_word
        if with_word <= room:
            line, wide = f"{line} {word}" if line else word, with_word
            continue
        if line or room < width:
            yield line
        room = width
        *whole, line = _cut_word(word, size, width, bold)
        wide = text_width(line, size, bold)
        yield from whole
    if line:
        yield line


def _cut_word(word: str, size: float, width: float, bold: bool) -> Iterator[str]:
    """Yield a word in parts that fit, one letter each at least; mostly it fits whole."""
    first = 0
    while first < len(word):
        fits = _letters_in(word, first, size, width, bold)
        yield word[first : first + fits]
        first += fits


def _letters_in(text: str, first: int, size: float, width: float, bold: bool) -> int:
    """Return how many letters from `first` on fit in `width` points, one at least."""
    wide = 0
    for at in range(first, len(text)):
        wide += _width(text[at], bold)
        if wide * size / 1000 > width and at > first:
            return at - first
    return len(text) - first


def fitted(text: str, size: float, width: float, bold: bool = False) -> str:
    """Return the text, or as much of its beginning as fits with three dots behind it."""
    if text_width(text, size, bold) <= width:
        return text
    wide = sum(_width(dot, bold) for dot in "...")
    kept = 0
    while kept < len(text) and (wide + _width(text[kept], bold)) * size / 1000 <= width:
        wide += _width(text[kept], bold)
        kept += 1
    return f"{text[:kept].rstrip()}..."


@lru_cache(maxsize=4000)
def _width(letter: str, bold: bool) -> int:
    table = _BOLD if bold else _PLAIN
    if letter in _OTHERS:
        return _OTHERS[letter][bold]
    base = unicodedata.normalize("NFD", letter)[0]
    if 0 <= ord(base) - _FIRST < len(table):
        return table[ord(base) - _FIRST]
    return _WIDE if unicodedata.east_asian_width(letter) in "WF" else _USUAL
