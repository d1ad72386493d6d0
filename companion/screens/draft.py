"""The draft screen: threading, tie-up, treadling and cloth, to look over, to change by touch, and to put on a loom."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from kivy.lang import Builder
from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from companion.draft.facing import FROM_LEFT
from companion.draft.model import Draft
from companion.present import draft_words, help_topics
from companion.present.draft_desk import Desk, begun, edited, moved_on, touched
from companion.present.draft_keys import DeskKey, Way, keys
from companion.present.draft_sheet import Square
from companion.present.draft_touch import can_edit
from companion.present.draft_view import view_of
from companion.present.trade_words import in_trade_words
from companion.screens.look import CLEAR
from companion.screens.place import Place
from companion.screens.surroundings import Surroundings
from companion.screens.theme import Sizes
from companion.screens.widgets import draft_picture
from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.glyphs import extents
from companion.screens.widgets.word_button import BESIDE_WORDS, WordButton

_DRAWN_WITH = (draft_picture, FitLabel)
"""Imported for the kv rules, which find these widgets by name."""
_LEAST_OF_TITLE = 0.25
"""Of the width, where a line is long: a name that is cut short is still known."""
_DIM = 0.45
"""How strongly a button is drawn that has nothing to do."""


class DraftScreen(BoxLayout, Place):  # type: ignore[misc]
    """Shows a draft called `name`; `weave` and `leave` are called with it as it is then, `changed` after each edit.

    `plan` is called with it where a cloth of it is to be planned, `section` where the one of marked picks is told.
    """

    # rebind: the rules of draft.kv read parts of these, and follow only so.
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)
    mirrored = BooleanProperty(False)
    title = StringProperty("")
    line = StringProperty("")
    line_wordings = ObjectProperty(("",))
    view = ObjectProperty(None)
    cell = NumericProperty(16)
    facing = ObjectProperty(FROM_LEFT)
    part = ObjectProperty(None, allownone=True)
    stretch = ObjectProperty(None, allownone=True)

    def __init__(
        self,
        name: str,
        draft: Draft,
        around: Surroundings,
        weave: Callable[[Draft], None],
        leave: Callable[[Draft], None],
        changed: Callable[[Draft], None],
        plan: Callable[[Draft], None],
        section: Callable[[Draft], None],
        **rest: Any,
    ) -> None:
        super().__init__(
            look=around.look,
            sizes=around.sizes,
            facing=around.facing,
            mirrored=around.mirrored,
            title=name,
            view=view_of(draft),
            **rest,
        )
        self._desk = begun(draft)
        self._ways = {Way.WEAVE: weave, Way.LEAVE: leave, Way.PLAN: plan, Way.SECTION: section}
        self._changed = changed
        self._buttons: list[WordButton] = []
        self.fbind("sizes", self._write)
        self.fbind("line", self._word_line)
        self.fbind("width", self._share_buttons)
        for told in ("title", "line_wordings", "sizes", "width"):
            self.fbind(told, self._share_head)
        picture = self.ids.picture
        picture.bind(on_square=lambda _picture, square: self.change(square))
        picture.bind(sheet=self._say_where, aimed=self._say_where)
        picture.bind(corner=self._moved)
        self._write()

    @property
    def topics(self) -> tuple[str, ...]:
        """The help of looking, or of changing."""
        return ((help_topics.CHANGING,) if self._desk.part is not None else ()) + (help_topics.DRAFT,)

    @property
    def draft(self) -> Draft:
        """The draft as it is now."""
        return self._desk.draft

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self.sizes = sizes

    def say(self, line: str) -> None:
        """Show a line until the draft is moved or changed."""
        self.line = self._said(line)

    def button(self, words: str) -> WordButton:
        """Return the button with these words; KeyError where there is none."""
        return {button.text: button for button in self._buttons}[words]

    def take(self, draft: Draft) -> None:
        """Take on a draft that was changed elsewhere, as one edit; nothing stays marked."""
        self._become(edited(self._desk, lambda _before: draft, None))

    def change(self, square: Square) -> None:
        """Do what a touch on one square of the draft does."""
        self._become(touched(self._desk, square))

    def _press(self, key: DeskKey) -> None:
        outcome = key.leads_to()
        if isinstance(outcome, Way):
            self._ways[outcome](self.draft)
        else:
            self._become(outcome)

    def _become(self, desk: Desk) -> None:
        before, self._desk = self._desk, desk
        is_edited = desk.draft is not before.draft
        if is_edited or (desk.surface, desk.floats_over) != (before.surface, before.floats_over):
            self.view = view_of(desk.draft, desk.surface, desk.floats_over)
        self._write()
        if is_edited and desk.stretch is not None:
            self.ids.picture.show(desk.stretch)
        if is_edited:
            self._changed(desk.draft)

    def _moved(self, *_: Any) -> None:
        self._desk = moved_on(self._desk)

    def _say_where(self, *_: Any) -> None:
        line = self._line_now()
        if line:
            self.line = self._said(line)

    def _said(self, line: str) -> str:
        own = [self.title, *(yarn.name for yarn in self.draft.yarns)]
        return in_trade_words(line, self.look.trade, own)

    def _word_line(self, *_: Any) -> None:
        self.line_wordings = draft_words.line_wordings(self.line, *self._undo_said())

    def _undo_said(self) -> tuple[str, str]:
        """Return what Undo would take back, where it stands there, and what is left where there is no room for both."""
        undo, marked = self._said(self._desk.undo_words), self._desk.stretch is not None
        offered = any(key.words == draft_words.UNDO for key in keys(self._desk))
        aimed = self.ids.picture.aimed is not None
        return (undo, self.line if marked or self._desk.line else undo) if undo and offered and not aimed else ("", "")

    def _share_head(self, *_: Any) -> None:
        """Give the title the width that it asks for, as far as the shortest wording of the line leaves it."""
        size, gap = int(self.sizes.word), self.sizes.gap
        wanted = extents(self.title, size, True)[0] + BESIDE_WORDS
        line = min(extents(words, size, False)[0] for words in self.line_wordings) + BESIDE_WORDS
        room = self.width - 3 * gap - sum(self.sizes.beside_help(self.mirrored)) - line
        self.ids.title.width = min(wanted, max(room, self.width * _LEAST_OF_TITLE))

    def _line_now(self) -> str:
        picture = self.ids.picture
        if picture.aimed is not None:
            return draft_words.square_words(self.draft, picture.aimed)
        if picture.sheet is not None and self.part is not None and not can_edit(picture.sheet):
            return draft_words.TOO_SMALL
        if self._desk.line or self._desk.standing_line:
            return self._desk.line or self._desk.standing_line
        return "" if picture.sheet is None else draft_words.sheet_words(self.draft, picture.sheet)

    def _write(self, *_: Any) -> None:
        self.part, self.stretch = self._desk.part, self._desk.stretch
        self.cell = self.sizes.square if self.part is None else self.sizes.square_to_touch
        row = keys(self._desk)
        self._keep_buttons(len(row))
        for key, button in zip(row, self._buttons, strict=True):
            self._write_button(key, button)
        self._share_buttons()
        if self.mirrored:
            # The newest child of a layout is its last button: for the left hand that one is first.
            self.ids.buttons.children = self._buttons[:]
        self._say_where()
        self._word_line()

    def _share_buttons(self, *_: Any) -> None:
        """Make each button as wide as its longest word asks for; in two rows where one has no room for them all."""
        size, gap = int(self.sizes.word), self.sizes.gap
        wanted = [
            max(extents(word, size, True)[0] for word in button.text.split()) + BESIDE_WORDS for button in self._buttons
        ]
        room = self.width - 2 * gap - (len(wanted) - 1) * gap
        one_row = sum(wanted) <= room
        self.ids.buttons.rows = 1 if one_row else 2
        even = not one_row or max(wanted) <= room / len(wanted)
        for button, width in zip(self._buttons, wanted, strict=True):
            button.size_hint_x = 1 if even else width

    def _write_button(self, key: DeskKey, button: WordButton) -> None:
        button.key = key
        button.text = in_trade_words(key.words, self.look.trade)
        button.wanted_size = self.sizes.word
        button.disabled = not key.possible
        button.opacity = 1.0 if key.possible else _DIM
        look = self.look
        # What is switched on is turned light for dark; the accent is for what most weavers touch.
        plain = (look.button, look.button_down, look.text)
        lit = (look.text, look.quiet_text, look.ground)
        main = (look.accent, look.accent_down, look.on_accent)
        button.ground, button.ground_down, button.color = main if key.main else lit if key.lit else plain
        button.band = CLEAR if key.yarn is None else (*(part / 255 for part in key.yarn), 1.0)

    def _keep_buttons(self, number: int) -> None:
        for button in self._buttons[number:]:
            self.ids.buttons.remove_widget(button)
        del self._buttons[number:]
        while len(self._buttons) < number:
            button = WordButton()
            button.bind(on_release=lambda released: self._press(released.key))
            self.ids.buttons.add_widget(button)
            self._buttons.append(button)


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
