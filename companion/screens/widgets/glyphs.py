"""Text measured and drawn once: at the loom the same few words come back at every pick."""

from __future__ import annotations

from functools import lru_cache

from kivy.core.text import Label as CoreLabel
from kivy.graphics.texture import Texture

FONT = "Roboto"


@lru_cache(maxsize=4096)
def extents(text: str, font_size: int, bold: bool) -> tuple[int, int]:
    """Return width and height of a line of text in pixels."""
    width, height = CoreLabel(font_name=FONT, font_size=font_size, bold=bold).get_extents(text)
    return int(width), int(height)


@lru_cache(maxsize=1024)
def wrapped_height(text: str, font_size: int, bold: bool, width: int) -> int:
    """Return how high a text stands, in pixels, in lines that are at most so wide; a word too long is broken."""
    label = CoreLabel(text=text, font_name=FONT, font_size=font_size, bold=bold, text_size=(width, None))
    label.refresh()
    return int(label.texture.height)


@lru_cache(maxsize=512)
def glyph_texture(text: str, font_size: int) -> Texture:
    """Return bold white text as a texture, to be tinted where it is drawn."""
    label = CoreLabel(text=text, font_name=FONT, font_size=font_size, bold=True)
    label.refresh()
    return label.texture
