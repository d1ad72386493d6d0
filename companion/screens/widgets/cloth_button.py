"""A button with a piece of cloth on it, to point at, and a few words below."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from companion.present.fell import Picture
from companion.screens.widgets.cloth_picture import ClothPicture
from companion.screens.widgets.glyphs import size_that_fits
from companion.screens.widgets.word_button import WordButton

_MARGIN = 8
_WORDS_SHARES = (0.22, 0.34, 0.46, 0.58)
"""The shares of the height that the words may take: the least at which all of them are seen."""
_BESIDE_SHARE = 0.36
"""The share of the width that they take where they stand beside the cloth."""


class ClothButton(WordButton):
    """A `WordButton` below cloth that `draw` draws for a width and a height in pixels; None where nobody can.

    `beside`: the cloth is a strip, and the words stand to the right of it.
    """

    def __init__(
        self, draw: Callable[[float, float], Picture | None], theme: Any, beside: bool = False, **properties: Any
    ) -> None:
        self._draw_cloth = draw
        self._beside = beside
        self._cloth = ClothPicture(theme=theme)
        super().__init__(**properties)
        self.add_widget(self._cloth)
        self.bind(size=self._lay_out, pos=self._lay_out, text=self._lay_out, wanted_size=self._lay_out)
        self._lay_out()

    def _lay_out(self, *_: Any) -> None:
        width, height = self.width - 2 * _MARGIN, self._cloth_height()
        self.padding = [_MARGIN, height + _MARGIN, _MARGIN, _MARGIN / 2]
        if self._beside:
            width, height = self.width * (1 - _BESIDE_SHARE) - _MARGIN, self.height - 2 * _MARGIN
            self.padding = [width + 2 * _MARGIN, 1, _MARGIN, 1]
        self._cloth.pos = self.x + _MARGIN, self.top - _MARGIN - height
        size = max(width, 1), max(height, 1)
        if tuple(self._cloth.size) != size:
            self._cloth.size = size
            self._cloth.image = image = self._draw_cloth(*size)
            if self._beside and image is not None:
                # A strip stands in the middle of its button.
                high, wide, _ = image.pixels.shape
                spare = max(size[1] - size[0] * high / wide, 0)
                self._cloth.y = self.top - _MARGIN - size[1] - spare / 2

    def _cloth_height(self) -> float:
        """Return how high the cloth may be: as high as lets all the words be seen, where they can be."""
        heights = [float(self.height) * (1 - share) - _MARGIN for share in _WORDS_SHARES]
        if self._beside or not self.text:
            return heights[0]
        room, size = int(self.width - 2 * _MARGIN), (max(int(self.wanted_size), 1),)
        for height in heights:
            if size_that_fits(self.text, size, self.bold, room, int(self.height - height - 1.5 * _MARGIN)):
                return height
        return heights[0]
