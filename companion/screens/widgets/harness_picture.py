"""The loom from the bench: treadles with the feet on them, their ties, and the shed."""

from __future__ import annotations

from typing import Any

from kivy.graphics import Color, Line, Rectangle
from kivy.properties import BooleanProperty, ListProperty, ObjectProperty
from kivy.uix.widget import Widget

from companion.present.harness import Box, harness_layout
from companion.screens.look import rgba
from companion.screens.widgets.glyphs import glyph_texture
from companion.screens.widgets.rounded import Rounded

_TOES = 0.5
"""How round a pressed treadle is on the outer side of its foot, in shares of its width."""

_STROKE = 0.06
"""How thick the lines are that judge a treadle, in shares of its width."""
_TO_HEIGHT = 1.15
"""How large letters are to the height of their box: digits and capitals are 0.71 of their size high, and fill it."""


class HarnessPicture(Widget):  # type: ignore[misc]
    """Draws `signs` (a `HarnessSigns`) in the colours of `theme`; draws nothing until it has both.

    Where sensors feel the feet: `wrong` treadles are crossed out, `missing` ones framed; with `feet_right` those under
    the feet are framed in the colour of the text.
    """

    wrong = ListProperty([])
    missing = ListProperty([])
    feet_right = BooleanProperty(False)
    signs = ObjectProperty(None, allownone=True)
    theme = ObjectProperty(None, allownone=True)

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        self.bind(size=self._draw, pos=self._draw, signs=self._draw, theme=self._draw)
        self.bind(wrong=self._draw, missing=self._draw, feet_right=self._draw)

    def _draw(self, *_: Any) -> None:
        self.canvas.clear()
        signs, theme = self.signs, self.theme
        if signs is None or theme is None or self.width < 10 or self.height < 10:
            return
        layout = harness_layout(Box(self.x, self.y, self.width, self.height), signs.shafts, len(signs.ties))
        with self.canvas:
            for treadle, boxes in enumerate(layout.ties):
                pressed = treadle in signs.left or treadle in signs.right
                for shaft, box in enumerate(boxes):
                    self._tie(box, signs.ties[treadle][shaft], pressed)
            for treadle, box in enumerate(layout.pedals):
                self._pedal(box, treadle)
            for shaft, box in enumerate(layout.shafts):
                self._shaft(box, shaft, signs.raised[shaft])

    def _tie(self, box: Box, direction: int, pressed: bool) -> None:
        colour = self.theme.text if pressed else self.theme.line
        Color(*rgba(colour))
        if direction == 0:
            Line(rectangle=box, width=1)
        elif direction > 0:
            Rectangle(pos=box[:2], size=box[2:])
        else:
            Line(rectangle=box, width=1)
            Line(points=(box.x, box.y, box.x + box.width, box.y + box.height), width=1.5)
            Line(points=(box.x, box.y + box.height, box.x + box.width, box.y), width=1.5)

    def _pedal(self, box: Box, treadle: int) -> None:
        theme = self.theme
        ground, ink, letter = theme.button, theme.text, ""
        if treadle in self.signs.left:
            ground, ink, letter = theme.left_foot, theme.on_foot, self.signs.left_letter
        elif treadle in self.signs.right:
            ground, ink, letter = theme.right_foot, theme.on_foot, self.signs.right_letter
        Color(*rgba(ground))
        # Each foot's treadles have their own outline: round at the outer toes, square at the inner.
        round_, square = box.width * _TOES if letter else box.width * 0.25, box.width * (0.08 if letter else 0.25)
        corners = (square, round_, round_, square) if treadle in self.signs.right else (round_, square, square, round_)
        Rounded(pos=box[:2], size=box[2:], radius=corners)
        half = box.height / 2
        if letter:
            self._text(letter, ink, Box(box.x, box.y + half, box.width, half))
            self._text(str(treadle + 1), ink, Box(box.x, box.y, box.width, half))
        else:
            self._text(str(treadle + 1), ink, box)
        if treadle in self.wrong:
            self._cross(box)
        if treadle in self.missing:
            self._warn(box, rectangle=box)
        if self.feet_right and letter:
            Color(*rgba(theme.text))
            Line(rectangle=box, width=max(box.width * _STROKE, 3))

    def _cross(self, box: Box) -> None:
        self._warn(box, points=(box.x, box.y, box.x + box.width, box.y + box.height))
        self._warn(box, points=(box.x, box.y + box.height, box.x + box.width, box.y))

    def _warn(self, box: Box, **line: Any) -> None:
        """Draw a line of warning that is seen on any ground: dark with bright within."""
        width = max(box.width * _STROKE, 3)
        for colour, share in ((self.theme.on_warning, 1.7), (self.theme.warning, 1.0)):
            Color(*rgba(colour))
            Line(width=width * share, **line)

    def _shaft(self, box: Box, shaft: int, raised: bool) -> None:
        theme = self.theme
        Color(*rgba(theme.text if raised else theme.button))
        Rectangle(pos=box[:2], size=box[2:])
        self._text(str(shaft + 1), theme.ground if raised else theme.quiet_text, box)

    def _text(self, text: str, colour: str, box: Box) -> None:
        size = int(min(box.height * _TO_HEIGHT, box.width * (1.1 if len(text) < 2 else 0.8)))
        if size < 6:
            return
        texture = glyph_texture(text, size)
        width, height = texture.size
        Color(*rgba(colour))
        Rectangle(
            texture=texture,
            pos=(box.x + (box.width - width) / 2, box.y + (box.height - height) / 2),
            size=(width, height),
        )
