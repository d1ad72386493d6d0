"""A button with a piece of cloth on it, to point at, and a few words below."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from companion.present.fell import Picture
from companion.screens.widgets.cloth_picture import ClothPicture
from companion.screens.widgets.word_button import WordButton

_MARGIN = 8
_WORDS_SHARE = 0.22
"""The share of the height that the words take."""


class ClothButton(WordButton):
    """A `WordButton` below cloth that `draw` draws for a width and a height in pixels; None where nobody can."""

    def __init__(self, draw: Callable[[float, float], Picture | None], theme: Any, **properties: Any) -> None:
        self._draw_cloth = draw
        self._cloth = ClothPicture(theme=theme)
        super().__init__(**properties)
        self.add_widget(self._cloth)
        self.bind(size=self._lay_out, pos=self._lay_out)
        self._lay_out()

    def _lay_out(self, *_: Any) -> None:
        height = self.height * (1 - _WORDS_SHARE) - _MARGIN
        self.padding = [_MARGIN, height + _MARGIN, _MARGIN, _MARGIN / 2]
        self._cloth.pos = self.x + _MARGIN, self.top - _MARGIN - height
        size = max(self.width - 2 * _MARGIN, 1), max(height, 1)
        if tuple(self._cloth.size) != size:
            self._cloth.size = size
            self._cloth.image = self._draw_cloth(*size)
