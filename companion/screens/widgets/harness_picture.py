"""The loom from the bench: treadles with the feet on them, their ties, and the shed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from kivy.graphics import Canvas, Color, Line, Rectangle
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
        self._place: tuple[Any, ...] | None = None
        self._parts: list[Canvas] = []
        self._drawn: list[tuple[Any, ...] | None] = []
        super().__init__(**properties)
        self.bind(size=self._draw, pos=self._draw, signs=self._draw, theme=self._draw)
        self.bind(wrong=self._draw, missing=self._draw, feet_right=self._draw)

    def _draw(self, *_: Any) -> None:
        """Draw what looks otherwise than when it was last drawn: of most picks two treadles and a few shafts."""
        signs, theme = self.signs, self.theme
        if signs is None or theme is None or self.width < 10 or self.height < 10:
            self._forget()
            return
        place = (*self.pos, *self.size, signs.shafts, len(signs.ties), theme)
        if place != self._place:
            self._forget()
            self._place = place
            self._layout = harness_layout(Box(self.x, self.y, self.width, self.height), signs.shafts, len(signs.ties))
            with self.canvas:
                self._parts = [Canvas() for _ in range(2 * len(signs.ties) + signs.shafts)]
            self._drawn = [None] * len(self._parts)
        parts = iter(range(len(self._parts)))
        for treadle in range(len(signs.ties)):
            pressed = treadle in signs.left or treadle in signs.right
            self._put(next(parts), self._ties, treadle, signs.ties[treadle], pressed)
        for treadle in range(len(signs.ties)):
            felt = treadle in self.wrong, treadle in self.missing, self.feet_right
            self._put(next(parts), self._pedal, treadle, self._foot_on(treadle), *felt)
        for shaft in range(signs.shafts):
            self._put(next(parts), self._shaft, shaft, signs.raised[shaft])

    def _forget(self) -> None:
        self.canvas.clear()
        self._place, self._parts, self._drawn = None, [], []

    def _put(self, part: int, draw: Callable[..., None], *looks: Any) -> None:
        if self._drawn[part] != looks:
            self._drawn[part] = looks
            self._parts[part].clear()
            with self._parts[part]:
                draw(*looks)

    def _foot_on(self, treadle: int) -> tuple[bool, str] | None:
        """Return whether it is the right foot that presses a treadle, and the letter of that foot."""
        signs = self.signs
        if treadle in signs.left:
            return False, signs.left_letter
        return (True, signs.right_letter) if treadle in signs.right else None

    def _ties(self, treadle: int, directions: tuple[int, ...], pressed: bool) -> None:
        for box, direction in zip(self._layout.ties[treadle], directions, strict=True):
            self._tie(box, direction, pressed)

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

    def _pedal(self, treadle: int, foot: tuple[bool, str] | None, wrong: bool, missing: bool, right: bool) -> None:
        theme, box = self.theme, self._layout.pedals[treadle]
        on_right, letter = foot or (False, "")
        ground, ink = theme.button, theme.text
        if foot is not None:
            ground, ink = theme.right_foot if on_right else theme.left_foot, theme.on_foot
        Color(*rgba(ground))
        # Each foot's treadles have their own outline: round at the outer toes, square at the inner.
        round_, square = box.width * _TOES if letter else box.width * 0.25, box.width * (0.08 if letter else 0.25)
        corners = (square, round_, round_, square) if on_right else (round_, square, square, round_)
        Rounded(pos=box[:2], size=box[2:], radius=corners)
        half = box.height / 2
        if letter:
            self._text(letter, ink, Box(box.x, box.y + half, box.width, half))
            self._text(str(treadle + 1), ink, Box(box.x, box.y, box.width, half))
        else:
            self._text(str(treadle + 1), ink, box)
        if wrong:
            self._cross(box)
        if missing:
            self._warn(box, rectangle=box)
        if right and letter:
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

    def _shaft(self, shaft: int, raised: bool) -> None:
        theme, box = self.theme, self._layout.shafts[shaft]
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
