"""A button with a small drawing beside its words, or above them, where there is room; words never give way to it."""

from __future__ import annotations

from typing import Any

from kivy.graphics import Color
from kivy.properties import BooleanProperty, NumericProperty

from companion.present.loom_drawing import ACROSS, Shape
from companion.screens.widgets.glyphs import extents
from companion.screens.widgets.shapes import draw_shapes
from companion.screens.widgets.word_button import WordButton

_MARGIN = 4
_LARGE = 1.45
"""The side of the drawing, in sizes of the words."""
_LINE = 1.3
"""The height of a line of words, in their size."""


class IconButton(WordButton):
    """A `WordButton` with `icon` beside its words, in their colour; `icon_shown` tells whether it found room.

    `widest` is how wide the words of the widest of its kind on the page are, so that all have their drawing alike.
    """

    icon_shown = BooleanProperty(False)
    widest = NumericProperty(0)

    def __init__(self, icon: tuple[Shape, ...], **properties: Any) -> None:
        self._icon = icon
        super().__init__(**properties)
        self.bind(size=self._place, pos=self._place, text=self._place, wanted_size=self._place, color=self._place)
        self.bind(widest=self._place)
        self._place()

    def _place(self, *_: Any) -> None:
        side = self.wanted_size * _LARGE
        words = extents(self.text, int(self.wanted_size), True)[0] if self.text else 0
        widest = max(words, self.widest)
        beside = side + widest + 5 * _MARGIN <= self.width and side <= self.height
        above = widest + 2 * _MARGIN <= self.width and side + self.wanted_size * _LINE + 3 * _MARGIN <= self.height
        self.icon_shown = bool(words) and (beside or above)
        if not self.icon_shown:
            self.padding = [_MARGIN, 1, _MARGIN, 1]
        elif beside:
            self.padding = [side + 2 * _MARGIN, 1, _MARGIN, 1]
        else:
            self.padding = [_MARGIN, side + 2 * _MARGIN, _MARGIN, 1]
        self.canvas.after.clear()
        if self.icon_shown:
            left, low = self.x + (self.width - side - words) / 2 - _MARGIN, self.center_y - side / 2
            if not beside:
                left, low = self.center_x - side / 2, self.center_y + (self.wanted_size * _LINE - side) / 2
            with self.canvas.after:
                Color(*self.color)
                draw_shapes(self._icon, left, low, side / ACROSS)
