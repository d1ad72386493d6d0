"""A picture that is touched: what matters is where the finger lies in it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from kivy.clock import Clock
from kivy.properties import NumericProperty, ObjectProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.label import Label

from companion.draft.model import Colour
from companion.present.asking import Sign
from companion.present.fell import Picture
from companion.screens.look import rgba
from companion.screens.theme import from_hex
from companion.screens.widgets.cloth_picture import ClothPicture


class PointedPicture(ButtonBehavior, ClothPicture):  # type: ignore[misc]
    """Shows what `draw` draws for its width, height and ground, and `signs` in it, `sign_size` high.

    `pointed` hears where it was touched, across and down, from 0 to 1.
    """

    draw = ObjectProperty(None, allownone=True)
    pointed = ObjectProperty(None, allownone=True)
    signs: tuple[Sign, ...] = ObjectProperty(())
    sign_size = NumericProperty(0)

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        # While a page is laid out its size changes more than once: it is drawn when that is over.
        draw_soon = Clock.create_trigger(self._draw_anew)
        self.bind(draw=draw_soon, size=draw_soon, theme=draw_soon)
        self.bind(image=self._put_signs, pos=self._put_signs, signs=self._put_signs, sign_size=self._put_signs)

    def on_release(self) -> None:
        """Tell where the finger was lifted."""
        self._point(float(self.last_touch.x), float(self.last_touch.y))

    def place_at(self, across: float, down: float) -> tuple[float, float]:
        """Return where this place of the picture stands in the window's own pixels."""
        left, width = self.across()
        top, height = self.down()
        return left + across * width, top - down * height

    def _point(self, x: float, y: float) -> None:
        left, width = self.across()
        top, height = self.down()
        pointed: Callable[[float, float], None] | None = self.pointed
        if pointed is not None and width > 0 and height > 0:
            pointed(min(max((x - left) / width, 0.0), 1.0), min(max((top - y) / height, 0.0), 1.0))

    def _draw_anew(self, *_: Any) -> None:
        draw: Callable[[float, float, Colour], Picture | None] | None = self.draw
        if draw is not None and self.theme is not None and self.width > 1 and self.height > 1:
            self.image = draw(self.width, self.height, Colour(*from_hex(self.theme.ground)))

    def _put_signs(self, *_: Any) -> None:
        self.clear_widgets()
        if self.theme is None:
            return
        size = self.sign_size
        put: list[tuple[float, float]] = []
        for sign in self.signs:
            x, y = self.place_at(sign.across, sign.down)
            # One that would stand on another is left out: whoever counts goes on from the one before it.
            if y + size <= self.top and all(abs(x - left) > size or abs(y - low) > size for left, low in put):
                put.append((x, y))
                label = Label(text=sign.words, font_size=size, color=rgba(self.theme.text))
                label.size = label.texture_size = (size * 2, size)
                label.center_x, label.y = x, y
                self.add_widget(label)
