"""Colours by word and by code: for drafts that are typed, and to call yarns by that no file names.

The codes of the first row are those of the sixteen HTML colours (from memory); the others are our own choice for
yarns that weavers name by these words.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import dist

from companion.draft.model import Colour

_CODES = {
    "black": "000000", "white": "ffffff", "red": "ff0000", "lime": "00ff00", "blue": "0000ff", "yellow": "ffff00",
    "grey": "808080", "gray": "808080", "silver": "c0c0c0", "maroon": "800000", "olive": "808000", "green": "008000",
    "purple": "800080", "teal": "008080", "navy": "000080", "aqua": "00ffff", "fuchsia": "ff00ff",
    "natural": "ece4d0", "cream": "f4ecd2", "oat": "dccfae", "linen": "cbbf9f", "sand": "c99854", "straw": "dcbc5a",
    "gold": "cc9a1e", "ochre": "b97f24", "orange": "e07b1a", "rust": "a4491f", "brown": "6f4626", "madder": "b03427",
    "pink": "dd8fa0", "plum": "6c2f57", "violet": "6a4a9c", "indigo": "26326e", "sea": "1a5a78", "sky": "84b4d6",
    "beige": "e3d9bd", "ecru": "d6cba8", "ivory": "f7f1df", "mustard": "c9a227", "burgundy": "6b1a2e",
    "moss": "66702c", "leaf": "4e8a3a", "sage": "97a584", "slate": "4c5864", "charcoal": "33353a",
}  # fmt: skip

_SEEN_AS = {
    "black": "000000 1a1a1a", "charcoal": "33353a 404040", "grey": "808080 696969 778899 a0a0a0",
    "silver": "c0c0c0 d3d3d3",
    "white": "ffffff fffafa f5f5f5", "cream": "f4ecd2 f5f5dc fff8dc faebd7", "tan": "d2b48c c99854 deb887 bc8f5f",
    "brown": "6f4626 8b4513 a0522d 4a3020 a52a2a", "rust": "a4491f b7410e",
    "orange": "ffa500 ff8c00 e07b1a e69f00 ff6a10", "peach": "ffdab9 fbceb1 ffb07c",
    "gold": "ffd700 daa520 cc9a1e b8860b", "yellow": "ffff00 f0e442 ffe14d f0e68c",
    "red": "ff0000 dc143c b22222 b03427 c04040 e03020", "maroon": "800000 8b0000 6b1020",
    "coral": "ff7f50 fa8072 e9967a ff6a5a", "pink": "ffc0cb ff69b4 ffb6c1 dd8fa0 db7093 fb5581",
    "fuchsia": "ff00ff ff1493 c71585",
    "purple": "800080 6a0dad 9400d3 4b0082 7e1e9c 2d0438 87608f", "plum": "6c2f57 5a2a4a",
    "violet": "ee82ee da70d6 9370db 8a2be2 6a4a9c", "lavender": "c8a2c8 e6e6fa d8bfd8 b0a0d8",
    "blue": "0000ff 4169e1 4682b4 1e4682 0072b2 1e90ff 6495ed 483d8b 0343df 5a7d9a 4f738e 1010c0",
    "navy": "000080 191970 26326e 000040 1c2a44", "sky": "87ceeb add8e6 84b4d6 56b4e9 a8c4ff",
    "teal": "008080 0f6b6b 5f9ea0 024b50 003b46 1cb0a8", "turquoise": "40e0d0 00ffff 48d1cc",
    "green": "008000 228b22 2e8b57 4e8a3a 009e73 32cd32 006400 033500 0a481e 15b01a 58bc08 70b23f 21c36f",
    "lime": "00ff00 7cfc00 a8e000 c0fb2d",
    "mint": "98fb98 90ee90 c0f0d0 90d0b8",
    "olive": "808000 556b2f 66702c 6b8e23 9aae07 3a4008", "sage": "97a584 8fbc8f a8b894 acbf8a 87ae73",
}  # fmt: skip
"""Plain words for a yarn seen at the loom, each with some colours that it is said of: many of them named colours of CSS
(W3C, CSS Color Module Level 4) that have the word in their names, the others our own choice."""

FARTHEST = 22.0
"""A colour farther than this from all that a word is said of is not given the word: it would not be true."""

_TYPED = {**{word: codes.split()[0] for word, codes in _SEEN_AS.items()}, **_CODES}
"""What may be typed: every word that a yarn is called by, too."""

_HEX = re.compile("#?([0-9a-fA-F]{2})([0-9a-fA-F]{2})([0-9a-fA-F]{2})")


def parse_colour(text: str) -> Colour | None:
    """Return the colour of a word or a code, or None: `"#1a5a78"` and `"sea"` are `Colour(26, 90, 120)`."""
    code = _HEX.fullmatch(_TYPED.get(text.lower(), text))
    return None if code is None else Colour(*(int(part, 16) for part in code.groups()))


def print_colour(colour: Colour) -> str:
    """Return the code of a colour: `Colour(26, 90, 120)` is `"#1a5a78"`."""
    return "#{:02x}{:02x}{:02x}".format(*colour)


def name_colours(colours: Sequence[Colour]) -> list[str]:
    """Return a word for each colour, the nearest one, with a number where it comes again: `navy`, `cream`, `navy2`.

    A colour that no word is near enough to is only called yarn.
    """
    times: dict[str, int] = {}
    names = []
    for colour in colours:
        word = _nearest(colour)
        times[word] = times.get(word, 0) + 1
        names.append(word if times[word] == 1 else f"{word}{times[word]}")
    return names


def difference(one: Colour, other: Colour) -> float:
    """Return how different two colours look: the distance in CIE 1976 L*a*b* (CIE 15; ISO/CIE 11664-4)."""
    return dist(lab_of(one), lab_of(other))


def lab_of(colour: Colour) -> tuple[float, float, float]:
    """Return L*, a* and b* of an sRGB colour: `lab_of(Colour(255, 255, 255))` is near (100, 0, 0).

    sRGB by IEC 61966-2-1 with its white, D65; L*a*b* by CIE 15 and ISO/CIE 11664-4.
    """
    red, green, blue = map(_linear, colour)
    x = (0.4124 * red + 0.3576 * green + 0.1805 * blue) / 0.95047
    y = 0.2126 * red + 0.7152 * green + 0.0722 * blue
    z = (0.0193 * red + 0.1192 * green + 0.9505 * blue) / 1.08883
    fx, fy, fz = map(_compressed, (x, y, z))
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


def _linear(part: int) -> float:
    share = part / 255
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4


def _compressed(share: float) -> float:
    edge = 6 / 29
    return share ** (1 / 3) if share > edge**3 else share / (3 * edge**2) + 4 / 29


def _nearest(colour: Colour) -> str:
    lab = lab_of(colour)
    far, word = min((dist(lab, known), word) for known, word in _KNOWN)
    return word if far <= FARTHEST else "yarn"


_KNOWN = tuple(
    (lab_of(Colour(*bytes.fromhex(code))), word) for word, codes in _SEEN_AS.items() for code in codes.split()
)
