"""A button as wide as the screen: what it is called on the left, and more about it on the right."""

from __future__ import annotations

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, NumericProperty, StringProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout

from companion.screens.look import CLEAR
from companion.screens.widgets import fit_label

_DRAWN_WITH = (fit_label,)
"""Imported for the kv rules, which find these widgets by name."""


class RowButton(ButtonBehavior, BoxLayout):  # type: ignore[misc]
    """A row to touch, in the colours it is given; `ground_down` while a finger is on it."""

    text = StringProperty("")
    detail = StringProperty("")
    bold = BooleanProperty(True)
    wanted_size = NumericProperty(20)
    color = ListProperty(CLEAR)
    ground = ListProperty(CLEAR)
    ground_down = ListProperty(CLEAR)


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
    FitLabel:
        size_hint_x: 0.6
        text: root.text
        bold: root.bold
        wanted_size: root.wanted_size
        color: root.color
        halign: 'left'
        valign: 'middle'
    FitLabel:
        size_hint_x: 0.4
        text: root.detail
        wanted_size: root.wanted_size
        color: root.color
        halign: 'right'
        valign: 'middle'
""")
