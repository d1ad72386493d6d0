"""The dressing screen, sister of the weave screen: what is threaded, sleyed or wound now, and what hangs last."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from companion.present.dress import DressButton, DressSigns
from companion.present.wording import BETWEEN
from companion.screens import weave
from companion.screens.look import CLEAR, Look
from companion.screens.theme import Sizes
from companion.screens.widgets import cloth_picture, fit_label, piece_bar
from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.glyphs import height_that_shows
from companion.screens.widgets.harness_picture import HarnessPicture
from companion.screens.widgets.word_button import WordButton

_DRAWN_WITH = (cloth_picture, fit_label, piece_bar, weave)
"""Imported for the kv rules, which find these widgets by name."""


class DressScreen(BoxLayout):  # type: ignore[misc]
    """Shows `signs`; says `on_next`, `on_action` with a button, `on_tasks` for a touch on the place line,
    `on_again` for one on what is done now.

    Everything has the place that its like has on the weave screen. `mirrored` is the left-handed way round.
    """

    # rebind: the rules of dress.kv read parts of these, and follow only so.
    signs = ObjectProperty(None, rebind=True)
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)
    mirrored = BooleanProperty(False)
    message = StringProperty("")
    pedal = StringProperty("")
    upright = BooleanProperty(False)
    cue = ObjectProperty(("",))
    cue_height = NumericProperty(0)
    cue_size = NumericProperty(1)
    cue_ground = ListProperty(CLEAR)
    cue_ink = ListProperty(CLEAR)

    __events__ = ("on_next", "on_action", "on_tasks", "on_again")

    def __init__(self, signs: DressSigns, look: Look, sizes: Sizes, mirrored: bool = False, **rest: Any) -> None:
        super().__init__(signs=signs, look=look, sizes=sizes, mirrored=mirrored, **rest)
        self._buttons = {action: self._button(action) for action in DressButton}
        self._harness = HarnessPicture(theme=look.theme)
        self._lines = FitLabel(halign="center", valign="middle")
        # Kivy's ids are weak: while they change places, these would be gone for good.
        names = ("now", "side", "threads")
        self._now, self._side, self._threads = (self.ids[name].__self__ for name in names)
        self.ids.cue_slot.bind(size=self._size_cue)
        self.bind(size=self._lay_out, signs=self._write, sizes=self._write, message=self._write, look=self._write)
        self._lay_out()

    def on_next(self) -> None:
        """The weaver touched what means: this is done, show the next."""

    def on_action(self, action: DressButton) -> None:
        """The weaver touched one of the buttons at the foot of the screen."""

    def on_tasks(self) -> None:
        """The weaver touched the place line."""

    def on_again(self) -> None:
        """The weaver touched what is done now, to hear it once more."""

    def button(self, action: DressButton) -> WordButton:
        """Return the button of an action."""
        return self._buttons[action]

    def _button(self, action: DressButton) -> WordButton:
        button = WordButton(text=action.value)
        button.bind(on_release=lambda _button: self.dispatch("on_action", action))
        return button

    def _lay_out(self, *_: Any) -> None:
        self.upright = self.height > self.width
        halves = self.ids.halves
        halves.clear_widgets()
        halves.orientation = "vertical" if self.upright else "horizontal"
        parts = (self._side, self._now) if self.mirrored and not self.upright else (self._now, self._side)
        for part in parts:
            halves.add_widget(part)
        actions = self.ids.actions
        actions.clear_widgets()
        actions.rows = 2 if self.upright else 1
        # Where the width is wanted, only a touch on what is said says it once more.
        shown = [action for action in DressButton if self.upright or action is not DressButton.AGAIN]
        for row in [shown[:4], shown[4:]] if self.upright else [shown]:
            for action in reversed(row) if self.mirrored else row:
                actions.add_widget(self._buttons[action])
        self._write()

    def _write(self, *_: Any) -> None:
        look, sizes, signs = self.look, self.sizes, self.signs
        warning = self.message or signs.warning
        # What was just done never hides what the next touch means.
        self.cue = (BETWEEN.join(filter(None, (warning, signs.cue))),)
        self._size_cue()
        self.cue_size = sizes.title if self.upright and not warning else sizes.word
        self.cue_ground, self.cue_ink = (look.warning, look.on_warning) if warning else (CLEAR, look.text)
        rows = self.ids.actions.rows
        self.ids.actions.height = rows * sizes.action + (rows - 1) * sizes.gap
        for button in self._buttons.values():
            button.ground, button.ground_down, button.color = look.button, look.button_down, look.text
            button.wanted_size = sizes.word
        self._harness.signs, self._harness.theme = signs.harness, look.theme
        self._lines.wordings, self._lines.wanted_size, self._lines.color = signs.lines, sizes.word, look.text
        self._put_first(self._now, self._lines if signs.lines else self._harness if signs.harness else self._threads)

    def _size_cue(self, *_: Any) -> None:
        """Let what does not fit its slot cover some of what stands above rather than be cut."""
        slot = self.ids.cue_slot
        self.cue_height = max(slot.height, height_that_shows(self.cue[-1], int(self.sizes.word), int(slot.width)))

    @staticmethod
    def _put_first(box: BoxLayout, widget: Any) -> None:
        """Put a widget at the top of a box, in the place of the one that stands there."""
        top = box.children[-1] if box.children else None
        if top is not widget:
            if top is not None:
                box.remove_widget(top)
            box.add_widget(widget, index=len(box.children))


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
