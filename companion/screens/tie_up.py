"""The tie-up screen: the search as it goes on, then the answer, drawn and in words, to take or to leave."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

from kivy.lang import Builder
from kivy.properties import ObjectProperty
from kivy.uix.boxlayout import BoxLayout

from companion.present.tie_up import searching_signs
from companion.remap.loom import Loom
from companion.screens.look import Look
from companion.screens.place import Place
from companion.screens.theme import Sizes
from companion.screens.widgets import harness_picture
from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.word_button import WordButton

_DRAWN_WITH = (harness_picture,)
"""Imported for the kv rules, which find this widget by name."""
STOP = "Stop"
LEAVE = "Another loom"
BACK = "Back to the warps"
SAVE = "Save the card"
MORE = "More of the warp"


class TieUpScreen(BoxLayout, Place):  # type: ignore[misc]
    """Shows `signs`. `accept`, `leave` and `stop` are called when the weaver takes the answer, goes back, or
    has waited long enough; `try_loom` when the loom is to be used in another way, `save` for the card to print,
    `tell_more` to tell more of the warp first, `tied` when the answer is taken and is how the treadles are tied."""

    # rebind: the rules of tie_up.kv read parts of these, and follow only so.
    signs = ObjectProperty(None, rebind=True)
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)

    def __init__(
        self,
        look: Look,
        sizes: Sizes,
        accept: Callable[[], None],
        leave: Callable[[], None],
        stop: Callable[[], None],
        try_loom: Callable[[Loom], None],
        save: Callable[[], None] = lambda: None,
        tell_more: Callable[[], None] = lambda: None,
        tied: Callable[[], None] = lambda: None,
        **rest: Any,
    ) -> None:
        super().__init__(signs=searching_signs(None), look=look, sizes=sizes, **rest)
        self._accept = accept
        self._leave = leave
        self._stop = stop
        self._try_loom = try_loom
        self._save = save
        self._tell_more = tell_more
        self._tied = tied
        self.bind(signs=self._write, sizes=self._write)
        self._write()

    def go_on(self) -> None:
        """Take the answer, where there is one."""
        if self.signs.accept:
            self._accept()

    def go_back(self) -> None:
        """Leave the search or the answer."""
        self._leave()

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self.sizes = sizes

    def button(self, words: str) -> WordButton:
        """Return the button with these words; StopIteration where there is none."""
        buttons: list[WordButton] = self.ids.buttons.children
        return next(button for button in buttons if button.text == words)

    def _write(self, *_: Any) -> None:
        lines, signs = self.ids.lines, self.signs
        lines.clear_widgets()
        for text in (*signs.cords, *signs.feet):
            lines.add_widget(
                FitLabel(text=text, wanted_size=self.sizes.word, color=self.look.text, halign="left", valign="middle")
            )
        buttons = self.ids.buttons
        buttons.clear_widgets()
        if signs.searching:
            buttons.add_widget(self._button(STOP, self._stop, main=True))
        buttons.add_widget(self._button(LEAVE if signs.harness or signs.searching else BACK, self._leave, main=False))
        for words, loom in signs.others:
            buttons.add_widget(self._button(words, partial(self._try_loom, loom), main=False))
        if signs.harness:
            buttons.add_widget(self._button(SAVE, self._save, main=False))
        if signs.accept:
            buttons.add_widget(self._button(MORE, self._tell_more, main=False))
        if signs.tied:
            buttons.add_widget(self._button(signs.tied, self._tied, main=False))
        if signs.accept:
            buttons.add_widget(self._button(signs.accept, self._accept, main=True))

    def _button(self, words: str, act: Callable[[], None], main: bool) -> WordButton:
        look: Look = self.look
        button = WordButton(
            text=words,
            wanted_size=self.sizes.word,
            ground=look.left_foot if main else look.button,
            ground_down=look.button_down,
            color=look.on_foot if main else look.text,
        )
        button.bind(on_release=lambda _button: act())
        return button


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
