"""The weave screen: what this pick needs, the cloth at the fell, and a large place to touch for "next"."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout

from companion.present.trade_words import in_trade_words
from companion.present.weave import WeaveButton, WeavePart, WeaveSigns
from companion.present.wording import BETWEEN
from companion.screens.look import CLEAR, Look
from companion.screens.theme import Sizes
from companion.screens.widgets import cloth_picture, fit_label, harness_picture, piece_bar, shuttle_sign
from companion.screens.widgets.glyphs import extents, height_that_shows
from companion.screens.widgets.word_button import BESIDE_WORDS, WordButton

_DRAWN_WITH = (cloth_picture, fit_label, harness_picture, piece_bar, shuttle_sign)
"""Imported for the kv rules, which find these widgets by name."""
_PARTS = {
    "place_part": WeavePart.PLACE,
    "shuttle_part": WeavePart.SHUTTLE,
    "now": WeavePart.TREADLES,
    "cloth_part": WeavePart.CLOTH,
}
_TWO_DIGITS_FROM = 10
"""With so many treadles the feet stand one above the other beside the harness, unless the window is upright."""
_UPRIGHT_CLOTH, _CLOTH_OF_MANY = 0.55, 0.45
"""How high the cloth of an upright window is above a harness and feet that are 1 high; less for a large loom."""
_BOBBIN = 5.2
"""How wide the words of the bobbin are, in sizes of theirs: "under right" stands in a line."""
_LOW_CLOTH = 2
"""Cloth that is less high than so many lines is not covered by words."""


class FootSign(BoxLayout):  # type: ignore[misc]
    """The treadles under one foot, in characters for reading from the bench."""

    treadles = StringProperty("")
    letter = StringProperty("")
    treadle_size = NumericProperty(20)
    lesser_size = NumericProperty(0)
    letter_size = NumericProperty(20)
    ground = ListProperty(CLEAR)
    ink = ListProperty(CLEAR)


class TouchPart(ButtonBehavior, BoxLayout):  # type: ignore[misc]
    """A part of the screen that is touched as a whole."""

    ground = ListProperty(CLEAR)
    ground_down = ListProperty(CLEAR)
    radius = NumericProperty(8)


class WeaveScreen(BoxLayout):  # type: ignore[misc]
    """Shows `signs`; says `on_next`, `on_action`, `on_part`, and `on_side` for a boat that asks where it lies.

    `message` is news in a slot of its own; `alarm` must be read before anything is touched, and no cue stands below it.
    Everything has a place that does not move from pick to pick. In an upright window
    the cloth takes the full width, and the buttons stand in two rows. `mirrored` is the left-handed way round.
    """

    # rebind: the rules of weave.kv read parts of these, and follow only so.
    signs = ObjectProperty(None, rebind=True)
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)
    mirrored = BooleanProperty(False)
    cloth = ObjectProperty(None, allownone=True)
    cloth_marked_share = NumericProperty(0.0)
    message = StringProperty("")
    alarm = StringProperty("")
    pedal = StringProperty("")
    surface = StringProperty("")
    surface_in_brief = StringProperty("")
    ends_shown = StringProperty("")
    surface_wordings = ObjectProperty(("",))
    surface_width = NumericProperty(0)
    cloth_is_low = BooleanProperty(False)
    upright = BooleanProperty(False)
    cue = ObjectProperty(("",))
    news = ObjectProperty(("",))
    news_height = NumericProperty(0)
    news_ground = ListProperty(CLEAR)
    news_ink = ListProperty(CLEAR)
    cue_ground = ListProperty(CLEAR)
    cue_ink = ListProperty(CLEAR)
    following_band = ListProperty(CLEAR)
    following_edge = ListProperty(CLEAR)
    left_ground = ListProperty(CLEAR)
    left_ink = ListProperty(CLEAR)
    right_ground = ListProperty(CLEAR)
    right_ink = ListProperty(CLEAR)

    __events__ = ("on_next", "on_action", "on_part", "on_side")

    def __init__(self, signs: WeaveSigns, look: Look, sizes: Sizes, mirrored: bool = False, **rest: Any) -> None:
        super().__init__(signs=signs, look=look, sizes=sizes, mirrored=mirrored, **rest)
        self._buttons = {action: self._button(action) for action in WeaveButton}
        for name, part in _PARTS.items():
            self.ids[name].bind(on_release=lambda _part, part=part: self.dispatch("on_part", part))
        # Kivy's ids are weak: while they change places, these would be gone for good.
        names = ("now", "side", "cloth_part", "next_area", "bobbin")
        self._now, self._side, self._cloth_part, self._next_area, self._bobbin = (
            self.ids[name].__self__ for name in names
        )
        self._laid_out = False
        self.bind(size=self._lay_out, look=self._colour, sizes=self._colour)
        self.bind(width=self._share_width)
        self.bind(signs=self._tell, message=self._tell, alarm=self._tell)
        self.bind(surface=self._name_cloth, surface_in_brief=self._name_cloth, ends_shown=self._name_cloth)
        self.ids.news_slot.bind(size=self._write_news)
        self.ids.cloth_part.bind(height=self._name_cloth)
        self._lay_out()
        self._colour()

    def on_next(self) -> None:
        """The weaver touched what means: this pick is woven, show the next."""

    def on_action(self, action: WeaveButton) -> None:
        """The weaver touched one of the buttons at the foot of the screen."""

    def on_side(self, side: str) -> None:
        """The weaver touched the boat on this side, "left" or "right": there the shuttle lies."""

    def on_part(self, part: WeavePart) -> None:
        """The weaver touched the thing itself."""

    def button(self, action: WeaveButton) -> WordButton:
        """Return the button of an action; the cloth itself turns over where there is none for it."""
        return self._buttons[action]

    def _button(self, action: WeaveButton) -> WordButton:
        button = WordButton(text=action.value)
        button.bind(on_release=lambda _button: self.dispatch("on_action", action))
        return button

    def _lay_out(self, *_: Any) -> None:
        upright = self.height > self.width
        if upright is not self.upright or not self._laid_out:
            self.upright, self._laid_out = upright, True
            self._put_halves(upright)
            self._put_bobbin(upright)
            self._put_buttons(upright)
            self._colour()

    def _put_halves(self, upright: bool) -> None:
        halves = self.ids.halves
        for box in (halves, self._side):
            box.clear_widgets()
        halves.orientation = "vertical" if upright else "horizontal"
        self._now.size_hint_y = 1
        parts: tuple[Any, ...]
        if upright:
            parts = (self._cloth_part, self._now, self._next_area)
        else:
            self._side.add_widget(self._cloth_part)
            self._side.add_widget(self._next_area)
            parts = (self._side, self._now) if self.mirrored else (self._now, self._side)
        for part in parts:
            halves.add_widget(part)

    def _put_bobbin(self, upright: bool) -> None:
        self._bobbin.parent.remove_widget(self._bobbin)
        self._bobbin.size_hint = (1, None) if upright else (None, 1)
        if upright:
            self.ids.shuttle_part.add_widget(self._bobbin)
        else:
            self.ids.boats.add_widget(self._bobbin, index=1)

    def _put_buttons(self, upright: bool) -> None:
        actions = self.ids.actions
        actions.clear_widgets()
        actions.rows = 2 if upright else 1
        # Where the width is wanted, only the cloth itself turns over.
        shown = [action for action in WeaveButton if upright or action is not WeaveButton.TURN]
        rows = [shown[:4], shown[4:]] if upright else [shown]
        for row in rows:
            for action in reversed(row) if self.mirrored else row:
                actions.add_widget(self._buttons[action])

    def _share_width(self, *_: Any) -> None:
        """Let the buttons be alike, unless a word is too wide for that: each is as wide as its words ask then."""
        size, gap = int(self.sizes.word), self.sizes.gap
        wide = {
            action: max(extents(word, size, True)[0] for word in button.text.split()) + BESIDE_WORDS
            for action, button in self._buttons.items()
        }
        across = len(self.ids.actions.children)
        each = (self.width - (across + 1) * gap) / across
        alike = self.upright or max(wide[action] for action in WeaveButton if action is not WeaveButton.TURN) <= each
        for action, button in self._buttons.items():
            button.size_hint_x = 1 if alike else wide[action]

    def _stack_feet(self) -> None:
        now, row, sizes, signs = self._now, self.ids.feet, self.sizes, self.signs
        treadles = len(signs.harness.ties)
        # One above the other they would leave no height for the harness: it stands beside them then.
        many = treadles >= _TWO_DIGITS_FROM
        stacked = many and not self.upright and not signs.levers
        self._cloth_part.size_hint_y = (_CLOTH_OF_MANY if many else _UPRIGHT_CLOTH) if self.upright else 1
        row.orientation = "vertical" if stacked else "horizontal"
        now.orientation = "horizontal" if stacked else "vertical"
        row.size_hint = (None, 1) if stacked else (1, None)
        levers = self.ids.levers
        levers.size_hint = (None if stacked else 1, 2.5 if signs.levers else None)
        if not signs.levers:
            levers.height = 0
        if stacked:
            two_treadles, _ = extents(f"{treadles - 1} {treadles}", int(sizes.sign), True)
            row.width, levers.width = two_treadles + sizes.word * 1.2 + sizes.gap, 0
        else:
            row.height = 0 if signs.levers else sizes.foot

    def _name_cloth(self, *_: Any) -> None:
        line = self.sizes.word * 1.27
        self.cloth_is_low = self._cloth_part.height < _LOW_CLOTH * line
        # Beside low cloth there is room to say that it is turned over, and for no more.
        surface, ends = (self.surface_in_brief, "") if self.cloth_is_low else (self.surface, self.ends_shown)
        words = BETWEEN.join(part for part in (surface, ends) if part)
        self.surface_wordings = (words, surface or ends)
        self.surface_width = extents(words, int(self.sizes.word), False)[0] + self.sizes.word if words else 0

    def _write_news(self, *_: Any) -> None:
        """Write what there is to be told, else what is left of time and warp."""
        signs, size = self.signs, int(self.sizes.word)
        told = (self.alarm or self.message,) if self.alarm or self.message else signs.warning
        self.cue = ("",) if self.alarm else signs.cue
        self.news = told if told[0] else signs.amounts
        slot = self.ids.news_slot
        # News covers the oldest rows of the cloth rather than to be cut, or to hide what comes next.
        needed = height_that_shows(told[-1], size, int(slot.width)) if told[0] else 0
        self.news_height = max(slot.height, needed)

    def _colour(self, *_: Any) -> None:
        """Put on other looks and sizes, and say in them what there is to say."""
        look, sizes = self.look, self.sizes
        self._bobbin.size = (sizes.word * _BOBBIN, sizes.word * 1.27)
        rows = self.ids.actions.rows
        self.ids.actions.height = rows * sizes.action + (rows - 1) * sizes.gap
        for action, button in self._buttons.items():
            button.text = in_trade_words(action.value, look.trade)
            button.ground, button.ground_down, button.color = look.button, look.button_down, look.text
            button.wanted_size = sizes.word
        self._share_width()
        self._tell()
        self._name_cloth()

    def _tell(self, *_: Any) -> None:
        """Say what is new at this pick."""
        look, signs = self.look, self.signs
        resting = (look.panel, look.quiet_text)
        self.left_ground, self.left_ink = (look.left_foot, look.on_foot) if signs.harness.left else resting
        self.right_ground, self.right_ink = (look.right_foot, look.on_foot) if signs.harness.right else resting
        yarn = signs.following_yarn
        self.following_band = CLEAR if yarn is None else (*(part / 255 for part in yarn), 1.0)
        self.following_edge = CLEAR if yarn is None else look.quiet_text
        self._stack_feet()
        self._write_news()
        warns, plain = (look.warning, look.on_warning), (CLEAR, look.text)
        told = self.alarm or self.message or signs.warning[0]
        self.news_ground, self.news_ink = warns if told else (CLEAR, look.quiet_text)
        self.cue_ground, self.cue_ink = warns if signs.ties_first and not self.alarm else plain


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
