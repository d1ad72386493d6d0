"""A button with a picture on its left or on top, its name beside it and what more there is to say below the name."""

from __future__ import annotations

from typing import Any

from kivy.graphics import Color
from kivy.properties import ObjectProperty

from companion.present.loom_drawing import ACROSS
from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.glyphs import extents
from companion.screens.widgets.shapes import draw_shapes
from companion.screens.widgets.word_button import WordButton

_MARGIN = 8
_MOST_SHARE = 0.34
"""The picture takes no more of the width than this."""
_DETAIL_SHARE = 0.64
"""The share of the height that what stands below the name takes."""
_ROUNDING = 0.1
"""So many pixels more than a line has, lest a sum a little below a whole number costs it one."""


class DrawnButton(WordButton):
    """A `WordButton` that shows `shapes`, in the colour of its words."""

    shapes = ObjectProperty(())

    def __init__(self, detail: str, shapes: Any, **properties: Any) -> None:
        self._detail = FitLabel(text=detail, halign="left", valign="middle")
        super().__init__(halign="left", shapes=shapes, **properties)
        self.add_widget(self._detail)
        self.bind(size=self._lay_out, pos=self._lay_out, color=self._lay_out, wanted_size=self._lay_out)
        self._lay_out()

    def _lay_out(self, *_: Any) -> None:
        on_top = self.height > self.width / 2
        side = min(self.width, self.height * 0.36) if on_top else min(self.height, self.width * _MOST_SHARE)
        side = max(side - 2 * _MARGIN, 1)
        beside, above = (_MARGIN, side + _MARGIN) if on_top else (side + 3 * _MARGIN, _MARGIN / 2)
        # In a low button the name keeps its line, and what stands below it the rest.
        line = extents(self.text, int(self.wanted_size), True)[1]
        below = min((self.height - above) * _DETAIL_SHARE, self.height - above - line - _ROUNDING)
        self.padding = [beside, above, _MARGIN, below]
        self._detail.pos = self.x + beside, self.y + _MARGIN / 2
        self._detail.size = self.width - beside - _MARGIN, below
        self._detail.color, self._detail.wanted_size = self.color, self.wanted_size
        left = self.center_x - side / 2 if on_top else self.x + _MARGIN
        bottom = self.top - _MARGIN - side if on_top else self.center_y - side / 2
        self._draw(left, bottom, side / ACROSS)

    def _draw(self, left: float, bottom: float, unit: float) -> None:
        self.canvas.after.clear()
        with self.canvas.after:
            Color(*self.color)
            draw_shapes(self.shapes, left, bottom, unit)
