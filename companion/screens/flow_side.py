"""A flow that stands for itself, such as what to weave or the settings, on the ask screen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from kivy.uix.boxlayout import BoxLayout

from companion.present.asking import Answer, Answered, Asked, AskedToWrite, Outcome
from companion.present.letters import Layout
from companion.screens.ask import AskScreen
from companion.screens.look import Look
from companion.screens.place import Place
from companion.screens.theme import Sizes
from companion.screens.write import WriteScreen

START_AGAIN = "Start again"


class FlowSide(BoxLayout, Place):  # type: ignore[misc]
    """Asks until the weaver has chosen, then calls `chosen` with the result."""

    def __init__(
        self,
        asked: Asked[Any],
        look: Look,
        sizes: Sizes,
        chosen: Callable[[Any], None],
        letters: Layout = Layout.QWERTY,
        **properties: Any,
    ) -> None:
        super().__init__(**properties)
        self._letters = letters
        self.write: WriteScreen | None = None
        self._first = asked
        self._chosen = chosen
        self.ask = AskScreen(asked, look, sizes)
        self.ask.bind(on_answer=lambda _screen, answer: self._follow(answer))
        self.add_widget(self.ask)

    def go_on(self) -> None:
        """Give the main answer, where there is one; words half written wait for their writer."""
        main = next((answer for answer in self.ask.asked.answers if answer.main), None)
        if main is not None and self.write is None:
            self._follow(main)

    def go_back(self) -> None:
        """Go back to the first question, or out of the words half written."""
        if self.write is not None:
            self._stop_writing()
        self.ask.asked = self._first

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self.ask.sizes = sizes
        if self.write is not None:
            self.write.sizes = sizes

    def hear_key(self, code: int) -> bool:
        """Take the keys of a real keyboard while the weaver writes."""
        return self.write is not None and self.write.hear_key(code)

    def hear_text(self, text: str) -> None:
        """Write what a real keyboard writes, while the weaver writes."""
        if self.write is not None:
            self.write.hear_text(text)

    def _show_writing(self, asked: AskedToWrite[Any]) -> None:
        def written(_screen: WriteScreen, text: str) -> None:
            self._stop_writing()
            self._go(asked.leads_to(text))

        self.write = WriteScreen(asked, self.ask.look, self.ask.sizes, self._letters)
        self.write.bind(on_written=written, on_left=lambda *_: self._stop_writing())
        self.clear_widgets()
        self.add_widget(self.write)

    def _stop_writing(self) -> None:
        self.write = None
        self.clear_widgets()
        self.add_widget(self.ask)

    def _follow(self, answer: Answer[Any]) -> None:
        self._go(answer.leads_to())

    def _go(self, outcome: Outcome[Any]) -> None:
        if isinstance(outcome, Answered):
            self._chosen(outcome.result)
        elif isinstance(outcome, AskedToWrite):
            self._show_writing(outcome)
        elif outcome is self._first:
            self.ask.asked = outcome
        else:
            # Back is always one touch, whatever was touched by mistake.
            again: Answer[Any] = Answer(START_AGAIN, lambda: self._first)
            self.ask.asked = replace(outcome, answers=(*outcome.answers, again))
