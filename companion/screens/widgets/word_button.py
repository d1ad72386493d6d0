"""A button with words on it, as large as they fit."""

from __future__ import annotations

from collections.abc import Callable

from kivy.lang import Builder
from kivy.properties import ListProperty
from kivy.uix.behaviors import ButtonBehavior

from companion.screens.look import CLEAR, Look
from companion.screens.widgets.fit_label import FitLabel

BESIDE_WORDS = 10
"""Pixels of a button's width that its words do not have."""


class WordButton(ButtonBehavior, FitLabel):  # type: ignore[misc]
    """A button in the colours it is given; `ground_down` while a finger is on it, `band` along its upper edge."""

    ground = ListProperty(CLEAR)
    ground_down = ListProperty(CLEAR)
    band = ListProperty(CLEAR)


def word_button(words: str, act: Callable[[], None], main: bool, look: Look, size: float) -> WordButton:
    """Return a button that acts when it is let go; `main`: it stands out, as what most weavers touch here."""
    button = WordButton(
        text=words,
        wanted_size=size,
        ground=look.left_foot if main else look.button,
        ground_down=look.button_down,
        color=look.on_foot if main else look.text,
    )
    button.bind(on_release=lambda _button: act())
    return button


Builder.load_string("""
<WordButton>:
    bold: True
    halign: 'center'
    valign: 'middle'
    padding: [4, 1, 4, 1]
    canvas.before:
        Color:
            rgba: self.ground_down if self.state == 'down' else self.ground
        RoundedRectangle:
            pos: self.pos
            size: self.size
            radius: [12]
        Color:
            rgba: self.band
        RoundedRectangle:
            pos: self.x, self.top - self.height / 4
            size: self.width, self.height / 4
            radius: [12, 12, 0, 0]
""")
