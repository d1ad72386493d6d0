"""Words that may be long: in as many lines as they need, as high as these lines."""

from __future__ import annotations

from typing import Any

from kivy.properties import NumericProperty

from companion.screens.widgets.glyphs import height_in_lines, size_that_fits
from companion.screens.widgets.words import DrawnWords


class GrowLabel(DrawnWords):
    """Text in lines of the label's width, at `wanted_size`, or at `lesser_size` where one is given (as `FitLabel`).

    It sets its own height: at least `least_height`, at most `most_height` where that is higher.
    """

    wanted_size = NumericProperty(20)
    lesser_size = NumericProperty(0)
    least_height = NumericProperty(0)
    most_height = NumericProperty(0)

    def __init__(self, **properties: Any) -> None:
        super().__init__(size_hint_y=None, **properties)
        self.bind(width=self._fit, text=self._fit, wanted_size=self._fit, lesser_size=self._fit, bold=self._fit)
        self.bind(least_height=self._fit, most_height=self._fit)
        self._fit()

    def _fit(self, *_: Any) -> None:
        room, most = int(self.width), max(self.least_height, self.most_height)
        sizes = tuple(max(int(size), 1) for size in (self.wanted_size, self.lesser_size) if size)
        size = size_that_fits(self.text, sizes, self.bold, room, most)
        self.cut = size is None and bool(self.text)
        self.font_size = size or sizes[-1]
        high = None if size is None else height_in_lines(self.text, size, self.bold, room)
        self.height = max(self.least_height, high or 0) if self.text else self.least_height
