"""Colours by word and by code: for drafts that are typed, and to call yarns by that no file names.

The codes of the first row are those of the sixteen HTML colours (from memory); the others are our own choice for
yarns that weavers name by these words.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from companion.draft.model import Colour

_CODES = {
    "black": "000000", "white": "ffffff", "red": "ff0000", "lime": "00ff00", "blue": "0000ff", "yellow": "ffff00",
    "grey": "808080", "gray": "808080", "silver": "c0c0c0", "maroon": "800000", "olive": "808000", "green": "008000",
    "purple": "800080", "teal": "008080", "navy": "000080", "aqua": "00ffff", "fuchsia": "ff00ff",
    "natural": "ece4d0", "cream": "f4ecd2", "oat": "dccfae", "linen": "cbbf9f", "sand": "c99854", "straw": "dcbc5a",
    "gold": "cc9a1e", "ochre": "b97f24", "orange": "e07b1a", "rust": "a4491f", "brown": "6f4626", "madder": "b03427",
    "pink": "dd8fa0", "plum": "6c2f57", "violet": "6a4a9c", "indigo": "26326e", "sea": "1a5a78", "sky": "84b4d6",
    "moss": "66702c", "leaf": "4e8a3a", "sage": "97a584", "slate": "4c5864", "charcoal": "33353a",
}  # fmt: skip

_PLAIN_WORDS = (
    *("black", "white", "grey", "silver", "red", "maroon", "orange", "brown", "yellow", "olive", "green", "teal"),
    *(
        "blue",
        "navy",
        "sky",
        "purple",
        "violet",
        "fuchsia",
        "pink",
        "plum",
        "cream",
        "sand",
        "gold",
        "rust",
        "sage",
        "moss",
    ),
)
"""Words that anyone would use for a yarn seen at the loom."""

_HEX = re.compile("#?([0-9a-fA-F]{2})([0-9a-fA-F]{2})([0-9a-fA-F]{2})")


def parse_colour(text: str) -> Colour | None:
    """Return the colour of a word or a code, or None: `"#1a5a78"` and `"sea"` are `Colour(26, 90, 120)`."""
    code = _HEX.fullmatch(_CODES.get(text.lower(), text))
    return None if code is None else Colour(*(int(part, 16) for part in code.groups()))


def print_colour(colour: Colour) -> str:
    """Return the code of a colour: `Colour(26, 90, 120)` is `"#1a5a78"`."""
    return "#{:02x}{:02x}{:02x}".format(*colour)


def name_colours(colours: Sequence[Colour]) -> list[str]:
    """Return a word for each colour, the nearest one, with a number where it comes again: `navy`, `cream`, `navy2`."""
    times: dict[str, int] = {}
    names = []
    for colour in colours:
        word = _nearest(colour)
        times[word] = times.get(word, 0) + 1
        names.append(word if times[word] == 1 else f"{word}{times[word]}")
    return names


def _nearest(colour: Colour) -> str:
    return min(_PLAIN_WORDS, key=lambda word: _distance(colour, _CODE_OF[word]))


def _distance(one: Colour, other: Colour) -> int:
    return sum((a - b) ** 2 for a, b in zip(one, other, strict=True))


_CODE_OF = {word: Colour(*bytes.fromhex(_CODES[word])) for word in _PLAIN_WORDS}
