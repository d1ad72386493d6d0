"""A line of text that is as large as wanted, or as large as fits, and never clipped."""

from __future__ import annotations

from typing import Any

from kivy.properties import NumericProperty
from kivy.uix.label import Label

from companion.screens.widgets.glyphs import extents


class FitLabel(Label):  # type: ignore[misc]
    """A one-line label that shrinks from `wanted_size` (pixels) until the text fits its box."""

    wanted_size = NumericProperty(20)

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        self.bind(size=self._fit, text=self._fit, wanted_size=self._fit, bold=self._fit, padding=self._fit)
        self._fit()

    def _fit(self, *_: Any) -> None:
        self.text_size = self.size
        room_x = self.width - self.padding[0] - self.padding[2]
        room_y = self.height - self.padding[1] - self.padding[3]
        size = max(int(self.wanted_size), 1)
        width, height = extents(self.text, size, self.bold)
        shrink = min(1.0, room_x / max(width, 1), room_y / max(height, 1))
        size = max(int(size * shrink), 1)
        # Glyphs are hinted to whole pixels, so text does not shrink exactly as its font does.
        while size > 1 and extents(self.text, size, self.bold)[0] > room_x:
            size -= 1
        self.font_size = size
