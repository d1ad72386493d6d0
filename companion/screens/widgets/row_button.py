"""A button as wide as the screen: what it is called on the left, and more about it on the right."""

from __future__ import annotations

from typing import Any

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout

from companion.present.fell import Picture
from companion.present.wording import BETWEEN
from companion.screens.look import CLEAR
from companion.screens.theme import Theme
from companion.screens.widgets import fit_label
from companion.screens.widgets.cloth_picture import ClothPicture

_DRAWN_WITH = (fit_label,)
"""Imported for the kv rules, which find these widgets by name."""


class RowButton(ButtonBehavior, BoxLayout):  # type: ignore[misc]
    """A row to touch, in the colours it is given; `ground_down` while a finger is on it.

    With a `theme` it begins with a picture of cloth, or with the room for one. `band` is a colour along its left edge.
    """

    text = StringProperty("")
    detail = StringProperty("")
    bold = BooleanProperty(True)
    wanted_size = NumericProperty(20)
    color = ListProperty(CLEAR)
    ground = ListProperty(CLEAR)
    ground_down = ListProperty(CLEAR)
    band = ListProperty(CLEAR)
    detail_wordings = ObjectProperty(("",))

    def __init__(self, picture: Picture | None = None, theme: Theme | None = None, **properties: Any) -> None:
        super().__init__(**properties)
        self.bind(detail=self._word_detail)
        self._word_detail()
        if theme is not None:
            # Kept free where there is no picture, so that the names of a list stand below one another.
            cloth = ClothPicture(theme=theme, size_hint_x=None)
            self.bind(height=lambda *_: setattr(cloth, "width", self.height))
            self.add_widget(cloth, index=len(self.children))
            cloth.image = picture

    def _word_detail(self, *_: Any) -> None:
        """Say all of the detail where there is room, and what matters most of it where there is not."""
        parts = self.detail.split(BETWEEN)
        fewer = [BETWEEN.join(parts[:number]) for number in range(len(parts), 0, -1)]
        # Where even one part finds no room, the name of the row is worth more than half a word.
        self.detail_wordings = (*fewer, parts[-1], *([""] if len(parts) > 1 else []))


Builder.load_string("""
<RowButton>:
    padding: [16, 2, 16, 2]
    spacing: 16
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
            pos: self.pos
            size: 12, self.height
            radius: [12, 0, 0, 12]
    FitLabel:
        size_hint_x: 0.55
        text: root.text
        bold: root.bold
        wanted_size: root.wanted_size
        color: root.color
        halign: 'left'
        valign: 'middle'
    FitLabel:
        size_hint_x: 0.45
        text: root.detail
        wordings: root.detail_wordings
        wanted_size: root.wanted_size
        color: root.color
        halign: 'right'
        valign: 'middle'
""")
