"""A button with a small drawing before its words, where there is room for both; the words never give way to it."""

from __future__ import annotations

from typing import Any

from kivy.graphics import Color
from kivy.properties import BooleanProperty

from companion.present.loom_drawing import ACROSS, Shape
from companion.screens.widgets.glyphs import extents
from companion.screens.widgets.shapes import draw_shapes
from companion.screens.widgets.word_button import WordButton

_MARGIN = 4
_LARGE = 1.45
"""The side of the drawing, in sizes of the words."""


class IconButton(WordButton):
    """A `WordButton` with `icon` before its words, in their colour; `icon_shown` tells whether it found room."""

    icon_shown = BooleanProperty(False)

    def __init__(self, icon: tuple[Shape, ...], **properties: Any) -> None:
        self._icon = icon
        super().__init__(**properties)
        self.bind(size=self._place, pos=self._place, text=self._place, wanted_size=self._place, color=self._place)
        self._place()

    def _place(self, *_: Any) -> None:
        side = self.wanted_size * _LARGE
        words = extents(self.text, int(self.wanted_size), True)[0] if self.text else 0
        needed = side + words + 5 * _MARGIN
        self.icon_shown = bool(words) and needed <= self.width and side <= self.height
        self.padding = [side + 2 * _MARGIN if self.icon_shown else _MARGIN, 1, _MARGIN, 1]
        self.canvas.after.clear()
        if self.icon_shown:
            left = self.x + (self.width - side - words) / 2 - _MARGIN
            with self.canvas.after:
                Color(*self.color)
                draw_shapes(self._icon, left, self.center_y - side / 2, side / ACROSS)
