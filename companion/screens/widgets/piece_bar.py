"""The whole piece as a bar: its sections, and how far it is woven."""

from __future__ import annotations

from typing import Any

from kivy.graphics import Color, Rectangle
from kivy.properties import ListProperty, NumericProperty, ObjectProperty
from kivy.uix.widget import Widget

from companion.screens.look import rgba


class PieceBar(Widget):  # type: ignore[misc]
    """Draws the sections, given as shares of the piece that add up to 1, as thin bars, and the woven share as thick."""

    shares = ListProperty([1.0])
    done = NumericProperty(0.0)
    theme = ObjectProperty(None, allownone=True)

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        self.bind(size=self._draw, pos=self._draw, shares=self._draw, done=self._draw, theme=self._draw)

    def _draw(self, *_: Any) -> None:
        self.canvas.clear()
        if self.theme is None:
            return
        with self.canvas:
            start = 0.0
            for share in self.shares:
                left, width = self.x + start * self.width, max(share * self.width - 3, 1)
                Color(*rgba(self.theme.line))
                Rectangle(pos=(left, self.y + self.height * 0.4), size=(width, self.height * 0.2))
                woven = min(max(self.done - start, 0.0), share) / share if share else 0.0
                Color(*rgba(self.theme.text))
                Rectangle(pos=(left, self.y + self.height * 0.1), size=(width * woven, self.height * 0.8))
                start += share
