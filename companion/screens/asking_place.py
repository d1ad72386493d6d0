"""A warp on the screen, whatever is done with it: its own screen, the questions of a flow, or the list of cords.

What weaving and dressing share stands here: which of the three is shown, the keys while somebody writes, the words of
the trade, and the cords that are ticked off.
"""

from __future__ import annotations

from functools import partial
from typing import Any

from kivy.uix.boxlayout import BoxLayout

from companion.present import help_topics
from companion.present.asking import Asked
from companion.present.cords import CordRow, cord_signs
from companion.present.trade_words import AS_WRITTEN, Said, in_trade_words, own_words
from companion.screens.ask import AskScreen
from companion.screens.cords import CordsScreen
from companion.screens.flow import Flow, FlowEnds
from companion.screens.place import Place
from companion.screens.surroundings import Surroundings
from companion.screens.theme import Sizes
from companion.screens.widgets.foot_row import FootKey
from companion.screens.write import WriteScreen
from companion.weaving.decide import Command, tie_treadle
from companion.weaving.dressing_events import DressingTask
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp


class AskingPlace(BoxLayout, Place):  # type: ignore[misc]
    """One warp as it stands. `_own` is its own screen, which the derived class makes; `_ask` puts a question there.

    `own_topics` names the help of that screen.
    """

    own_topics: tuple[str, ...] = ()

    def __init__(self, warp: Warp, progress: Progress, around: Surroundings, ends: FlowEnds, **properties: Any) -> None:
        super().__init__(**properties)
        self._warp, self._progress, self._around = warp, progress, around
        self._own: Any = None
        self.cords: CordsScreen | None = None
        self._flow = Flow(self, around, ends, self._said, drawn=self._draw_asked)

    @property
    def warp(self) -> Warp:
        """The warp on the loom."""
        return self._warp

    @property
    def progress(self) -> Progress:
        """How things stand, as last told."""
        return self._progress

    @property
    def ask(self) -> AskScreen | None:
        """The question on the screen; None where its own screen, the cords or words to write are shown."""
        return self._flow.ask if self._flow.write is None else None

    @property
    def write(self) -> WriteScreen | None:
        """The screen on which the weaver writes; None where nothing is written."""
        return self._flow.write

    @property
    def hears_next(self) -> bool:
        """Whether "next" gives the answer that stands out."""
        return self._flow.hears_next

    def say(self, line: str) -> None:
        """Show a line until the next step; it changes nothing."""
        self._own.message = self._said(line)
        if self.cords is not None:
            self.cords.say(line)

    def hear_key(self, code: int) -> bool:
        """Take the keys of a real keyboard while the weaver writes."""
        return self._flow.hear_key(code)

    def hear_text(self, text: str) -> bool:
        """Write what a real keyboard writes, while the weaver writes."""
        return self._flow.hear_text(text)

    @property
    def topics(self) -> tuple[str, ...]:
        """The help of the question, of the cords, or of the screen of its own."""
        if self._flow.asking is not None:
            return (*self._flow.topics, *self.own_topics)
        return ((help_topics.CORDS,) if self.cords is not None else ()) + self.own_topics

    def show_pedal(self, words: str) -> None:
        """Show how it stands with the pedal, for as long as it stands so."""
        self._own.pedal = words

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self._own.sizes = sizes
        self._flow.fit(sizes)
        if self.cords is not None:
            self.cords.sizes = sizes

    def _draw_asked(self, ask: AskScreen) -> None:
        """Draw what a question is about."""
        raise NotImplementedError

    def _submit(self, command: Command) -> None:
        """Hand a command on, and return at once."""
        raise NotImplementedError

    def _after_ties(self) -> DressingTask | None:
        """Return what of the dressing comes after the cords; None where weaving does."""
        return None

    def _all_tied(self) -> None:
        """The weaver says that every cord is tied."""
        raise NotImplementedError

    def _said(self, said: Said) -> Said:
        # Names are gathered only where they are needed: not at every pick of a weaver who says shaft.
        trade = self._around.look.trade
        own = () if trade == AS_WRITTEN else own_words(self._warp, self._progress)
        return in_trade_words(said, trade, own)

    def _ask(self, asked: Asked[Any]) -> None:
        self.cords = None
        self._flow.begin(asked)

    def _show_own(self) -> None:
        """Ask nothing any more, and show the screen of its own."""
        self._flow.end()
        self.cords = None
        self._put(self._own)

    def _show_cords(self, others: tuple[FootKey, ...] = ()) -> None:
        signs = self._said(cord_signs(self._warp, self._progress, self._after_ties()))
        if signs is not None:
            around = self._around
            self.cords = CordsScreen(signs, around.look, self._own.sizes, around.mirrored, others)
            self.cords.bind(
                on_tick=lambda _screen, row: self._tick(row),
                on_tied=lambda _screen: self._all_tied(),
                on_later=lambda _screen: self._show_own(),
            )
            self._put(self.cords)

    def _write_cords(self, line: str) -> None:
        signs = self._said(cord_signs(self._warp, self._progress, self._after_ties()))
        if self.cords is not None and signs is not None:
            self.cords.signs = signs
            if line:
                self.cords.say(line)

    def _tick(self, row: CordRow) -> None:
        self._submit(partial(tie_treadle, treadle=row.treadle, tied=not row.done))

    def _put(self, screen: BoxLayout) -> None:
        self.settle()
        self.clear_widgets()
        self.add_widget(screen)
