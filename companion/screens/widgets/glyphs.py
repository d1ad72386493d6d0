"""Text measured and drawn once: at the loom the same few words come back at every pick."""

from __future__ import annotations

from functools import lru_cache

from kivy.core.text import Label as CoreLabel
from kivy.graphics.texture import Texture

FONT = "Roboto"
_BETWEEN, _KEPT = " · ", "\u00a0· "
"""A dot between two things ends a line, and never begins the next."""
_BOUND = "\u00a0"
"""Words with this between them are never parted by the end of a line."""


@lru_cache(maxsize=4096)
def extents(text: str, font_size: int, bold: bool) -> tuple[int, int]:
    """Return width and height of a line of text in pixels."""
    width, height = CoreLabel(font_name=FONT, font_size=font_size, bold=bold).get_extents(text)
    return int(width), int(height)


@lru_cache(maxsize=2048)
def height_in_lines(text: str, font_size: int, bold: bool, width: int) -> int | None:
    """Return how high a text stands, in pixels, in lines at most so wide; None where a word is wider."""
    whole, line = extents(text, font_size, bold)
    if whole <= width:
        return line
    return _height_as_bound(text.replace(_BETWEEN, _KEPT), font_size, bold, width)


def _height_as_bound(text: str, font_size: int, bold: bool, width: int) -> int | None:
    if any(extents(word, font_size, bold)[0] > width for line in text.splitlines() for word in line.split(" ")):
        return None
    label = CoreLabel(text=text, font_name=FONT, font_size=font_size, bold=bold, text_size=(width, None))
    label.resolve_font_name()
    # Laid out, and not drawn.
    return int(label.render()[1])


@lru_cache(maxsize=2048)
def bound(text: str, font_size: int, bold: bool, width: int) -> str:
    """Return a text so bound that lines at most so wide end between its things and not within one: `block 5/9`.

    Things are what dots stand between. One that is wider than a line, or would take a line more, is parted.
    """
    parted = text.replace(_BETWEEN, _KEPT)
    if _BETWEEN not in text:
        return parted

    def kept(thing: str) -> str:
        whole = thing.replace(" ", _BOUND)
        return whole if extents(whole + _KEPT, font_size, bold)[0] <= width else thing

    lines = (_KEPT.join(kept(thing) for thing in line.split(_BETWEEN)) for line in text.splitlines())
    whole = "\n".join(lines)
    high = _height_as_bound(whole, font_size, bold, width)
    return whole if high is not None and high <= (_height_as_bound(parted, font_size, bold, width) or 0) else parted


def keeps_things_whole(text: str, font_size: int, bold: bool, width: int) -> bool:
    """Tell whether no line of a text, at most so wide, ends within one of the things that dots stand between."""
    if _BETWEEN not in text or extents(text, font_size, bold)[0] <= width:
        return True
    return bound(text, font_size, bold, width) != text.replace(_BETWEEN, _KEPT)


def height_that_shows(text: str, font_size: int, width: int) -> int:
    """Return how high a box so wide must be to show a bold text whole; 0 where no height would do."""
    high = height_in_lines(text, font_size, True, width)
    return 0 if high is None else high + 1


def size_that_fits(text: str, sizes: tuple[int, ...], bold: bool, width: int, height: int) -> int | None:
    """Return the first of these font sizes in which a text fits a box, in as many lines as it takes; None for none."""
    for size in sizes:
        high = height_in_lines(text, size, bold, width)
        if high is not None and high <= height:
            return size
    return None


@lru_cache(maxsize=128)
def words_drawn(
    text: str,
    font_size: int,
    bold: bool,
    colour: tuple[float, ...] = (1, 1, 1, 1),
    halign: str = "auto",
    width: float | None = None,
    height: float | None = None,
    padding: tuple[float, ...] = (0, 0, 0, 0),
    valign: str = "top",
) -> CoreLabel:
    """Return words drawn, with their `texture`: in one line as large as they are, or in lines of a `width`.

    With a `height` as well they are cut to one line. They can be drawn anew if the display forgets its textures.
    """
    room = None if width is None or height is not None else int(width - padding[0] - padding[2])
    label = CoreLabel(
        text=text.replace(_BETWEEN, _KEPT) if room is None else bound(text, font_size, bold, room),
        font_name=FONT,
        font_size=font_size,
        bold=bold,
        color=colour,
        halign=halign,
        valign=valign,
        padding=padding,
        text_size=(width, height),
        shorten=height is not None,
        shorten_from="right",
        split_str="",
    )
    label.refresh()
    return label


def glyph_texture(text: str, font_size: int) -> Texture:
    """Return bold white text as a texture, to be tinted where it is drawn."""
    return words_drawn(text, font_size, True).texture
