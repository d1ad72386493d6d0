"""The place of a flow of questions that stands for itself: asked until the weaver has chosen, or goes back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from kivy.uix.boxlayout import BoxLayout

from companion.present.asking import Asked
from companion.present.trade_words import in_trade_words
from companion.screens.ask import AskScreen
from companion.screens.flow import Flow, FlowEnds
from companion.screens.place import Place
from companion.screens.surroundings import Surroundings
from companion.screens.theme import Sizes
from companion.screens.write import WriteScreen


class FlowPlace(BoxLayout, Place):  # type: ignore[misc]
    """Asks until the weaver has chosen, then calls `chosen` with the result; back is always one touch.

    `can_cancel` as `FlowEnds` has it.
    """

    def __init__(
        self,
        asked: Asked[Any],
        around: Surroundings,
        chosen: Callable[[Any], None],
        can_cancel: bool = True,
        **properties: Any,
    ) -> None:
        super().__init__(**properties)
        trade = around.look.trade
        ends = FlowEnds(chosen, self.go_out, lambda: self.can_leave, can_cancel)
        self._flow = Flow(self, around, ends, lambda question: in_trade_words(question, trade, question.own))
        self._flow.begin(asked)

    def take_way_back(self, leave: Callable[[], None] | None) -> None:
        """Lead out to where the weaver came from, where there is such a place."""
        super().take_way_back(leave)
        self._flow.draw_anew()

    @property
    def ask(self) -> AskScreen | None:
        """The screen of the question."""
        return self._flow.ask

    @property
    def write(self) -> WriteScreen | None:
        """The screen on which the weaver writes; None where nothing is written."""
        return self._flow.write

    @property
    def asking(self) -> Asked[Any] | None:
        """The question that the weaver looks at now, as the flow put it."""
        return self._flow.asking

    def go_on(self) -> None:
        """Give the main answer, where there is one."""
        self._flow.go_on()

    def go_back(self) -> None:
        """Go back to the question before, or out of the words half written; from the first question, leave."""
        self._flow.go_back()

    def say(self, line: str) -> None:
        """Show a line that changes nothing and moves nothing."""
        self._flow.say(line)

    def instead(self, waited_at: Asked[Any], asked: Asked[Any]) -> None:
        """Put another question in the place of the one the weaver waited at; nothing where the weaver went on."""
        self._flow.instead(waited_at, asked)

    def lead_on(self, asked: Asked[Any]) -> None:
        """Ask this next, as if the weaver had come to it by touch."""
        self._flow.lead_on(asked)

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self._flow.fit(sizes)

    def hear_key(self, code: int) -> bool:
        """Take the keys of a real keyboard while the weaver writes."""
        return self._flow.hear_key(code)

    def hear_text(self, text: str) -> bool:
        """Write what a real keyboard writes, while the weaver writes."""
        return self._flow.hear_text(text)

    @property
    def topics(self) -> tuple[str, ...]:
        """The help of the question."""
        return self._flow.topics

    @property
    def hears_next(self) -> bool:
        """Whether "next" gives the answer that stands out."""
        return self._flow.hears_next
