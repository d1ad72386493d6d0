"""The weave screen: what this pick needs, the cloth at the fell, and one half of the screen for "next"."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from kivy.lang import Builder
from kivy.properties import ListProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout

from companion.present.weave import Action, WeaveSigns
from companion.screens.look import CLEAR, Look
from companion.screens.theme import Sizes
from companion.screens.widgets import cloth_picture, fit_label, harness_picture, piece_bar, shuttle_sign
from companion.screens.widgets.word_button import WordButton

_DRAWN_WITH = (cloth_picture, fit_label, harness_picture, piece_bar, shuttle_sign)
"""Imported for the kv rules, which find these widgets by name."""


class FootSign(BoxLayout):  # type: ignore[misc]
    """The treadles under one foot, in characters for reading from the bench."""

    treadles = StringProperty("")
    letter = StringProperty("")
    treadle_size = NumericProperty(20)
    letter_size = NumericProperty(20)
    ground = ListProperty(CLEAR)
    ink = ListProperty(CLEAR)


class NextArea(ButtonBehavior, BoxLayout):  # type: ignore[misc]
    """Half the screen as one button."""

    ground = ListProperty(CLEAR)
    ground_down = ListProperty(CLEAR)


class WeaveScreen(BoxLayout):  # type: ignore[misc]
    """Shows `signs`; says `on_next` and `on_action` when touched."""

    # rebind: the rules of weave.kv read parts of these, and follow only so.
    signs = ObjectProperty(None, rebind=True)
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)
    cloth = ObjectProperty(None, allownone=True)
    cloth_marked_share = NumericProperty(0.0)
    message = StringProperty("")
    pedal = StringProperty("")
    amounts_height = NumericProperty(0)
    surface = StringProperty("")
    surface_height = NumericProperty(0)
    cue = StringProperty("")
    cue_ground = ListProperty(CLEAR)
    cue_ink = ListProperty(CLEAR)
    left_ground = ListProperty(CLEAR)
    left_ink = ListProperty(CLEAR)
    right_ground = ListProperty(CLEAR)
    right_ink = ListProperty(CLEAR)

    __events__ = ("on_next", "on_action")

    def __init__(self, signs: WeaveSigns, look: Look, sizes: Sizes, mirrored: bool = False, **rest: Any) -> None:
        super().__init__(signs=signs, look=look, sizes=sizes, **rest)
        self._buttons = {action: self._button(action) for action in Action}
        if mirrored:
            self.ids.halves.children.reverse()
            self.ids.halves.do_layout()
        self.bind(look=self._colour, signs=self._colour, sizes=self._colour, message=self._colour, surface=self._colour)
        self._colour()

    def on_next(self) -> None:
        """The weaver touched the half that means: this pick is woven, show the next."""

    def on_action(self, action: Action) -> None:
        """The weaver touched one of the buttons at the foot of the screen."""

    def button(self, action: Action) -> WordButton:
        """Return the button of an action."""
        return self._buttons[action]

    def _button(self, action: Action) -> WordButton:
        button = WordButton(text=action.value)
        button.bind(on_release=lambda _button: self.dispatch("on_action", action))
        self.ids.actions.add_widget(button)
        return button

    def _colour(self, *_: Any) -> None:
        look, signs = self.look, self.signs
        resting = (look.panel, look.quiet_text)
        self.left_ground, self.left_ink = (look.left_foot, look.on_foot) if signs.harness.left else resting
        self.right_ground, self.right_ink = (look.right_foot, look.on_foot) if signs.harness.right else resting
        self.amounts_height = self.sizes.line if signs.amounts else 0
        self.surface_height = self.sizes.line if self.surface else 0
        warning = self.message or signs.warning
        self.cue = warning or signs.cue
        self.cue_ground, self.cue_ink = (look.warning, look.on_warning) if warning else (CLEAR, look.text)
        for button in self._buttons.values():
            button.ground, button.ground_down, button.color = look.button, look.button_down, look.text
            button.wanted_size = self.sizes.button


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
