"""Words in a box: drawn as small as they are, once for all boxes that say the same."""

from __future__ import annotations

from typing import Any

from kivy.clock import Clock
from kivy.lang import Builder
from kivy.properties import (
    BooleanProperty,
    ColorProperty,
    ListProperty,
    NumericProperty,
    ObjectProperty,
    StringProperty,
    VariableListProperty,
)
from kivy.uix.widget import Widget

from companion.screens.widgets.glyphs import extents, words_drawn


class DrawnWords(Widget):  # type: ignore[misc]
    """Shows `text` at `font_size` (pixels) in one line, or in lines of the box's width where it is longer.

    `halign` (left, center, right), `valign` (top, middle, bottom) and `padding` (left, top, right, bottom) place the
    words in the box. Where they are `cut` they stand in one line that ends in dots.

    A label of Kivy's draws its whole box, though most of it is empty; here only the words are drawn, at `words_pos`.
    """

    text = StringProperty("")
    font_size = NumericProperty(20)
    bold = BooleanProperty(False)
    color = ColorProperty((1, 1, 1, 1))
    halign = StringProperty("left")
    valign = StringProperty("bottom")
    padding = VariableListProperty([0, 0, 0, 0])
    cut = BooleanProperty(False)
    texture = ObjectProperty(None, allownone=True)
    texture_size = ListProperty([0, 0])
    words_pos = ListProperty([0, 0])

    def __init__(self, **properties: Any) -> None:
        self._draw_soon = Clock.create_trigger(self._draw_words, -1)
        super().__init__(**properties)
        for name in ("text", "font_size", "bold", "color", "halign", "valign", "padding", "cut", "size"):
            self.fbind(name, self._draw_soon)
        self.fbind("pos", self._put_words)
        self._draw_soon()

    def _draw_words(self, *_: Any) -> None:
        """Show the words as they were drawn when they last stood somewhere, or draw them."""
        if not self.text:
            self.texture, self.texture_size = None, (0, 0)
        else:
            left, _above, right, _below = self.padding
            size, kind = int(self.font_size), (self.bold, tuple(self.color), self.halign)
            if self.cut:
                # A box may be too low for even one line.
                drawn = words_drawn(self.text, size, *kind, self.width, self.height, tuple(self.padding), self.valign)
            elif self._in_one_line():
                drawn = words_drawn(self.text, size, *kind)
            else:
                drawn = words_drawn(self.text, size, *kind, self.width, None, (left, 0, right, 0))
            self.texture, self.texture_size = drawn.texture, drawn.texture.size
        self._put_words()

    def _in_one_line(self) -> bool:
        wide, _ = extents(self.text, int(self.font_size), self.bold)
        return "\n" not in self.text and wide <= int(self.width - self.padding[0] - self.padding[2])

    def _put_words(self, *_: Any) -> None:
        """Put the words where they would stand in a picture of the whole box, to the pixel."""
        box_width, box_height = int(self.width), int(self.height)
        # Not its middle: Kivy brings that up to date only after those who listen to the position.
        x, y = int(self.x + (self.width - box_width) / 2), int(self.y + (self.height - box_height) / 2)
        if not self.cut:
            left, above, right, below = self.padding
            wide, high = self.texture_size
            room = box_height - high
            middle = int((room + above - below) / 2)
            y += room - {"top": int(above), "bottom": int(room - below)}.get(self.valign, middle)
            if self._in_one_line():
                room = box_width - wide
                middle = min(int(room), max(int(left), int((room + left - right) / 2)))
                x += {"center": middle, "right": max(0, int(room - right))}.get(self.halign, int(left))
        self.words_pos = x, y


Builder.load_string("""
<DrawnWords>:
    canvas:
        Color:
            rgba: 1, 1, 1, 1
        Rectangle:
            texture: self.texture
            size: self.texture_size
            pos: self.words_pos
""")
