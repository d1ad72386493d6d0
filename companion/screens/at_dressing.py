"""A loom being dressed: the dressing screen and its questions; takes touches and presses, hands commands on.

What became of a command comes back through `told`, on Kivy's thread.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from companion.present import help_topics
from companion.present.asking import Asked, AtDressing, Elsewhere
from companion.present.cords import cord_signs
from companion.present.deeds import NOTHING_TO_UNDO, ask_undo
from companion.present.dents import ask_dents
from companion.present.dress import DressButton, DressSigns, dress_signs
from companion.present.dress_questions import (
    Beside,
    ask_groups,
    ask_looks_so,
    ask_tasks,
    at_once,
)
from companion.present.dressing_words import MAKING_READY
from companion.present.dressing_wrong import ask_mistake
from companion.present.note import NOTE_WORDS, ask_note
from companion.present.threads_picture import ThreadInks
from companion.screens.ask import AskScreen
from companion.screens.asking_place import AskingPlace
from companion.screens.dress import DressScreen
from companion.screens.flow import FlowEnds
from companion.screens.surroundings import Surroundings
from companion.screens.theme import Theme, from_hex
from companion.weaving.decide import Command, pause, re_tie, resume
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


class DressingPlace(AskingPlace):
    """The dressing of one warp on the screen; `away_ms` is the time since the journal's last entry.

    After a break the first thing asked is whether the last threads hang as they are drawn.
    """

    own_topics = (help_topics.DRESSING,)

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
        self._going_on = False
        out = FlowEnds(self._answered, self._show_own, lambda: self._going_on or not self._progress.now.paused)
        super().__init__(warp, progress, around, out, **properties)
        self._way = self._wanted = way
        self._ends = ends
        self._own = self.dress = DressScreen(self._signs(), around.look, around.sizes, mirrored=around.mirrored)
        self.dress.bind(
            on_next=lambda *_: ends.pressed() if ends.pressed else self.go_on(),
            on_action=lambda _screen, action: self.act(action),
            on_tasks=lambda *_: self.act(DressButton.TASKS),
            on_again=lambda *_: self.act(DressButton.AGAIN),
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
            self._flow.begin(ask_dents(self._warp, self._progress, self._around.units))
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
            self._show_own()
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
        self._going_on = False
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

    def _signs(self) -> DressSigns:
        around = self._around
        return self._said(dress_signs(self._warp, self._progress, self._way, around.facing, inks_of(around.look.theme)))

    def _draw_asked(self, ask: AskScreen) -> None:
        if ask.asked.with_cloth:
            ask.cloth = self.dress.signs.last

    def _submit(self, command: Command) -> None:
        self._ends.submit(command)

    def _after_ties(self) -> DressingTask | None:
        return self._way.after(self._warp, self._progress, DressingTask.TIE_UP)

    def _all_tied(self) -> None:
        self._ends.submit(re_tie)
        self._ends.submit(partial(settle_task, task=DressingTask.TIE_UP, state=TaskState.DONE))
        self._show_own()

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
            # Whoever touches on before the disk has answered can leave what is asked then.
            self._going_on = bool(result)
            for command in result:
                self._ends.submit(command)
        self._show_own()

    def _take_up(self, way: DressingWay) -> None:
        # The weaver may have chosen once more meanwhile.
        if way is self._wanted:
            self._way = way
            self.dress.message, self.dress.signs = "", self._signs()


def inks_of(theme: Theme) -> ThreadInks:
    """Return what threads are drawn with in a theme."""
    return ThreadInks(*(from_hex(code) for code in (theme.panel, theme.button_down, theme.line, theme.text)))
