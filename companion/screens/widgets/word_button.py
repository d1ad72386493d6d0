"""A button with words on it, as large as they fit."""

from __future__ import annotations

from typing import Any

from kivy.lang import Builder
from kivy.properties import ListProperty, NumericProperty
from kivy.uix.behaviors import ButtonBehavior

from companion.screens.look import CLEAR
from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.glyphs import height_that_shows

_WIDEST_BAND, _NARROWEST_BAND = 0.25, 0.05
"""How much of a button's height a band has."""
BESIDE_WORDS = 10
"""Pixels of a button's width that its words do not have."""


class WordButton(ButtonBehavior, FitLabel):  # type: ignore[misc]
    """A button in the colours it is given; `ground_down` while a finger is on it, `band` along its upper edge."""

    ground = ListProperty(CLEAR)
    ground_down = ListProperty(CLEAR)
    band = ListProperty(CLEAR)
    band_height = NumericProperty(0)

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        put = dict.fromkeys(("band", "size", "text", "wordings", "wanted_size"), self._put_band)
        self.bind(**put)

    def _put_band(self, *_: Any) -> None:
        """Give the band its height, and put the words beneath it: none lies on the colour of a yarn.

        The fullest wording has the room that it needs, as far as a narrow band leaves it.
        """
        if not (self.band[3] or self.band_height):
            return
        left, top, right, below = self.padding
        high = 0.0
        if self.band[3]:
            said = self.wordings[0] if self.wordings else self.text
            needed = height_that_shows(said, max(int(self.wanted_size), 1), int(self.width - left - right))
            high = self.height * _WIDEST_BAND
            high = max(min(high, self.height - needed - 2 * below), self.height * _NARROWEST_BAND)
        self.padding = [left, top - self.band_height + high, right, below]
        self.band_height = high


Builder.load_string("""
#:import rounded companion.screens.widgets.rounded
<WordButton>:
    bold: True
    halign: 'center'
    valign: 'middle'
    padding: [4, 1, 4, 1]
    canvas.before:
        Color:
            rgba: self.ground_down if self.state == 'down' else self.ground
        Rounded:
            pos: self.pos
            size: self.size
            radius: [12]
        Color:
            rgba: self.band
        Rounded:
            pos: self.x, self.top - self.band_height
            size: (self.width, self.band_height) if self.band_height else (0, 0)
            radius: [12, 12, 0, 0]
""")
