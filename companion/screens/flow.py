"""A flow of questions on the screen: the one interpreter of `Asked`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from kivy.uix.boxlayout import BoxLayout

from companion.present.asking import Answer, Answered, Asked, AskedToWrite, FlowStep
from companion.screens.ask import AskScreen
from companion.screens.surroundings import Surroundings
from companion.screens.theme import Sizes
from companion.screens.write import WriteScreen


@dataclass(frozen=True, slots=True)
class FlowEnds:
    """Where a flow leads out: `answered` with its result, `left` by the way back, where `can_leave` says so.

    Without `can_cancel` no Cancel is offered: what was answered is in force at once, and cannot be called off.
    """

    answered: Callable[[Any], None]
    left: Callable[[], None] = lambda: None
    can_leave: Callable[[], bool] = lambda: True
    can_cancel: bool = True


def asks_the_same(one: Asked[Any] | None, other: Asked[Any] | None) -> bool:
    """Tell whether this is the same question, of whose answers perhaps more is told."""
    if one is None or other is None:
        return one is other
    return (one.words, one.topic) == (other.words, other.topic)


def lies_as_before(before: Asked[Any], after: Asked[Any]) -> bool:
    """Tell whether a finger may go on: one more, and one more, where every button means what it meant, or is gone."""
    if not after.bit_by_bit or before.bit_by_bit != after.bit_by_bit:
        return False
    rows = ((before.answers, after.answers), (before.pad, after.pad), (before.foot, after.foot))
    if any(len(row) != len(other) for row, other in rows):
        return False
    slots = (slot for row, other in rows for slot in zip(row, other, strict=True))
    return all(one.words == other.words or not one.words or not other.words for one, other in slots)


class Flow:
    """Asks one question after another in the box `host`; `ask` or `write` stands there, both None between flows.

    `say_so` puts a question into the words of the weaver's trade, `drawn` is called with each question on the screen.
    What was half written stands there again when the same words are asked for. Back leads to the question before, or
    out of the first one; Cancel leads out at once, or to the first question where no way leads out.
    """

    def __init__(
        self,
        host: BoxLayout,
        around: Surroundings,
        ends: FlowEnds,
        say_so: Callable[[Asked[Any]], Asked[Any]],
        drawn: Callable[[AskScreen], None] = lambda _ask: None,
    ) -> None:
        self._host: Any = host
        self._around = around
        self._ends = ends
        self._say_so = say_so
        self._drawn = drawn
        self._trail: list[Asked[Any]] = []
        self._half_written: dict[str, str] = {}
        self._shown: Asked[Any] | None = None
        self._writing_for = ""
        self.ask: AskScreen | None = None
        self.write: WriteScreen | None = None

    @property
    def asking(self) -> Asked[Any] | None:
        """The question that the weaver looks at now, as the flow put it; None between flows."""
        return self._trail[-1] if self._trail else None

    @property
    def topics(self) -> tuple[str, ...]:
        """The names of the help for what is asked now, its own first, then those of the questions that led to it."""
        writes = (self._writing_for,) if self.write is not None else ()
        return tuple(
            dict.fromkeys(topic for topic in (*writes, *(one.topic for one in reversed(self._trail))) if topic)
        )

    @property
    def hears_next(self) -> bool:
        """Whether "next" gives an answer: not where there is no main one, nor to words half written."""
        return self.write is None and self.asking is not None and self.asking.main is not None

    def begin(self, asked: Asked[Any]) -> None:
        """Ask this as the first question of a flow."""
        self._trail = []
        self.lead_on(asked)

    def end(self) -> None:
        """Ask nothing any more; whoever owns the host puts something else there."""
        self._trail, self._shown, self.ask, self.write = [], None, None, None

    def go_on(self) -> None:
        """Give the main answer, where there is one; words half written wait for their writer."""
        main = self.asking.main if self.asking and self.write is None else None
        if main is not None:
            self._follow(main)

    def go_back(self) -> None:
        """Go back to the question before, or out of the words half written; from the first question, leave."""
        if self.write is not None:
            self.write.leave()
        elif len(self._trail) > 1:
            self._trail.pop()
            self._show()
        elif self._ends.can_leave():
            self._ends.left()

    def say_back(self) -> None:
        """Hear "back" from a foot or a key: what it means to this question, which is mostly one question back."""
        if self.asking is not None and self.asking.by_back is not None and self.write is None:
            self._follow(self.asking.by_back)
        else:
            self.go_back()

    def cancel(self) -> None:
        """Leave the questions, and change nothing."""
        if self._ends.can_leave():
            self._ends.left()
        else:
            self.begin(self._trail[0])

    def draw_anew(self) -> None:
        """Show the question again: another way leads out now."""
        if self.ask is not None:
            self._show()

    def say(self, line: str) -> None:
        """Show a line that changes nothing and moves nothing."""
        if self.ask is not None:
            self.ask.notice = line

    def instead(self, waited_at: Asked[Any], asked: Asked[Any]) -> None:
        """Put another question in the place of the one the weaver waited at.

        Where the weaver went on from it meanwhile, it is only told of more fully, for the way back.
        """
        if self.asking is not waited_at:
            if asks_the_same(waited_at, asked):
                self._trail = [asked if one is waited_at else one for one in self._trail]
        else:
            stood, told_more = None if self.ask is None else self.ask.standing, asks_the_same(waited_at, asked)
            said = self.ask.notice if self.ask is not None and told_more else ""
            self._trail[-1] = asked
            self._show(told_more)
            self.say(said)
            # A finger may lie on what is only told of more fully now, and may not on what has moved.
            if self.ask is None or self.ask.standing != stood:
                self._host.settle()

    def lead_on(self, asked: Asked[Any]) -> None:
        """Ask this next, as if the weaver had come to it by touch: the way back leads where it does from there."""
        for index, earlier in enumerate(self._trail):
            if earlier is asked or (asked.bit_by_bit and earlier.bit_by_bit == asked.bit_by_bit):
                del self._trail[index:]
                break
        self._trail.append(asked)
        if asked.refused is not None:
            words, typed = asked.refused
            self._half_written[words] = typed
        self._show()

    def half_written(self, words: str) -> str:
        """Return what was left half written when these words were asked for; empty where nothing was."""
        return self._half_written.get(words, "")

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self._around = replace(self._around, sizes=sizes)
        for screen in (self.ask, self.write):
            if screen is not None:
                screen.sizes = sizes

    def hear_key(self, code: int) -> bool:
        """Take the keys of a real keyboard while the weaver writes."""
        return self.write is not None and self.write.hear_key(code)

    def hear_text(self, text: str) -> bool:
        """Write what a real keyboard writes, while the weaver writes."""
        if self.write is not None:
            self.write.hear_text(text)
        return self.write is not None

    def _follow(self, answer: Answer[Any]) -> None:
        self._go(answer.leads_to())

    def _go(self, step: FlowStep[Any]) -> None:
        if isinstance(step, Answered):
            self._ends.answered(step.result)
        elif isinstance(step, AskedToWrite):
            self._show_writing(step)
        else:
            self.lead_on(step)

    def _show_writing(self, asked: AskedToWrite[Any]) -> None:
        def written(_screen: WriteScreen, text: str) -> None:
            self._half_written.pop(asked.words, None)
            self._stop_writing()
            self._go(asked.leads_to(text))

        def left(_screen: WriteScreen, text: str) -> None:
            # Nothing is lost by a touch made by mistake: the words stand there when the weaver comes back.
            self._half_written[asked.words] = text
            self._stop_writing()

        self._writing_for = asked.topic
        begun = replace(asked, written=self._half_written.get(asked.words, asked.written))
        around = self._around
        self.write = WriteScreen(begun, around.look, around.sizes, around.letters, around.mirrored)
        self.write.bind(on_written=written, on_left=left)
        self._put(self.write)

    def _stop_writing(self) -> None:
        self.write = None
        if self.ask is not None:
            self._put(self.ask)

    def _show(self, told_more: bool = False) -> None:
        asked = self._trail[-1]
        if self._shown is None or not (told_more or lies_as_before(self._shown, asked)):
            self._host.settle()
        self._shown = asked
        shown = self._say_so(asked)
        if self.ask is None:
            self.ask = AskScreen(shown, self._around.look, self._around.sizes, self._around.mirrored)
            self.ask.bind(on_answer=lambda _screen, answer: self._follow(answer))
            self.ask.bind(on_back=lambda _screen: self.go_back(), on_cancel=lambda _screen: self.cancel())
            ask = self.ask
            ask.ids.cloth.bind(size=lambda *_: self._drawn(ask))
        self.ask.show(shown, self._ways_back())
        self._put(self.ask)
        self._drawn(self.ask)

    def _ways_back(self) -> tuple[bool, bool]:
        """Return whether Back and Cancel lead anywhere, and not both to the same."""
        steps, out = len(self._trail) - 1, self._ends.can_leave()
        return steps > 0 or out, self._ends.can_cancel and steps > (0 if out else 1)

    def _put(self, screen: BoxLayout) -> None:
        if screen.parent is not self._host:
            self._host.settle()
            self._host.clear_widgets()
            self._host.add_widget(screen)
