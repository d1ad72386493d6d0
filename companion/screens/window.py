"""The window at the loom: takes touches, keys and pedal presses, hands commands on, and shows what became of them."""

from __future__ import annotations

import queue
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from kivy.app import App
from kivy.clock import Clock
from kivy.core.window import Window

from companion.present.fell import fell_picture, fell_window
from companion.present.weave import Action, weave_signs
from companion.screens.look import look_of, window_sizes
from companion.screens.theme import DARK, Theme
from companion.screens.weave import WeaveScreen
from companion.weaving.decide import pause, take_out
from companion.weaving.events import Event
from companion.weaving.onward import onward
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

Command = Callable[[Warp, Progress], Event]

NEXT_KEYS = frozenset({32, 13, 271, 275, 274, 281})
"""Space, enter (both), right, down, page down: what page-turner pedals send for "on" (SDL key symbols)."""
BACK_KEYS = frozenset({8, 276, 273, 280})
"""Backspace, left, up, page up."""
_COMMANDS: dict[Action, Command] = {Action.BACK: take_out, Action.PAUSE: pause}


@dataclass(frozen=True, slots=True)
class Shown:
    """What became of a command or of the pedal: the progress now, and a line for the weaver where there is one."""

    progress: Progress | None = None
    line: str = ""


class LoomWindow(App):  # type: ignore[misc]
    """One warp on the screen.

    `submit` takes commands and returns at once; what became of them comes back through `post`, which any thread may
    call.
    """

    title = "Fellside"

    def __init__(
        self,
        warp: Warp,
        progress: Progress,
        submit: Callable[[Command], None],
        theme: Theme = DARK,
        mirrored: bool = False,
        **properties: Any,
    ) -> None:
        super().__init__(**properties)
        self._warp = warp
        self._progress = progress
        self._submit = submit
        self._theme = theme
        self._mirrored = mirrored
        self._posted: queue.SimpleQueue[Shown] = queue.SimpleQueue()
        self._held: set[int] = set()

    def build(self) -> WeaveScreen:
        """Make the screen and listen to keys."""
        screen = WeaveScreen(
            weave_signs(self._warp, self._progress),
            look_of(self._theme),
            window_sizes(*Window.size),
            mirrored=self._mirrored,
        )
        screen.bind(on_next=lambda *_: self.go_on(), on_action=lambda _screen, action: self.act(action))
        screen.ids.cloth.bind(size=lambda *_: self._show_cloth())
        Window.bind(on_key_down=self._key_down, on_key_up=self._key_up, size=self._resized, focus=self._focus_changed)
        return screen

    def on_stop(self) -> None:
        """Stop listening; Kivy may call this twice."""
        Window.unbind(on_key_down=self._key_down, on_key_up=self._key_up, size=self._resized, focus=self._focus_changed)

    def go_on(self) -> None:
        """The weaver says "next"."""
        self._submit(onward)

    def act(self, action: Action) -> None:
        """The weaver touched a button at the foot of the screen."""
        self._submit(_COMMANDS[action])

    def post(self, shown: Shown) -> None:
        """Show this soon; may be called from any thread, and no post is lost or merged with another."""
        self._posted.put(shown)
        Clock.schedule_once(self._take_posted, 0)

    def post_next(self) -> None:
        """The pedal says "next"; may be called from any thread."""
        self._submit(onward)

    def post_back(self) -> None:
        """The pedal says "back"; may be called from any thread."""
        self._submit(take_out)

    def _take_posted(self, _seconds: float) -> None:
        latest: Shown | None = None
        while not self._posted.empty():
            posted = self._posted.get()
            latest = posted if latest is None else replace(posted, progress=posted.progress or latest.progress)
        if latest is None or self.root is None:
            return
        self.root.message = latest.line
        if latest.progress is not None:
            self._progress = latest.progress
            self.root.signs = weave_signs(self._warp, self._progress)
            self._show_cloth()

    def _show_cloth(self) -> None:
        if self.root is None:
            return
        picture = self.root.ids.cloth
        rows, ends = fell_window(picture.width, picture.height, self.root.sizes.crossing)
        self.root.cloth = fell_picture(self._warp, self._progress, rows, ends)
        self.root.cloth_marked_share = 1 / rows

    def _resized(self, _window: Any, size: tuple[float, float]) -> None:
        self.root.sizes = window_sizes(*size)

    def _key_down(self, _window: Any, key: int, *_: Any) -> bool:
        # A held key repeats without saying so: a key counts once until it is let go.
        if key in self._held:
            return True
        self._held.add(key)
        if key in NEXT_KEYS:
            self.go_on()
        elif key in BACK_KEYS:
            self.act(Action.BACK)
        else:
            return False
        return True

    def _key_up(self, _window: Any, key: int, *_: Any) -> None:
        self._held.discard(key)

    def _focus_changed(self, _window: Any, focused: bool) -> None:
        if not focused:
            self._held.clear()
