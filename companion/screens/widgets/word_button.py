"""A button with words on it, as large as they fit."""

from __future__ import annotations

from kivy.lang import Builder
from kivy.properties import ListProperty
from kivy.uix.behaviors import ButtonBehavior

from companion.screens.look import CLEAR
from companion.screens.widgets.fit_label import FitLabel

BESIDE_WORDS = 10
"""Pixels of a button's width that its words do not have."""


class WordButton(ButtonBehavior, FitLabel):  # type: ignore[misc]
    """A button in the colours it is given; `ground_down` while a finger is on it, `band` along its upper edge."""

    ground = ListProperty(CLEAR)
    ground_down = ListProperty(CLEAR)
    band = ListProperty(CLEAR)


Builder.load_string("""
#:import rounded companion.screens.widgets.rounded
#:import covered companion.screens.look.covered
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
            pos: self.x, self.top - self.height / 4
            size: covered((self.width, self.height / 4), self.band)
            radius: [12, 12, 0, 0]
""")
