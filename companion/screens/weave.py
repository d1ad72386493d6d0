"""The weave screen: what this pick needs, the cloth at the fell, and one half of the screen for "next"."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from kivy.lang import Builder
from kivy.properties import ListProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout

from companion.present.weave import WeaveButton, WeaveSigns
from companion.screens.look import CLEAR, Look
from companion.screens.theme import Sizes
from companion.screens.widgets import cloth_picture, fit_label, grow_label, harness_picture, piece_bar, shuttle_sign
from companion.screens.widgets.glyphs import extents
from companion.screens.widgets.word_button import WordButton

_DRAWN_WITH = (cloth_picture, fit_label, grow_label, harness_picture, piece_bar, shuttle_sign)
"""Imported for the kv rules, which find these widgets by name."""
_MOST_WORDS_SHARE = 0.21
"""No words in the half that means "next" take more of its height: the cloth at the fell must be seen."""
_LETTER_SHARE = 0.26


class FootSign(BoxLayout):  # type: ignore[misc]
    """The treadles under one foot, in characters for reading from the bench."""

    treadles = StringProperty("")
    letter = StringProperty("")
    treadle_size = NumericProperty(20)
    letter_size = NumericProperty(20)
    letter_width = NumericProperty(0)
    ground = ListProperty(CLEAR)
    ink = ListProperty(CLEAR)

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        self.bind(width=self._share, treadles=self._share, treadle_size=self._share)

    @property
    def needed(self) -> float:
        """The width that its treadles take, in pixels."""
        return extents(self.treadles, max(int(self.treadle_size), 1), True)[0]

    def _share(self, *_: Any) -> None:
        # The letter gives way: treadles are read from the bench, and its place and colour tell the foot too.
        usual = self.width * _LETTER_SHARE
        self.letter_width = max(min(usual, self.width - self.needed - 4), usual / 4)


class NextArea(ButtonBehavior, BoxLayout):  # type: ignore[misc]
    """Half the screen as one button."""

    ground = ListProperty(CLEAR)
    ground_down = ListProperty(CLEAR)


class WeaveScreen(BoxLayout):  # type: ignore[misc]
    """Shows `signs`; says `on_next`, `on_action`, and `on_side` for a boat that asks where it lies, when touched."""

    # rebind: the rules of weave.kv read parts of these, and follow only so.
    signs = ObjectProperty(None, rebind=True)
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)
    cloth = ObjectProperty(None, allownone=True)
    cloth_marked_share = NumericProperty(0.0)
    message = StringProperty("")
    pedal = StringProperty("")
    most_words_height = NumericProperty(0)
    surface = StringProperty("")
    surface_height = NumericProperty(0)
    cue = StringProperty("")
    cue_ground = ListProperty(CLEAR)
    cue_ink = ListProperty(CLEAR)
    left_ground = ListProperty(CLEAR)
    left_ink = ListProperty(CLEAR)
    right_ground = ListProperty(CLEAR)
    right_ink = ListProperty(CLEAR)

    __events__ = ("on_next", "on_action", "on_side")

    def __init__(self, signs: WeaveSigns, look: Look, sizes: Sizes, mirrored: bool = False, **rest: Any) -> None:
        super().__init__(signs=signs, look=look, sizes=sizes, **rest)
        self._buttons = {action: self._button(action) for action in WeaveButton}
        if mirrored:
            self.ids.halves.children.reverse()
            self.ids.halves.do_layout()
        self.ids.now.bind(width=self._share_feet)
        self.ids.next_area.bind(height=self._share_words)
        self.bind(look=self._colour, signs=self._colour, sizes=self._colour, message=self._colour, surface=self._colour)
        self._colour()

    def on_next(self) -> None:
        """The weaver touched the half that means: this pick is woven, show the next."""

    def on_action(self, action: WeaveButton) -> None:
        """The weaver touched one of the buttons at the foot of the screen."""

    def on_side(self, side: str) -> None:
        """The weaver touched the boat on this side, "left" or "right": there the shuttle lies."""

    def button(self, action: WeaveButton) -> WordButton:
        """Return the button of an action."""
        return self._buttons[action]

    def _button(self, action: WeaveButton) -> WordButton:
        button = WordButton(text=action.value)
        button.bind(on_release=lambda _button: self.dispatch("on_action", action))
        self.ids.actions.add_widget(button)
        return button

    def _share_words(self, _area: Any, height: float) -> None:
        self.most_words_height = height * _MOST_WORDS_SHARE

    def _share_feet(self, *_: Any) -> None:
        """Let a foot with more treadles have more room, and put one foot above the other where that is not enough."""
        feet = (self.ids.left_foot, self.ids.right_foot)
        row, room = self.ids.feet, max(self.ids.now.width - self.sizes.gap, 1)
        crowded = max(foot.needed for foot in feet) > room / 2 * (1 - _LETTER_SHARE)
        rows = 2 if sum(foot.needed + self.sizes.word for foot in feet) > room else 1
        row.orientation = "vertical" if rows == 2 else "horizontal"
        row.height = 0 if self.signs.levers else rows * self.sizes.foot + (rows - 1) * self.sizes.gap
        for foot in feet:
            foot.size_hint_x = foot.needed + self.sizes.word if crowded and rows == 1 else 1

    def _colour(self, *_: Any) -> None:
        look, signs = self.look, self.signs
        resting = (look.panel, look.quiet_text)
        self.left_ground, self.left_ink = (look.left_foot, look.on_foot) if signs.harness.left else resting
        self.right_ground, self.right_ink = (look.right_foot, look.on_foot) if signs.harness.right else resting
        self._share_feet()
        self.surface_height = self.sizes.line if self.surface else 0
        warning = self.message or signs.warning
        self.cue = warning or signs.cue
        self.cue_ground, self.cue_ink = (look.warning, look.on_warning) if warning else (CLEAR, look.text)
        for button in self._buttons.values():
            button.ground, button.ground_down, button.color = look.button, look.button_down, look.text
            button.wanted_size = self.sizes.button


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
