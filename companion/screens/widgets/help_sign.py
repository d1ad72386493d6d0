"""The sign that opens the help of a page: a question mark at the same place on every page."""

from __future__ import annotations

from typing import Any

from companion.screens.look import Look
from companion.screens.theme import Sizes
from companion.screens.widgets.word_button import WordButton

HELP = "?"


class HelpSign(WordButton):
    """Lies in an upper corner of the window: far from what says "next", on the side of the hand that touches."""

    def __init__(self) -> None:
        super().__init__(text=HELP, size_hint=(None, None))
        self._gap, self._mirrored = 0.0, False

    def wear(self, look: Look, sizes: Sizes, mirrored: bool) -> None:
        """Take on the looks of the window and the corner of the hand."""
        self.wanted_size = sizes.title
        self.ground, self.ground_down, self.color = look.button, look.button_down, look.text
        self.size = (sizes.help, sizes.help)
        self._gap, self._mirrored = sizes.gap, mirrored

    def stay_in(self, ground: Any) -> None:
        """Lie in the corner of this widget."""
        self.x = ground.x + self._gap if self._mirrored else ground.right - self._gap - self.width
        self.top = ground.top - self._gap
