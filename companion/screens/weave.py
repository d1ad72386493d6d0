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
from companion.screens.widgets.standing import stand_in
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
"""So many treadles take the whole width of an upright window: the feet stand below the harness then, not beside it."""
_CLOTH_OF_MANY = 0.45
"""How high the cloth of an upright window is above those, which are 1 high; above others it is as high as they are."""
_ONE_LINE = 1.6
"""How high a row of buttons is whose words stand in a line, in sizes of a word."""


class FootSign(BoxLayout):  # type: ignore[misc]
    """The treadles under one foot, in characters for reading from the bench; its letter stands at the outer side."""

    treadles = StringProperty("")
    letter = StringProperty("")
    treadle_size = NumericProperty(20)
    lesser_size = NumericProperty(0)
    letter_size = NumericProperty(20)
    radius = NumericProperty(8)
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
    ends_shown = StringProperty("")
    surface_wordings = ObjectProperty(("",))
    surface_width = NumericProperty(0)
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
        names = ("this_pick", "shuttle_part", "now", "side", "cloth_part", "next_area")
        self._this_pick, self._shuttle_part, self._now, self._side, self._cloth_part, self._next_area = (
            self.ids[name].__self__ for name in names
        )
        within = ("harness", "levers", "feet", "left_foot", "right_foot")
        self._harness, self._levers, self._feet, self._left_foot, self._right_foot = (
            self.ids[name].__self__ for name in within
        )
        self._right_foot.children.reverse()
        self._laid_out = False
        self.bind(size=self._lay_out, look=self._colour, sizes=self._colour)
        self.bind(width=self._share_width)
        self.bind(signs=self._tell, message=self._tell, alarm=self._tell)
        self.bind(surface=self._name_cloth, ends_shown=self._name_cloth)
        self.ids.news_slot.bind(size=self._write_news)
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
            self._put_buttons(upright)
            self._colour()

    def _put_halves(self, upright: bool) -> None:
        halves = self.ids.halves
        halves.orientation = "vertical" if upright else "horizontal"
        if upright:
            stand_in(halves, (self._shuttle_part, self._cloth_part, self._now, self._next_area))
        else:
            stand_in(self._this_pick, (self._shuttle_part, self._now))
            stand_in(self._side, (self._cloth_part, self._next_area))
            stand_in(halves, (self._side, self._this_pick) if self.mirrored else (self._this_pick, self._side))

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
        """Let the buttons be alike, unless words find no line so: each is as wide as they ask then."""
        size, gap = int(self.sizes.word), self.sizes.gap
        across, rows = len(self.ids.actions.children) // self.ids.actions.rows, self.ids.actions.rows
        each = (self.width - (across + 1) * gap) / across
        shown = [button for button in self._buttons.values() if button.parent]

        def widths(by_word: bool) -> list[int]:
            parts = (button.text.split() if by_word else [button.text] for button in shown)
            return [max(extents(part, size, True)[0] for part in some) + BESIDE_WORDS for some in parts]

        whole = widths(by_word=False)
        in_a_line = rows == 1 and sum(whole) <= across * each
        asked = whole if in_a_line else widths(by_word=True)
        alike = rows > 1 or max(asked) <= each
        for button, wide in zip(shown, asked, strict=True):
            button.size_hint_x = 1 if alike else wide
        row = max(self.sizes.target, self.sizes.word * _ONE_LINE) if in_a_line else self.sizes.action
        self.ids.actions.height = rows * row + (rows - 1) * gap

    def _put_now(self) -> None:
        """Let the feet stand beside the harness, or below it where it takes the whole width."""
        sizes, signs, feet = self.sizes, self.signs, (self._left_foot, self._right_foot)
        treadles = len(signs.harness.ties)
        many = treadles >= _TWO_DIGITS_FROM
        self._cloth_part.size_hint_y = _CLOTH_OF_MANY if many and self.upright else 1
        self._now.orientation = "vertical" if signs.levers or (many and self.upright) else "horizontal"
        self._feet.orientation = "horizontal" if self.upright else "vertical"
        two_treadles, _ = extents(f"{treadles - 1} {treadles}", int(sizes.sign), True)
        beside = two_treadles + sizes.word * 1.2 + sizes.gap
        at_the_sides = self.upright and not many
        for foot in feet:
            foot.size_hint_x = None if at_the_sides else 1
            if at_the_sides:
                foot.width = beside
        if signs.levers:
            stand_in(self._now, (self._harness, self._levers))
        elif at_the_sides:
            stand_in(self._now, (self._left_foot, self._harness, self._right_foot))
        else:
            stand_in(self._feet, feet)
            stand_in(self._now, (self._harness, self._feet))
            # Never a side that the layout gives it: that would move from pick to pick, and back with the next frame.
            self._feet.size_hint = (1, None) if self.upright else (None, 1)
            if self.upright:
                self._feet.height = sizes.foot
            else:
                self._feet.width = beside

    def _name_cloth(self, *_: Any) -> None:
        words = BETWEEN.join(part for part in (self.surface, self.ends_shown) if part)
        self.surface_wordings = (words, self.surface or self.ends_shown)
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
        self._put_now()
        self._write_news()
        warns, plain = (look.warning, look.on_warning), (CLEAR, look.text)
        told = self.alarm or self.message or signs.warning[0]
        self.news_ground, self.news_ink = warns if told else (CLEAR, look.quiet_text)
        self.cue_ground, self.cue_ink = warns if signs.ties_first and not self.alarm else plain


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
