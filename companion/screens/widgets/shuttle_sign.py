"""The shuttle of this pick: a boat in the yarn's colour, lying on the side it is thrown from.

Where nobody knows that side, a boat lies on either, to be touched where the weaver sees it.
"""

from __future__ import annotations

from typing import Any

from kivy.graphics import Color, Line, Mesh, Rectangle
from kivy.properties import BooleanProperty, ListProperty, ObjectProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.widget import Widget

from companion.screens.look import rgba


class ShuttleSign(ButtonBehavior, Widget):  # type: ignore[misc]
    """Draws the boat, when `shown`, at the left or the right end of its box, with an arrow for the way it goes.

    `laid_in`: a stick in its place, which comes from no side. `asked`: only its outline, in a frame; it is a button
    then, and no arrow says what nobody knows.
    """

    colour = ListProperty([1, 1, 1])
    from_left = BooleanProperty(True)
    shown = BooleanProperty(True)
    asked = BooleanProperty(False)
    laid_in = BooleanProperty(False)
    theme = ObjectProperty(None, allownone=True)

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        self.bind(size=self._draw, pos=self._draw, colour=self._draw, from_left=self._draw, theme=self._draw)
        self.bind(shown=self._draw, asked=self._draw, laid_in=self._draw)

    def on_touch_down(self, touch: Any) -> bool:
        """Take a touch only where the boat is a button."""
        return bool(self.asked and super().on_touch_down(touch))

    def _draw(self, *_: Any) -> None:
        self.canvas.clear()
        if self.theme is None or not self.shown or self.width < 10:
            return
        middle = self.center_y
        if self.laid_in:
            self._draw_stick(middle)
            return
        arrow = min(self.height * 0.5, self.width * 0.25)
        length = min(self.width * 0.66, self.height * 1.9)
        half = min(self.height * 0.4, length * 0.32)
        way = 1 if self.from_left else -1
        tail = self.x + 2 if self.from_left else self.right - 2
        nose = tail + way * length
        hull = (
            (tail, middle),
            (tail + way * length * 0.22, middle + half),
            (nose - way * length * 0.22, middle + half),
            (nose, middle),
            (nose - way * length * 0.22, middle - half),
            (tail + way * length * 0.22, middle - half),
        )
        with self.canvas:
            if self.asked:
                Color(*self.colour[:3], 0.55)
                Mesh(vertices=[value for x, y in hull for value in (x, y, 0, 0)], indices=range(6), mode="triangle_fan")
                Color(*rgba(self.theme.text))
                Line(points=[value for point in hull for value in point], close=True, width=1.6)
                Line(rounded_rectangle=(self.x + 2, self.y + 2, self.width - 4, self.height - 4, 12), width=1.4)
                return
            Color(*self.colour)
            Mesh(vertices=[value for x, y in hull for value in (x, y, 0, 0)], indices=range(6), mode="triangle_fan")
            Color(*rgba(self.theme.text))
            Line(points=[value for point in hull for value in point], close=True, width=1.6)
            start, tip = nose + way * arrow * 0.3, nose + way * arrow * 1.3
            head = arrow * 0.4
            Line(points=(start, middle, tip, middle), width=3)
            Line(points=(tip - way * head, middle + head, tip, middle, tip - way * head, middle - head), width=3)

    def _draw_stick(self, middle: float) -> None:
        thick, length = self.height * 0.18, self.width * 0.86
        box = (self.center_x - length / 2, middle - thick / 2, length, thick)
        with self.canvas:
            Color(*self.colour)
            Rectangle(pos=box[:2], size=box[2:])
            Color(*rgba(self.theme.text))
            Line(rectangle=box, width=1.6)
