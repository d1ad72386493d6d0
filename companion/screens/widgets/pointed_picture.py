"""A picture that is touched: what matters is where the finger lies across it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from kivy.properties import ObjectProperty
from kivy.uix.behaviors import ButtonBehavior

from companion.present.fell import Picture
from companion.screens.widgets.cloth_picture import ClothPicture


class PointedPicture(ButtonBehavior, ClothPicture):  # type: ignore[misc]
    """Shows what `draw` draws for its width and height; `pointed` hears where it was touched, from 0 to 1 across."""

    draw = ObjectProperty(None, allownone=True)
    pointed = ObjectProperty(None, allownone=True)

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        self.bind(draw=self._draw_anew, size=self._draw_anew)

    def on_release(self) -> None:
        """Tell where the finger was lifted."""
        self._point(float(self.last_touch.x))

    def point(self, share: float) -> None:
        """Touch it there."""
        left, width = self.across()
        self._point(left + share * width)

    def _point(self, x: float) -> None:
        left, width = self.across()
        pointed: Callable[[float], None] | None = self.pointed
        if pointed is not None and width > 0:
            pointed(min(max((x - left) / width, 0.0), 1.0))

    def _draw_anew(self, *_: Any) -> None:
        draw: Callable[[float, float], Picture | None] | None = self.draw
        if draw is not None and self.width > 1 and self.height > 1:
            self.image = draw(self.width, self.height)
