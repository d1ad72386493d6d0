"""Cloth as one texture, each crossing drawn sharp."""

from __future__ import annotations

from typing import Any

from kivy.animation import Animation
from kivy.graphics import Color, Line, Rectangle
from kivy.graphics.texture import Texture
from kivy.properties import NumericProperty, ObjectProperty
from kivy.uix.widget import Widget

from companion.screens.look import rgba

SLIDE_S = 0.1
"""How long a pick takes to slide in: short enough not to be waited for."""


class ClothPicture(Widget):  # type: ignore[misc]
    """Shows `image`, a `Picture`, as large as fits with square texels.

    `marked_share` of the image, from `marked_from` down (0 is its top), stands in a frame of the theme's text colour:
    the pick that comes next, or the one that is spoken of.
    """

    image = ObjectProperty(None, allownone=True)
    marked_share = ObjectProperty(0.0)
    marked_from = ObjectProperty(0.0)
    theme = ObjectProperty(None, allownone=True)
    slide = NumericProperty(0.0)

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        self._texture: Texture | None = None
        self.bind(image=self._load, size=self._draw, pos=self._draw, theme=self._draw, marked_share=self._draw)
        self.bind(marked_from=self._draw, slide=self._draw)

    def slide_in(self, share: float) -> None:
        """Let the topmost `share` of the image, a pick, come in from above within `SLIDE_S`; nothing else moves."""
        Animation.cancel_all(self, "slide")
        self.slide = share
        Animation(slide=0.0, duration=SLIDE_S, transition="out_quad").start(self)

    def stop_sliding(self) -> None:
        """Leave a pick that slides in where it is by now: the next comes with the next frame, or `slide` is set."""
        Animation.cancel_all(self, "slide")

    def _load(self, *_: Any) -> None:
        if self.image is not None:
            pixels = self.image.pixels
            height, width, _ = pixels.shape
            if self._texture is None or self._texture.size != (width, height):
                self._texture = Texture.create(size=(width, height), colorfmt="rgb")
                self._texture.mag_filter = "nearest"
                self._texture.min_filter = "linear"
                self._texture.flip_vertical()
            self._texture.blit_buffer(pixels.tobytes(), colorfmt="rgb", bufferfmt="ubyte")
        self._draw()

    def across(self) -> tuple[float, float]:
        """Return where the image begins, from the left edge of the window's own, and how wide it is shown."""
        if self._texture is None:
            return self.x, 0.0
        across, down = self._texture.size
        width = across * min(self.width / across, self.height / down)
        return self.x + (self.width - width) / 2, width

    def down(self) -> tuple[float, float]:
        """Return where the image begins, from the lower edge of the window's own up to its top, and how high it is."""
        # Kivy's own `top` follows a new height only after those who draw for it.
        top = self.y + self.height
        if self._texture is None:
            return top, 0.0
        across, down = self._texture.size
        return top, down * min(self.width / across, self.height / down)

    def _draw(self, *_: Any) -> None:
        self.canvas.before.clear()
        if self.image is None or self._texture is None or self.theme is None or self.height < 2:
            return
        (left, width), (top, height) = self.across(), self.down()
        bottom = top - height
        with self.canvas.before:
            Color(1, 1, 1, 1)
            cloth = Rectangle(texture=self._texture, pos=(left, bottom), size=(width, height))
            if self.slide:
                # So much of the image still hides above its own upper edge.
                cloth.tex_coords = _lowered(self._texture.tex_coords, self.slide)
            if self.marked_share:
                marked = height * self.marked_share
                Color(*rgba(self.theme.text))
                below_top = height * self.marked_from + marked
                Line(rectangle=(left, bottom + height - below_top, width, marked), width=2)


def _lowered(corners: tuple[float, ...], share: float) -> list[float]:
    """Return the corners of a texture (u, v of each) without its topmost share; its last row is repeated."""
    return [value + share * (index % 2) for index, value in enumerate(corners)]
