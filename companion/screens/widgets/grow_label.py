"""Words that may be long: in as many lines as they need, as large as wanted, or as large as fits."""

from __future__ import annotations

from bisect import bisect_left
from typing import Any

from kivy.properties import NumericProperty
from kivy.uix.label import Label

from companion.screens.widgets.glyphs import extents, wrapped_height


class GrowLabel(Label):  # type: ignore[misc]
    """Text in lines of the label's width, at `wanted_size` (pixels) or the largest that fits.

    It sets its own height: at least `least_height`, at most `most_height` where that is higher.
    """

    wanted_size = NumericProperty(20)
    least_height = NumericProperty(0)
    most_height = NumericProperty(0)

    def __init__(self, **properties: Any) -> None:
        super().__init__(size_hint_y=None, **properties)
        self.bind(width=self._fit, text=self._fit, wanted_size=self._fit, bold=self._fit)
        self.bind(least_height=self._fit, most_height=self._fit)
        self._fit()

    def _fit(self, *_: Any) -> None:
        room, most = int(self.width), max(self.least_height, self.most_height)
        # Smaller letters never stand higher: halving the sizes left measures few of them.
        sizes = range(max(int(self.wanted_size), 1), 0, -1)
        first = bisect_left(sizes, True, key=lambda size: self._height_at(size, room) <= most)
        size = sizes[min(first, len(sizes) - 1)]
        self.font_size = size
        self.height = max(self.least_height, min(self._height_at(size, room), most)) if self.text else self.least_height
        self.text_size = (room, self.height)

    def _height_at(self, size: int, room: int) -> int:
        width, height = extents(self.text, size, self.bold)
        return height if width <= room else wrapped_height(self.text, size, self.bold, room)
