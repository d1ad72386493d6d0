"""A place that takes every key for itself, to learn what a pedal that acts as a keyboard sends."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from kivy.uix.boxlayout import BoxLayout

from companion.present.asking import Answered, Asked
from companion.screens.ask import AskScreen
from companion.screens.place import Place
from companion.screens.surroundings import Surroundings
from companion.screens.theme import Sizes


class TeachPlace(BoxLayout, Place):  # type: ignore[misc]
    """Shows a question whose answer is a key; `key` is told its code, `answered` the result of an answer by touch."""

    def __init__(
        self,
        asked: Asked[Any],
        around: Surroundings,
        key: Callable[[int], None],
        answered: Callable[[Any], None],
        **properties: Any,
    ) -> None:
        super().__init__(**properties)
        self._key = key
        self.ask = AskScreen(asked, around.look, around.sizes)
        self.ask.bind(on_answer=lambda _screen, answer: self._follow(answer.leads_to(), answered))
        self.add_widget(self.ask)

    def ask_next(self, asked: Asked[Any]) -> None:
        """Ask for another key."""
        self.ask.asked = asked

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self.ask.sizes = sizes

    def hear_key(self, code: int) -> bool:
        """Hand the key on."""
        self._key(code)
        return True

    @staticmethod
    def _follow(outcome: Any, answered: Callable[[Any], None]) -> None:
        if isinstance(outcome, Answered):
            answered(outcome.result)
