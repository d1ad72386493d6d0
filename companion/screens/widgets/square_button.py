"""A square of a gamp as a button: its picture, a star in the corner, and lines there where words were written to it."""

from __future__ import annotations

from math import cos, pi, sin
from typing import Any

from kivy.graphics import Color, Ellipse, Line, Mesh

from companion.present.fell import Picture
from companion.present.square_table import SquareSeen
from companion.screens.look import Look
from companion.screens.widgets.cloth_picture import ClothPicture
from companion.screens.widgets.word_button import WordButton

_MARGIN = 5
_SIGN_SHARE = 0.3
"""The share of the shorter side that a sign takes."""
_POINTS = 5
_INNER = 0.45
"""How far in the corners between the points of a star lie."""


class SquareButton(WordButton):
    """Shows `square` as `picture`; signs in its corners tell a star and words, whatever lies under them."""

    def __init__(self, square: SquareSeen, picture: Picture, look: Look, **properties: Any) -> None:
        self.square = square
        self._look = look
        self._cloth = ClothPicture(theme=look.theme)
        self._cloth.image = picture
        super().__init__(ground=look.button, ground_down=look.button_down, **properties)
        self.add_widget(self._cloth)
        self.bind(size=self._lay_out, pos=self._lay_out)
        self._lay_out()

    def _lay_out(self, *_: Any) -> None:
        self._cloth.pos = self.x + _MARGIN, self.y + _MARGIN
        self._cloth.size = max(self.width - 2 * _MARGIN, 1), max(self.height - 2 * _MARGIN, 1)
        self.canvas.after.clear()
        across = min(self.width, self.height) * _SIGN_SHARE
        if self.square.starred:
            self._disc(self.right - across / 2 - _MARGIN, self.top - across / 2 - _MARGIN, across)
            self._star(self.right - across / 2 - _MARGIN, self.top - across / 2 - _MARGIN, across * 0.46)
        if self.square.text:
            self._disc(self.x + across / 2 + _MARGIN, self.top - across / 2 - _MARGIN, across)
            self._lines(self.x + across / 2 + _MARGIN, self.top - across / 2 - _MARGIN, across * 0.26)

    def _disc(self, x: float, y: float, across: float) -> None:
        with self.canvas.after:
            Color(*self._look.on_foot)
            Ellipse(pos=(x - across / 2, y - across / 2), size=(across, across))

    def _star(self, x: float, y: float, radius: float) -> None:
        corners = []
        for turn in range(2 * _POINTS):
            far = radius if turn % 2 == 0 else radius * _INNER
            angle = pi / 2 + turn * pi / _POINTS
            corners += [x + far * cos(angle), y + far * sin(angle), 0, 0]
        with self.canvas.after:
            Color(*self._look.warning)
            Mesh(vertices=[x, y, 0, 0, *corners, *corners[:4]], indices=range(2 * _POINTS + 2), mode="triangle_fan")

    def _lines(self, x: float, y: float, half: float) -> None:
        with self.canvas.after:
            Color(*self._look.warning)
            for line in (-1, 0, 1):
                height = y + line * half * 0.8
                Line(points=(x - half, height, x + half, height), width=1.2)
