"""One square of a tie-up to be touched: filled where a shaft is tied up, crossed where down, empty for no cord."""

from __future__ import annotations

from typing import Any

from kivy.graphics import Color, Line, Rectangle
from kivy.properties import NumericProperty, ObjectProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.widget import Widget

from companion.screens.look import rgba

_CROSS_INSET = 0.2


class TieSquareButton(ButtonBehavior, Widget):  # type: ignore[misc]
    """Draws `way` (1 up, -1 down, 0 no cord) in the colours of `look`; the marks are those of the harness picture."""

    way = NumericProperty(0)
    look = ObjectProperty(None)

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        self.bind(pos=self._draw, size=self._draw, way=self._draw, state=self._draw)
        self._draw()

    def _draw(self, *_: Any) -> None:
        look = self.look
        self.canvas.clear()
        with self.canvas:
            Color(*(look.button_down if self.state == "down" else look.text if self.way > 0 else look.button))
            Rectangle(pos=self.pos, size=self.size)
            Color(*rgba(look.theme.line))
            Line(rectangle=(self.x, self.y, self.width, self.height), width=1)
            if self.way < 0:
                inset = self.width * _CROSS_INSET
                left, right = self.x + inset, self.right - inset
                bottom, top = self.y + inset, self.top - inset
                Color(*look.text)
                Line(points=(left, bottom, right, top), width=3)
                Line(points=(left, top, right, bottom), width=3)
