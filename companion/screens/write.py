"""The write screen: words of the weaver's own, by the keys on the screen or by a real keyboard."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from kivy.lang import Builder
from kivy.properties import ObjectProperty
from kivy.uix.boxlayout import BoxLayout

from companion.present import letters
from companion.present.asking import AskedToWrite
from companion.present.button_words import BACK, DONE
from companion.present.letters import LetterKey, Writing
from companion.screens.look import Look
from companion.screens.theme import Sizes
from companion.screens.widgets import fit_label, letter_board
from companion.screens.widgets.foot_row import FootKey, FootRow

_DRAWN_WITH = (fit_label, letter_board)
"""Imported for the kv rules, which find these widgets by name."""
_BACKSPACE, _ENTER, _ENTER_OF_NUMBERS, _ESCAPE, _SPACE = 8, 13, 271, 27, 32
_PRINTED = range(33, 256)
"""Codes of the keys that write a letter, as Kivy's window gives them: the letter itself comes as text."""


class WriteScreen(BoxLayout):  # type: ignore[misc]
    """Asks `asked` to be written; says `on_written` with the words, or `on_left` with what stood there so far."""

    # rebind: the rules of write.kv read parts of these, and follow only so.
    asked = ObjectProperty(None, rebind=True)
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)
    writing = ObjectProperty(Writing(), rebind=True)
    rows = ObjectProperty(())

    __events__ = ("on_written", "on_left")

    def __init__(
        self,
        asked: AskedToWrite[Any],
        look: Look,
        sizes: Sizes,
        layout: letters.KeyboardLayout,
        mirrored: bool = False,
        **rest: Any,
    ) -> None:
        writing = Writing(asked.written, capital=not asked.written and not asked.signs, signs=asked.signs)
        self._layout = layout
        super().__init__(asked=asked, look=look, sizes=sizes, writing=writing, **rest)
        self.foot = FootRow(mirrored)
        self.add_widget(self.foot)
        self.bind(writing=self._write, sizes=self._fill_foot)
        self._fill_foot()
        self._write()

    def on_written(self, text: str) -> None:
        """The weaver is done, and this is what stands there."""

    def on_left(self, text: str) -> None:
        """The weaver left; this much stood there."""

    def leave(self) -> None:
        """Go back, and hand on what is written so far."""
        self.dispatch("on_left", self.writing.text)

    def press(self, key: LetterKey) -> None:
        """A key of the board was touched."""
        self.writing = self.writing.pressed(key)

    def finish(self) -> None:
        """Hand on what is written; nothing written is the same as going back."""
        if self.writing.text.strip():
            self.dispatch("on_written", self.writing.text.strip())
        else:
            self.leave()

    def hear_key(self, code: int) -> bool:
        """Take the keys of a real keyboard that edit or end, and let none that writes mean anything else."""
        if code == _BACKSPACE:
            self.writing = self.writing.deleted()
        elif code in (_ENTER, _ENTER_OF_NUMBERS):
            self.finish()
        elif code == _ESCAPE:
            self.leave()
        return code in (_BACKSPACE, _ENTER, _ENTER_OF_NUMBERS, _ESCAPE, _SPACE) or code in _PRINTED

    def hear_text(self, text: str) -> None:
        """Write what a real keyboard writes."""
        self.writing = self.writing.typed(text)

    def _fill_foot(self, *_: Any) -> None:
        done = FootKey(DONE, self.finish, main=True)
        self.foot.fill(self.look, self.sizes, back=FootKey(BACK, self.leave), done=done)

    def _write(self, *_: Any) -> None:
        self.rows = letters.rows_of(self._layout, self.writing)


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
