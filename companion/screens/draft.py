"""The draft screen: threading, tie-up, treadling and cloth, to look over, to change by touch, and to put on a loom."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from pathlib import Path
from typing import Any

from kivy.lang import Builder
from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from companion.draft.cloth import Surface, crossings_of
from companion.draft.edits import History
from companion.draft.errors import DraftError
from companion.draft.floats import longest_floats
from companion.draft.model import Draft
from companion.present import wording
from companion.present.draft_sheet import Square
from companion.present.draft_touch import can_edit, changed
from companion.present.draft_view import view_of
from companion.screens.look import Look
from companion.screens.place import Place
from companion.screens.theme import Sizes
from companion.screens.widgets import draft_picture
from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.word_button import WordButton

_DRAWN_WITH = (draft_picture, FitLabel)
"""Imported for the kv rules, which find these widgets by name."""
FLOATS_OVER = (None, 3, 5, 7)
"""What the floats button goes through: no floats marked, then those longer than so many threads."""
_DIM = 0.45
"""How strongly a button is drawn that has nothing to do."""


class Deed(Enum):
    """What the buttons do, in the order in which they stand."""

    LEAVE = "leave"
    UNDO = "undo"
    REDO = "redo"
    SURFACE = "surface"
    FLOATS = "floats"
    EDIT = "edit"
    WEAVE = "weave"


class DraftScreen(BoxLayout, Place):  # type: ignore[misc]
    """Shows a draft called `name`. `weave` and `leave` are called with the draft as it is then."""

    # rebind: the rules of draft.kv read parts of these, and follow only so.
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)
    title = StringProperty("")
    line = StringProperty("")
    view = ObjectProperty(None)
    cell = NumericProperty(16)
    editing = BooleanProperty(False)

    def __init__(
        self,
        name: str,
        draft: Draft,
        look: Look,
        sizes: Sizes,
        weave: Callable[[Draft], None],
        leave: Callable[[Draft], None],
        **rest: Any,
    ) -> None:
        super().__init__(look=look, sizes=sizes, title=name, view=view_of(draft), **rest)
        self.history = History(draft)
        self._weave = weave
        self._leave = leave
        self._surface = Surface.FACE
        self._floats = 0
        self._new_to_editing = False
        self._deeds: dict[Deed, Callable[[], None]] = {
            Deed.LEAVE: lambda: self._leave(self.history.now),
            Deed.UNDO: lambda: self._become(self.history.undo()),
            Deed.REDO: lambda: self._become(self.history.redo()),
            Deed.SURFACE: self._turn_over,
            Deed.FLOATS: self._mark_other_floats,
            Deed.EDIT: self._start_or_stop_editing,
            Deed.WEAVE: lambda: self._weave(self.history.now),
        }
        self._buttons = {deed: self._button(deed) for deed in Deed}
        self.fbind("sizes", self._write)
        picture = self.ids.picture
        picture.bind(on_square=lambda _picture, square: self.change(square))
        picture.bind(sheet=self._say_where, aimed=self._say_where)
        picture.bind(first_end=self._moved, first_pick=self._moved)
        self._write()

    @property
    def draft(self) -> Draft:
        """The draft as it is now."""
        return self.history.now

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self.sizes = sizes

    def say(self, line: str) -> None:
        """Show a line until the draft is moved or changed."""
        self.line = line

    def button(self, deed: Deed) -> WordButton:
        """Return the button for this."""
        return self._buttons[deed]

    def change(self, square: Square) -> None:
        """Change one square of the draft."""
        self._new_to_editing = False
        try:
            self._become(self.history.edited(changed(self.draft, square)))
        except DraftError as error:
            self.say(str(error))

    def _become(self, history: History) -> None:
        self.history = history
        self._show()

    def _turn_over(self) -> None:
        self._surface = Surface.BACK if self._surface is Surface.FACE else Surface.FACE
        self._show()

    def _mark_other_floats(self) -> None:
        self._floats = (self._floats + 1) % len(FLOATS_OVER)
        self._show()
        if FLOATS_OVER[self._floats] is not None:
            self.say(wording.longest_words(longest_floats(crossings_of(self.draft), places=0), self._surface))

    def _start_or_stop_editing(self) -> None:
        self.editing = self._new_to_editing = not self.editing
        self._write()

    def _moved(self, *_: Any) -> None:
        self._new_to_editing = False

    def _show(self) -> None:
        self.view = view_of(self.draft, self._surface, FLOATS_OVER[self._floats])
        self._write()

    def _say_where(self, *_: Any) -> None:
        picture = self.ids.picture
        if picture.aimed is not None:
            self.line = wording.square_words(self.draft, picture.aimed)
        elif picture.sheet is not None and self.editing and not can_edit(picture.sheet):
            self.line = wording.TOO_SMALL_TO_EDIT
        elif self._new_to_editing:
            self.line = wording.HOW_TO_EDIT
        elif picture.sheet is not None:
            self.line = wording.sheet_words(self.draft, picture.sheet)

    def _write(self, *_: Any) -> None:
        self.cell = self.sizes.square_to_touch if self.editing else self.sizes.square
        floats = FLOATS_OVER[self._floats]
        words = {
            Deed.LEAVE: wording.LEAVE_DRAFT,
            Deed.UNDO: wording.UNDO_EDIT,
            Deed.REDO: wording.REDO_EDIT,
            Deed.SURFACE: wording.surface_words(self._surface),
            Deed.FLOATS: wording.floats_words(floats),
            Deed.EDIT: wording.editing_words(self.editing),
            Deed.WEAVE: wording.WEAVE_DRAFT,
        }
        possible = {Deed.UNDO: bool(self.history.past), Deed.REDO: bool(self.history.future)}
        switched_on = {Deed.EDIT: self.editing, Deed.FLOATS: floats is not None}
        for deed, button in self._buttons.items():
            button.text = words[deed]
            button.wanted_size = self.sizes.button
            button.disabled = not possible.get(deed, True)
            button.opacity = _DIM if button.disabled else 1.0
            lit = deed is Deed.WEAVE or switched_on.get(deed, False)
            on = self.look.left_foot if deed is Deed.WEAVE else self.look.right_foot
            button.ground = on if lit else self.look.button
            button.color = self.look.on_foot if lit else self.look.text
        self._say_where()

    def _button(self, deed: Deed) -> WordButton:
        button = WordButton(ground_down=self.look.button_down, disabled_color=self.look.text)
        button.bind(on_release=lambda _button: self._deeds[deed]())
        self.ids.buttons.add_widget(button)
        return button


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
