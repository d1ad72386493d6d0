"""A flow that stands for itself, such as what to weave or the settings, on the ask screen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from kivy.uix.boxlayout import BoxLayout

from companion.present.asking import Answer, Answered, Asked
from companion.screens.ask import AskScreen
from companion.screens.look import Look
from companion.screens.place import Place
from companion.screens.theme import Sizes

START_AGAIN = "Start again"


class FlowSide(BoxLayout, Place):  # type: ignore[misc]
    """Asks until the weaver has chosen, then calls `chosen` with the result."""

    def __init__(
        self, asked: Asked[Any], look: Look, sizes: Sizes, chosen: Callable[[Any], None], **properties: Any
    ) -> None:
        super().__init__(**properties)
        self._first = asked
        self._chosen = chosen
        self.ask = AskScreen(asked, look, sizes)
        self.ask.bind(on_answer=lambda _screen, answer: self._follow(answer))
        self.add_widget(self.ask)

    def go_on(self) -> None:
        """Give the main answer, where there is one."""
        main = next((answer for answer in self.ask.asked.answers if answer.main), None)
        if main is not None:
            self._follow(main)

    def go_back(self) -> None:
        """Go back to the first question."""
        self.ask.asked = self._first

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self.ask.sizes = sizes

    def _follow(self, answer: Answer[Any]) -> None:
        outcome = answer.leads_to()
        if isinstance(outcome, Answered):
            self._chosen(outcome.result)
        elif outcome is self._first:
            self.ask.asked = outcome
        else:
            # Back is always one touch, whatever was touched by mistake.
            again: Answer[Any] = Answer(START_AGAIN, lambda: self._first)
            self.ask.asked = replace(outcome, answers=(*outcome.answers, again))
