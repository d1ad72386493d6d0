"""A row to tick: a square box, a number in large, and two lines beside it."""

from __future__ import annotations

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, NumericProperty, StringProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout

from companion.screens.look import CLEAR
from companion.screens.widgets import fit_label

_DRAWN_WITH = (fit_label,)
"""Imported for the kv rules, which find this widget by name."""


class TickRow(ButtonBehavior, BoxLayout):  # type: ignore[misc]
    """`number` and the lines `above` and (where given at the start) `below`, with a box that is ticked when `done`.

    Number and lines have a lesser size, for where the row is too low or narrow for the first.
    """

    number = StringProperty("")
    above = StringProperty("")
    below = StringProperty("")
    done = BooleanProperty(False)
    number_size = NumericProperty(20)
    lesser_number_size = NumericProperty(0)
    wanted_size = NumericProperty(20)
    lesser_size = NumericProperty(0)
    square = ListProperty([0, 0, 0, 0])
    tick = ListProperty([])
    color = ListProperty(CLEAR)
    ground = ListProperty(CLEAR)
    ground_down = ListProperty(CLEAR)
    mark = ListProperty(CLEAR)

    def __init__(self, **properties: object) -> None:
        super().__init__(**properties)
        self.ids.box.bind(pos=self._draw_tick, size=self._draw_tick)
        self.bind(done=self._draw_tick)
        if not self.below:
            # A lone line has the whole height.
            self.ids.lines.remove_widget(self.ids.below)
        self._draw_tick()

    def _draw_tick(self, *_: object) -> None:
        box = self.ids.box
        side = min(box.width, box.height) * 0.62
        # Not `center`: Kivy brings that up to date only after those who listen to the position.
        left, bottom = box.x + (box.width - side) / 2, box.y + (box.height - side) / 2
        self.square = [left, bottom, side, side]
        strokes = ((0.12, 0.5), (0.4, 0.18), (0.9, 0.86)) if self.done else ()
        self.tick = [value for x, y in strokes for value in (left + x * side, bottom + y * side)]


Builder.load_string("""
#:import rounded companion.screens.widgets.rounded
<TickRow>:
    padding: [8, 2, 12, 2]
    spacing: 8
    canvas.before:
        Color:
            rgba: self.ground_down if self.state == 'down' else self.ground
        Rounded:
            pos: self.pos
            size: self.size
            radius: [12]
    Widget:
        id: box
        size_hint_x: None
        width: root.height * 0.7
        canvas:
            Color:
                rgba: root.color
            Line:
                rectangle: root.square
                width: 2
            Color:
                rgba: root.mark
            Line:
                points: root.tick
                width: 4
    FitLabel:
        id: number
        size_hint_x: None
        width: root.number_size * 1.3
        text: root.number
        bold: True
        wanted_size: root.number_size
        lesser_size: root.lesser_number_size
        color: root.color
        halign: 'center'
        valign: 'middle'
    BoxLayout:
        id: lines
        orientation: 'vertical'
        FitLabel:
            id: above
            text: root.above
            bold: True
            wanted_size: root.wanted_size
            lesser_size: root.lesser_size
            color: root.color
            halign: 'left'
            valign: 'middle'
        FitLabel:
            id: below
            text: root.below
            bold: True
            wanted_size: root.wanted_size
            lesser_size: root.lesser_size
            color: root.color
            halign: 'left'
            valign: 'middle'
""")
