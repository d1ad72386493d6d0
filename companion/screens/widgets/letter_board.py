"""A keyboard on the screen, with keys for a thumb; what its keys mean is none of its business."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from kivy.clock import Clock
from kivy.properties import NumericProperty, ObjectProperty
from kivy.uix.boxlayout import BoxLayout

from companion.present.letters import KeyAction, LetterKey
from companion.screens.look import Look
from companion.screens.widgets.word_button import WordButton

_HELD_S, _AGAIN_S = 0.5, 0.08
"""How long Delete is held before it goes on by itself, and how soon it does so again."""


class LetterBoard(BoxLayout):  # type: ignore[misc]
    """Draws `rows` of `LetterKey` values; says `on_key` with the key that was touched, Delete as long as it is held."""

    rows = ObjectProperty(())
    look = ObjectProperty(None, allownone=True)
    gap = NumericProperty(6)
    letter_size = NumericProperty(20)

    __events__ = ("on_key",)

    def __init__(self, **properties: Any) -> None:
        super().__init__(orientation="vertical", **properties)
        self._buttons: list[list[WordButton]] = []
        self._went_on = False
        self.bind(rows=self._write, look=self._write, gap=self._write, letter_size=self._write)
        self._write()

    def on_key(self, key: LetterKey) -> None:
        """The weaver touched a key."""

    def button(self, words: str) -> WordButton:
        """Return the button of the key with these words; StopIteration where there is none."""
        return next(button for button, key in self._pairs() if key.words == words)

    def _pairs(self) -> Iterator[tuple[WordButton, LetterKey]]:
        for buttons, keys in zip(self._buttons, self.rows, strict=True):
            yield from zip(buttons, keys, strict=True)

    def _write(self, *_: Any) -> None:
        # Kivy tells of its properties while it is still being built.
        if self.look is None:
            return
        self.spacing = self.gap
        if [len(row) for row in self._buttons] != [len(row) for row in self.rows]:
            self._build()
        for button, key in self._pairs():
            look: Look = self.look
            button.text = key.words
            button.size_hint_x = key.share
            button.wanted_size = self.letter_size
            button.ground = look.button
            button.ground_down = look.button_down
            button.color = look.text

    def _build(self) -> None:
        self.clear_widgets()
        self._buttons = []
        for row, keys in enumerate(self.rows):
            line = BoxLayout(spacing=self.gap)
            self._buttons.append([self._button(row, column) for column in range(len(keys))])
            for button in self._buttons[-1]:
                line.add_widget(button)
            self.add_widget(line)

    def _button(self, row: int, column: int) -> WordButton:
        button = WordButton()
        # The key is looked up when it is touched: what stands at a place changes with capitals and signs.
        button.bind(on_release=lambda _button: self._released(self.rows[row][column]))
        button.bind(on_press=lambda _button: self._pressed(button, self.rows[row][column]))
        return button

    def _released(self, key: LetterKey) -> None:
        # Whoever held it has had what was wanted by then.
        if not self._went_on:
            self.dispatch("on_key", key)
        self._went_on = False

    def _pressed(self, button: WordButton, key: LetterKey) -> None:
        self._went_on = False

        def again(_seconds: float) -> bool:
            held: bool = button.state == "down"
            if held:
                self._went_on = True
                self.dispatch("on_key", key)
            return held

        def begin(_seconds: float) -> None:
            if again(0):
                Clock.schedule_interval(again, _AGAIN_S)

        if key.press is KeyAction.DELETE:
            Clock.schedule_once(begin, _HELD_S)
