"""A flow that stands for itself, such as what to weave or the settings, on the ask screen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from kivy.uix.boxlayout import BoxLayout

from companion.present.asking import Answer, Answered, Asked, AskedToWrite, FlowStep
from companion.present.letters import KeyboardLayout
from companion.present.trade_words import in_trade_words
from companion.screens.ask import AskScreen
from companion.screens.look import Look
from companion.screens.place import Place
from companion.screens.theme import Sizes
from companion.screens.write import WriteScreen

START_AGAIN = "Start again"
GO_BACK = "Go back"


class FlowPlace(BoxLayout, Place):  # type: ignore[misc]
    """Asks until the weaver has chosen, then calls `chosen` with the result; back is always one touch."""

    def __init__(
        self,
        asked: Asked[Any],
        look: Look,
        sizes: Sizes,
        chosen: Callable[[Any], None],
        letters: KeyboardLayout = KeyboardLayout.QWERTY,
        **properties: Any,
    ) -> None:
        super().__init__(**properties)
        self._letters = letters
        self.write: WriteScreen | None = None
        self._trail = [asked]
        self._chosen = chosen
        self.ask = AskScreen(in_trade_words(asked, look.trade, asked.own), look, sizes)
        self.ask.bind(on_answer=lambda _screen, answer: self._follow(answer))
        self.add_widget(self.ask)

    @property
    def asking(self) -> Asked[Any]:
        """The question that the weaver looks at now, as the flow put it."""
        return self._trail[-1]

    def go_on(self) -> None:
        """Give the main answer, where there is one; words half written wait for their writer."""
        main = self.asking.main
        if main is not None and self.write is None:
            self._follow(main)

    def go_back(self) -> None:
        """Go back to the question before, or out of the words half written."""
        if self.write is not None:
            self._stop_writing()
        elif len(self._trail) > 1:
            self._trail.pop()
            self._show()

    def say(self, line: str) -> None:
        """Show a line that changes nothing and moves nothing."""
        self.ask.notice = line

    def instead(self, waited_at: Asked[Any], asked: Asked[Any]) -> None:
        """Put another question in the place of the one the weaver waited at; nothing where the weaver went on."""
        if self.asking is waited_at:
            self._trail[-1] = asked
            self._show()

    def lead_on(self, asked: Asked[Any]) -> None:
        """Ask this next, as if the weaver had come to it by touch: the way back leads where it does from there."""
        self._ask(asked)

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

    def _go(self, outcome: FlowStep[Any]) -> None:
        if isinstance(outcome, Answered):
            self._chosen(outcome.result)
        elif isinstance(outcome, AskedToWrite):
            self._show_writing(outcome)
        else:
            self._ask(outcome)

    def _ask(self, asked: Asked[Any]) -> None:
        for index, earlier in enumerate(self._trail):
            if earlier is asked or (asked.bit_by_bit and earlier.bit_by_bit == asked.bit_by_bit):
                del self._trail[index:]
                break
        self._trail.append(asked)
        self._show()

    def _show(self) -> None:
        asked = self.asking
        whole = replace(asked, foot=(*self._ways_back(), *asked.foot))
        self.ask.asked = in_trade_words(whole, self.ask.look.trade, asked.own)

    def _ways_back(self) -> tuple[Answer[Any], ...]:
        """Return the ways back, whatever was touched by mistake."""
        again: Answer[Any] = Answer(START_AGAIN, lambda: self._trail[0])
        back: Answer[Any] = Answer(GO_BACK, lambda: self._trail[-2])
        return ((), (again,), (back, again))[min(len(self._trail) - 1, 2)]
