"""A loom being dressed: the dressing screen and its questions; takes touches and presses, hands commands on.

What became of a command comes back through `told`, on Kivy's thread.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from kivy.uix.boxlayout import BoxLayout

from companion.present.asking import Asked, Elsewhere
from companion.present.cords import CordRow, cord_signs
from companion.present.deeds import NOTHING_TO_UNDO, ask_undo
from companion.present.dress import DressButton, DressSigns, dress_signs
from companion.present.dress_questions import (
    AtDressing,
    Beside,
    ask_dents,
    ask_groups,
    ask_looks_so,
    ask_mistake,
    ask_tasks,
    at_once,
)
from companion.present.dressing_words import MAKING_READY
from companion.present.note import NOTE_WORDS, ask_note
from companion.present.threads_picture import ThreadInks
from companion.present.trade_words import AS_WRITTEN, Said, in_trade_words, own_words
from companion.screens.ask import AskScreen
from companion.screens.cords import CordsScreen
from companion.screens.dress import DressScreen
from companion.screens.flow import Flow, FlowEnds
from companion.screens.place import Place
from companion.screens.surroundings import Surroundings
from companion.screens.theme import Sizes, Theme, from_hex
from companion.screens.write import WriteScreen
from companion.weaving.decide import Command, pause, re_tie, resume, tie_treadle
from companion.weaving.dressing import is_untouched, sley_of
from companion.weaving.dressing_commands import settle_task
from companion.weaving.dressing_events import DressingTask, TaskState
from companion.weaving.dressing_way import DressingWay
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp


@dataclass(frozen=True, slots=True)
class DressingEnds:
    """Where what the weaver does goes: `submit` takes commands and returns at once, `leave_for` goes elsewhere.

    `say_aloud` says a line by the weaver's own setting of the voice. `pressed` hears a touch that says "done", to judge
    it like a press of the pedal before it counts; where it is None the touch counts at once. `way_changed` hears of
    another way of dressing; `make_ready` works out what its steps need, at once or beside the screen, and calls then.
    `beside` makes a question that takes a while.
    """

    submit: Callable[[Command], None]
    leave_for: Callable[[Elsewhere], None] = lambda _where: None
    say_aloud: Callable[[str], None] = lambda _line: None
    pressed: Callable[[], None] | None = None
    way_changed: Callable[[DressingWay], None] = lambda _way: None
    make_ready: Callable[[DressingWay, Progress, Callable[[], None]], None] = lambda _way, _progress, use: use()
    beside: Beside = at_once


class DressingPlace(BoxLayout, Place):  # type: ignore[misc]
    """The dressing of one warp on the screen; `away_ms` is the time since the journal's last entry.

    After a break the first thing asked is whether the last threads hang as they are drawn.
    """

    def __init__(
        self,
        warp: Warp,
        progress: Progress,
        ends: DressingEnds,
        around: Surroundings,
        way: DressingWay,
        away_ms: int = 0,
        **properties: Any,
    ) -> None:
        super().__init__(**properties)
        self._warp, self._progress, self._way = warp, progress, way
        self._wanted = way
        self._ends = ends
        self._around = around
        self.dress = DressScreen(self._signs(), around.look, around.sizes, mirrored=around.mirrored)
        self.dress.bind(
            on_next=lambda *_: ends.pressed() if ends.pressed else self.go_on(),
            on_action=lambda _screen, action: self.act(action),
            on_tasks=lambda *_: self.act(DressButton.TASKS),
            on_again=lambda *_: self.act(DressButton.AGAIN),
        )
        self.cords: CordsScreen | None = None
        self._flow = Flow(
            self,
            around,
            FlowEnds(self._answered, self._show_step, lambda: not self._progress.now.paused),
            self._said,
            drawn=self._draw_asked,
        )
        self.add_widget(self.dress)
        if is_untouched(progress.now.dressing):
            # Nothing hangs yet that could look otherwise.
            if progress.now.paused:
                ends.submit(resume)
        # A program that was cut off left no pause behind.
        elif progress.now.paused or any(task.done for task in progress.now.dressing.tasks):
            self._flow.begin(ask_looks_so(warp, progress, way, away_ms))

    @property
    def ask(self) -> AskScreen | None:
        """The question on the screen; None where the step, the cords or words to write are shown."""
        return self._flow.ask if self._flow.write is None else None

    @property
    def write(self) -> WriteScreen | None:
        """The screen on which the weaver writes; None where nothing is written."""
        return self._flow.write

    @property
    def _task(self) -> DressingTask | None:
        return self._way.task(self._warp, self._progress)

    def go_on(self) -> None:
        """The weaver says "next": the main answer of a question, else what is shown is done."""
        task = self._task
        if self._flow.asking is not None:
            self._flow.go_on()
        elif self.cords is not None:
            self.cords.go_on()
        elif task is None:
            self._ends.leave_for(Elsewhere.WEAVING)
        elif task is DressingTask.TIE_UP and cord_signs(self._warp, self._progress) is not None:
            self._show_cords()
        elif task is DressingTask.SLEYING and not sley_of(self._warp, self._progress.now.dressing).dents:
            self._flow.begin(ask_dents(self._warp, self._progress))
        else:
            self._ends.submit(self._way.go_on(self._warp, self._progress, task))

    def escape(self) -> None:
        """Go one step back out of questions or cords; where nothing is asked, there is nothing to leave."""
        if self._flow.asking is not None or self.cords is not None:
            self.go_back()

    def go_back(self) -> None:
        """The weaver says "back": one question back, out of the first one, else what was done last comes out."""
        if self._flow.asking is not None:
            self._flow.go_back()
        elif self.cords is not None:
            self._show_step()
        else:
            self.act(DressButton.BACK)

    def act(self, action: DressButton) -> None:
        """The weaver touched a button at the foot of the screen."""
        warp, progress, task = self._warp, self._progress, self._task
        match action:
            case DressButton.BACK:
                if task is not None:
                    self._ends.submit(self._way.back(warp, progress, task))
            case DressButton.MISTAKE:
                self._flow.begin(
                    ask_mistake(warp, progress, task, self._around.facing, inks_of(self._around.look.theme))
                )
            case DressButton.NOTE:
                begun = self._flow.half_written(NOTE_WORDS)
                self._flow.begin(ask_note(warp, progress, self._around.units, begun))
            case DressButton.GROUPS:
                self._flow.begin(ask_groups(self._way, warp, task))
            case DressButton.TASKS:
                self._flow.begin(self._tasks())
            case DressButton.UNDO:
                asked = ask_undo(warp, progress, self._around.units)
                if asked is None:
                    self.say(NOTHING_TO_UNDO)
                else:
                    self._flow.begin(asked)
            case DressButton.AGAIN:
                self._ends.say_aloud(self.dress.signs.spoken)
            case DressButton.PAUSE:
                self._ends.submit(pause)

    def _tasks(self) -> Asked[AtDressing]:
        around = self._around
        return ask_tasks(self._warp, self._progress, self._way, around.units, around.facing, self._ends.beside)

    def instead(self, waited_at: Asked[AtDressing], asked: Asked[AtDressing]) -> None:
        """Put another question in the place of the one the weaver waited at; nothing where the weaver went on."""
        self._flow.instead(waited_at, asked)

    def told(self, progress: Progress, line: str) -> None:
        """Show how things stand now, and a line for the weaver where there is one."""
        left_the_loom = progress.now.paused and not self._progress.now.paused
        before, self._progress = self._progress, progress
        self.dress.message = self._said(line)
        self.dress.signs = self._signs()
        if self.cords is not None:
            self._write_cords(line)
        if progress.now.dressing != before.now.dressing and self.dress.signs.spoken:
            self._ends.say_aloud(self.dress.signs.spoken)
        if left_the_loom:
            self._flow.begin(ask_looks_so(self._warp, progress, self._way, 0))

    def say(self, line: str) -> None:
        """Show a line until the next step; it changes nothing."""
        self.dress.message = self._said(line)
        if self.cords is not None:
            self.cords.say(line)

    def hear_key(self, code: int) -> bool:
        """Take the keys of a real keyboard while the weaver writes."""
        return self._flow.hear_key(code)

    def hear_text(self, text: str) -> None:
        """Write what a real keyboard writes, while the weaver writes."""
        self._flow.hear_text(text)

    def show_pedal(self, words: str) -> None:
        """Show how it stands with the pedal, for as long as it stands so."""
        self.dress.pedal = words

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self.dress.sizes = sizes
        self._flow.fit(sizes)
        if self.cords is not None:
            self.cords.sizes = sizes

    def _signs(self) -> DressSigns:
        around = self._around
        return self._said(dress_signs(self._warp, self._progress, self._way, around.facing, inks_of(around.look.theme)))

    def _said(self, said: Said) -> Said:
        trade = self._around.look.trade
        own = () if trade == AS_WRITTEN else own_words(self._warp, self._progress)
        return in_trade_words(said, trade, own)

    def _draw_asked(self, ask: AskScreen) -> None:
        if ask.asked.with_cloth:
            ask.cloth = self.dress.signs.last

    def _show_cords(self) -> None:
        signs = self._said(cord_signs(self._warp, self._progress))
        if signs is not None:
            around = self._around
            self.cords = CordsScreen(signs, around.look, self.dress.sizes, mirrored=around.mirrored)
            self.cords.bind(
                on_tick=lambda _screen, row: self._tick(row),
                on_tied=lambda _screen: self._all_tied(),
                on_later=lambda _screen: self._show_step(),
            )
            self._put(self.cords)

    def _write_cords(self, line: str) -> None:
        signs = self._said(cord_signs(self._warp, self._progress))
        if self.cords is not None and signs is not None:
            self.cords.signs = signs
            if line:
                self.cords.say(line)

    def _tick(self, row: CordRow) -> None:
        self._ends.submit(partial(tie_treadle, treadle=row.treadle, tied=not row.done))

    def _all_tied(self) -> None:
        self._ends.submit(re_tie)
        self._ends.submit(partial(settle_task, task=DressingTask.TIE_UP, state=TaskState.DONE))
        self._show_step()

    def _show_step(self) -> None:
        self._flow.end()
        self.cords = None
        self._put(self.dress)

    def _put(self, screen: BoxLayout) -> None:
        self.settle()
        self.clear_widgets()
        self.add_widget(screen)

    def _answered(self, result: AtDressing) -> None:
        if isinstance(result, Elsewhere):
            self._ends.leave_for(result)
            return
        if isinstance(result, DressingWay):
            self._wanted = result
            self.dress.message = MAKING_READY
            self._ends.way_changed(result)
            self._ends.make_ready(result, self._progress, partial(self._take_up, result))
        else:
            for command in result:
                self._ends.submit(command)
        self._show_step()

    def _take_up(self, way: DressingWay) -> None:
        # The weaver may have chosen once more meanwhile.
        if way is self._wanted:
            self._way = way
            self.dress.message, self.dress.signs = "", self._signs()


def inks_of(theme: Theme) -> ThreadInks:
    """Return what threads are drawn with in a theme."""
    return ThreadInks(*(from_hex(code) for code in (theme.panel, theme.button_down, theme.line, theme.text)))
