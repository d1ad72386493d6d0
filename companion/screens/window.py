"""The window at the loom: takes touches, keys and pedal presses, hands commands on, and shows what became of them."""

from __future__ import annotations

import queue
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from kivy.app import App
from kivy.clock import Clock
from kivy.core.window import Window
from kivy.uix.boxlayout import BoxLayout

from companion.present.asking import Answer, Answered, Asked, Command
from companion.present.fault import ask_fault
from companion.present.fell import cloth_below, fell_picture, fell_window
from companion.present.find import ask_place
from companion.present.measure import ask_measure
from companion.present.resume import ask_resume
from companion.present.weave import Action, weave_signs
from companion.screens.ask import AskScreen
from companion.screens.look import look_of, window_sizes
from companion.screens.theme import DARK, Theme
from companion.screens.weave import WeaveScreen
from companion.weaving.decide import pause, take_out, undo
from companion.weaving.onward import onward
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

NEXT_KEYS = frozenset({32, 13, 271, 275, 274, 281})
"""Space, enter (both), right, down, page down: what page-turner pedals send for "on" (SDL key symbols)."""
BACK_KEYS = frozenset({8, 276, 273, 280})
"""Backspace, left, up, page up."""
_COMMANDS: dict[Action, Command] = {Action.BACK: take_out, Action.PAUSE: pause, Action.UNDO: undo}
_FLOWS: dict[Action, Callable[[Warp, Progress], Asked]] = {
    Action.FAULT: ask_fault,
    Action.MEASURE: ask_measure,
    Action.FIND: ask_place,
}


@dataclass(frozen=True, slots=True)
class Shown:
    """What became of a command or of the pedal: the progress now, and a line for the weaver where there is one."""

    progress: Progress | None = None
    line: str = ""


class LoomWindow(App):  # type: ignore[misc]
    """One warp on the screen.

    `submit` takes commands and returns at once; what became of them comes back through `post`, which any thread may
    call. `away_ms` is the time since the journal's last entry.
    """

    title = "Fellside"

    def __init__(
        self,
        warp: Warp,
        progress: Progress,
        submit: Callable[[Command], None],
        away_ms: int = 0,
        theme: Theme = DARK,
        mirrored: bool = False,
        **properties: Any,
    ) -> None:
        super().__init__(**properties)
        self._warp = warp
        self._progress = progress
        self._submit = submit
        self._away_ms = away_ms
        self._theme = theme
        self._mirrored = mirrored
        self._posted: queue.SimpleQueue[Shown] = queue.SimpleQueue()
        self._held: set[int] = set()
        self.weave: WeaveScreen
        self.ask: AskScreen | None = None

    def build(self) -> BoxLayout:
        """Make the screen and listen to keys; after a break the first thing is whether the cloth looks right."""
        look, sizes = look_of(self._theme), window_sizes(*Window.size)
        self.weave = WeaveScreen(weave_signs(self._warp, self._progress), look, sizes, mirrored=self._mirrored)
        self.weave.bind(on_next=lambda *_: self.go_on(), on_action=lambda _screen, action: self.act(action))
        self.weave.ids.cloth.bind(size=lambda *_: self._show_cloth())
        self._listen(Window.bind)
        host = BoxLayout()
        host.add_widget(self.weave)
        self.root = host
        if self._progress.now.number:
            self._show_question(ask_resume(self._warp, self._progress, self._away_ms))
        return host

    def on_stop(self) -> None:
        """Stop listening; Kivy may call this twice."""
        self._listen(Window.unbind)

    def go_on(self) -> None:
        """The weaver says "next"; to a question, that is its main answer."""
        if self.ask is None:
            self._submit(onward)
            return
        main = next((answer for answer in self.ask.asked.answers if answer.main), None)
        if main is not None:
            self._follow(main)

    def act(self, action: Action) -> None:
        """The weaver touched a button at the foot of the screen."""
        if action in _FLOWS:
            self._show_question(_FLOWS[action](self._warp, self._progress))
        else:
            self._submit(_COMMANDS[action])

    def post(self, shown: Shown) -> None:
        """Show this soon; may be called from any thread, and no post is lost."""
        self._posted.put(shown)
        Clock.schedule_once(self._take_posted, 0)

    def post_next(self) -> None:
        """The pedal says "next"; may be called from any thread."""
        Clock.schedule_once(lambda _seconds: self.go_on(), 0)

    def post_back(self) -> None:
        """The pedal says "back"; may be called from any thread."""
        Clock.schedule_once(lambda _seconds: self.go_back(), 0)

    def go_back(self) -> None:
        """The weaver says "back": out of a question, else the newest pick out."""
        if self.ask is None:
            self._submit(take_out)
        elif not self._progress.now.paused:
            self._show_pick()

    def _take_posted(self, _seconds: float) -> None:
        latest: Shown | None = None
        while not self._posted.empty():
            posted = self._posted.get()
            latest = posted if latest is None else replace(posted, progress=posted.progress or latest.progress)
        if latest is None:
            return
        self.weave.message = latest.line
        if latest.progress is None:
            return
        left_the_loom = latest.progress.now.paused and not self._progress.now.paused
        self._progress = latest.progress
        self.weave.signs = weave_signs(self._warp, self._progress)
        self._show_cloth()
        if left_the_loom:
            self._show_question(ask_resume(self._warp, self._progress, 0))

    def _show_cloth(self) -> None:
        rows, ends = self._rows_and_ends(self.weave)
        self.weave.cloth = fell_picture(self._warp, self._progress, rows, ends)
        self.weave.cloth_marked_share = 1 / rows

    def _show_question(self, asked: Asked) -> None:
        if self.ask is None:
            self.ask = AskScreen(asked, self.weave.look, self.weave.sizes)
            self.ask.bind(on_answer=lambda _screen, answer: self._follow(answer))
            self.ask.ids.cloth.bind(size=lambda *_: self._show_asked_cloth())
            self.root.clear_widgets()
            self.root.add_widget(self.ask)
        else:
            self.ask.asked = asked
        self._show_asked_cloth()

    def _show_asked_cloth(self) -> None:
        if self.ask is None or not self.ask.asked.with_cloth:
            return
        top = self.ask.asked.top_pick
        top = self._progress.now.cloth.newest if top is None else top
        rows, ends = self._rows_and_ends(self.ask)
        piece = self._warp.pieces[self._progress.now.piece]
        self.ask.cloth = cloth_below(piece, -1 if top is None else top, rows, ends)

    def _show_pick(self) -> None:
        self.ask = None
        self.root.clear_widgets()
        self.root.add_widget(self.weave)

    def _follow(self, answer: Answer) -> None:
        outcome = answer.leads_to()
        if isinstance(outcome, Answered):
            for command in outcome.commands:
                self._submit(command)
            self._show_pick()
        else:
            self._show_question(outcome)

    @staticmethod
    def _rows_and_ends(screen: WeaveScreen | AskScreen) -> tuple[int, int]:
        box = screen.ids.cloth
        return fell_window(box.width, box.height, screen.sizes.crossing)

    def _listen(self, bind: Callable[..., None]) -> None:
        bind(on_key_down=self._key_down, on_key_up=self._key_up, size=self._resized, focus=self._focus_changed)

    def _resized(self, _window: Any, size: tuple[float, float]) -> None:
        sizes = window_sizes(*size)
        self.weave.sizes = sizes
        if self.ask is not None:
            self.ask.sizes = sizes

    def _key_down(self, _window: Any, key: int, *_: Any) -> bool:
        # A held key repeats without saying so: a key counts once until it is let go.
        if key in self._held:
            return True
        self._held.add(key)
        if key in NEXT_KEYS:
            self.go_on()
        elif key in BACK_KEYS:
            self.go_back()
        else:
            return False
        return True

    def _key_up(self, _window: Any, key: int, *_: Any) -> None:
        self._held.discard(key)

    def _focus_changed(self, _window: Any, focused: bool) -> None:
        if not focused:
            self._held.clear()
