"""A button as wide as the screen: what it is called on the left, and more about it on the right."""

from __future__ import annotations

import re
from typing import Any

from kivy.lang import Builder
from kivy.properties import (
    AliasProperty,
    BooleanProperty,
    ListProperty,
    NumericProperty,
    ObjectProperty,
    StringProperty,
)
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout

from companion.present.wording import BETWEEN
from companion.screens.look import CLEAR
from companion.screens.widgets import cloth_picture, fit_label
from companion.screens.widgets.glyphs import extents

_DRAWN_WITH = (cloth_picture, fit_label)
"""Imported for the kv rules, which find these widgets by name."""


_PADDING, _SPACING = 16, 16
_AS_WIDE, _MOST_PICTURE = 1, 0.13
"""The width of a picture, in heights of the row, and the share of the row that it takes at most."""
_PARTED = re.compile(f"{BETWEEN}|; |, ")
"""Where what stands at the end may end before its time."""
_MOST_DETAIL = 0.45
"""The share of the words' room that what stands at the end takes at most."""


class RowButton(ButtonBehavior, BoxLayout):  # type: ignore[misc]
    """A row to touch, in the colours it is given; `ground_down` while a finger is on it.

    `pictured`: a place before the words is kept for the small cloth `image`, which may come later. `band` is a colour
    along its left edge.
    """

    text = StringProperty("")
    detail = StringProperty("")
    bold = BooleanProperty(True)
    wanted_size = NumericProperty(20)
    color = ListProperty(CLEAR)
    ground = ListProperty(CLEAR)
    ground_down = ListProperty(CLEAR)
    band = ListProperty(CLEAR)
    detail_wordings = AliasProperty(lambda row: _shorter_and_shorter(row.detail), bind=["detail"])
    pictured = BooleanProperty(False)
    image = ObjectProperty(None, allownone=True)
    picture_width = NumericProperty(0)
    detail_width = NumericProperty(0)

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        self.bind(size=self._share, detail=self._share, wanted_size=self._share, pictured=self._share)
        self._share()

    def _share(self, *_: Any) -> None:
        """Let the name have all the width that the picture and what stands at the end do not need."""
        self.picture_width = min(self.height * _AS_WIDE, self.width * _MOST_PICTURE) if self.pictured else 0
        words = extents(self.detail, int(self.wanted_size), False)[0] if self.detail else 0
        room = self.width - self.picture_width - 2 * (_PADDING + _SPACING)
        self.detail_width = max(min(words + 1, room * _MOST_DETAIL), 0)


def _shorter_and_shorter(detail: str) -> tuple[str, ...]:
    """Return what stands at the end of a row in wordings, each without the last part of the one before.

    Where even one part finds no room, the name of the row is worth more than half a word.
    """
    ends = [found.start() for found in _PARTED.finditer(detail)]
    fewer = (detail[:end] for end in (None, *reversed(ends)))
    last = detail.rpartition(BETWEEN)[2]
    return (*fewer, last, *([""] if ends else []))


Builder.load_string("""
#:import rounded companion.screens.widgets.rounded
<RowButton>:
    padding: [16, 1, 16, 1]
    spacing: 16
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
            pos: self.pos
            size: 12, self.height
            radius: [12, 0, 0, 12]
    ClothPicture:
        image: root.image
        theme: root
        size_hint: None, None
        size: root.picture_width, root.picture_width
        pos_hint: {'center_y': 0.5}
    FitLabel:
        text: root.text
        bold: root.bold
        wanted_size: root.wanted_size
        color: root.color
        halign: 'left'
        valign: 'middle'
    FitLabel:
        size_hint_x: None
        width: root.detail_width
        wordings: root.detail_wordings
        wanted_size: root.wanted_size
        color: root.color
        halign: 'right'
        valign: 'middle'
""")
