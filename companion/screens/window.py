"""The window: one place at a time, keys handed to whoever hears them, and news from other threads brought to it."""

from __future__ import annotations

import queue
import time
from collections.abc import Callable
from typing import Any, Protocol

from kivy.app import App
from kivy.clock import Clock
from kivy.config import Config
from kivy.core.window import Window
from kivy.graphics import Rectangle

from companion.present.letters import KeyboardLayout
from companion.present.preferences import Preferences
from companion.present.trade_words import AS_WRITTEN, Trade
from companion.screens.look import look_of, window_sizes
from companion.screens.place import Place
from companion.screens.settling import Ground
from companion.screens.surroundings import Surroundings
from companion.screens.theme import DARK, Sizes, Theme
from companion.screens.widgets.help_sign import HELP

_ESCAPE = 27
"""The code of the key that leads out, in Kivy's window; one that is held leads out once."""
_F1 = 282
"""The code of the key that opens the help, as `HELP` does where it is typed."""

_FEWEST_FRAMES = 30
"""With fewer frames a second a motion of a tenth of a second is a jump."""


def moves(wanted: bool, frames_per_second: int) -> bool:
    """Tell whether motion is shown: where it is wanted and there are frames for it; 0 is a screen nobody looks at."""
    return wanted and frames_per_second >= _FEWEST_FRAMES


def _sample_plainly() -> None:
    """Let the white texture that Kivy lays on every plain shape be read at one place instead of mixed from four."""
    white = Rectangle().texture
    white.min_filter = white.mag_filter = "nearest"


class Keyboard(Protocol):
    """Whoever makes something of the keys of a keyboard, real or in a pedal; times are monotonic seconds."""

    def key_down(self, code: int, at_s: float) -> bool:
        """Take a key that went down, or its repeat; tell whether it has a meaning."""
        ...

    def key_taken(self, code: int) -> None:
        """Hear nothing of a key that the place took for itself, nor of its repeats."""
        ...

    def key_up(self, code: int, at_s: float) -> None:
        """Take a key that came up."""
        ...

    def focus_lost(self) -> None:
        """Forget what is down: the window will not hear those keys come up."""
        ...


class FellsideWindow(App):  # type: ignore[misc]
    """Shows the place that `first_place` makes, and any other that is shown later.

    `put_away` is called when the system takes the screen for something else: it may end the program at any time after
    that, without a word. `taken_up` is called when the screen is back, `closed` with the size of a window that ends.
    `help_wanted` is called when the weaver asks for help with the place on the screen.
    """

    title = "Fellside"

    def __init__(
        self,
        first_place: Callable[[FellsideWindow], Place],
        theme: Theme = DARK,
        mirrored: bool = False,
        text_scale: float = 1.0,
        trade: Trade = AS_WRITTEN,
        **properties: Any,
    ) -> None:
        super().__init__(**properties)
        self._ground = Ground()
        self._ground.help_sign.bind(on_release=lambda _sign: self._ask_for_help())
        self._first_place = first_place
        self._keyboard: Keyboard | None = None
        self._escaping = False
        self.change_looks(theme, mirrored, text_scale, trade)
        self.units, self.facing, self.wish = Preferences().units, Preferences().facing, Preferences().wish
        self.over_under = Preferences().over_under
        self.place = Place()
        self.put_away: Callable[[], None] = lambda: None
        self.taken_up: Callable[[], None] = lambda: None
        self.closed: Callable[[int, int], None] = lambda width, height: None
        self.help_wanted: Callable[[], None] = lambda: None
        self.letters = KeyboardLayout.QWERTY
        self.motion = Preferences().motion
        self._posted: queue.SimpleQueue[Callable[[], None]] = queue.SimpleQueue()

    @property
    def sizes(self) -> Sizes:
        """The sizes for the window as it is now."""
        width, height = Window.size
        return window_sizes(width, height, self._text_scale)

    @property
    def surroundings(self) -> Surroundings:
        """What a place is made with, as things are now."""
        motion = moves(self.motion, Config.getint("graphics", "maxfps"))
        return Surroundings(
            self.look,
            self.sizes,
            self.units,
            self.facing,
            self.letters,
            self.mirrored,
            self.wish,
            self.over_under,
            motion,
        )

    def change_looks(self, theme: Theme, mirrored: bool, text_scale: float, trade: Trade) -> None:
        """Take on other looks; places made from now on have them."""
        self.look = look_of(theme, trade)
        self.mirrored = mirrored
        self._text_scale = text_scale

    def build(self) -> Ground:
        """Show the first place and listen to keys."""
        # A screen that goes dark in the middle of a repeat is a lost place.
        Window.allow_screensaver = False
        _sample_plainly()
        self.root = self._ground
        self._listen(Window.bind)
        self.show(self._first_place(self))
        return self.root

    def on_stop(self) -> None:
        """Tell the last size and stop listening; Kivy may call this twice."""
        self.closed(*map(int, Window.size))
        self._listen(Window.unbind)

    def on_pause(self) -> bool:
        """The system puts the program away, as a tablet does; tell it that the program may be kept."""
        self.put_away()
        return True

    def on_resume(self) -> None:
        """The program is on the screen again."""
        self.taken_up()

    def show(self, place: Place) -> None:
        """Put another place on the screen."""
        self.place = place
        # No place paints its own ground: to clear the window costs nothing, to fill it again a third of a frame.
        Window.clearcolor = self.look.ground
        place.settle = self._ground.changed
        self._ground.fit(self.look, self.sizes, self.mirrored)
        self._ground.put(place, place.has_help)

    def listen_to_keys(self, keyboard: Keyboard) -> None:
        """Hand all keys that the place does not take for itself to this one from now on."""
        self._keyboard = keyboard

    def post(self, news: Callable[[], None]) -> None:
        """Call `news` soon on Kivy's thread, in order of posting; may be called from any thread."""
        self._posted.put(news)
        Clock.schedule_once(self._take_posted, 0)

    def every(self, seconds: float, do: Callable[[], None]) -> Callable[[], None]:
        """Do something again and again on Kivy's thread; return what ends it."""
        ticking = Clock.schedule_interval(lambda _seconds: do(), seconds)
        end: Callable[[], None] = ticking.cancel
        return end

    def _take_posted(self, _seconds: float) -> None:
        while not self._posted.empty():
            self._posted.get()()

    def _listen(self, bind: Callable[..., None]) -> None:
        bind(on_key_down=self._key_down, on_key_up=self._key_up, on_textinput=self._text_typed)
        bind(size=self._resized, focus=self._focus_changed)

    def fit(self, sizes: Sizes) -> None:
        """Lay the place on the screen out in these sizes, and its help sign with it."""
        self.place.fit(sizes)
        self._ground.fit(self.look, sizes, self.mirrored)

    def _resized(self, _window: Any, _size: tuple[float, float]) -> None:
        self.fit(self.sizes)

    def _ask_for_help(self) -> None:
        if self.place.has_help:
            self.help_wanted()

    def _key_down(self, _window: Any, key: int, *_: Any) -> bool:
        if self.place.hear_key(key):
            self._escaping = self._escaping or key == _ESCAPE
            if self._keyboard is not None:
                # The place may be another one before this key comes up: Return held a little long ends a note.
                self._keyboard.key_taken(key)
            return True
        taken = self._keyboard is not None and self._keyboard.key_down(key, time.monotonic())
        if key == _F1 and not taken:
            self._ask_for_help()
            return True
        if key != _ESCAPE or taken:
            return taken
        if not self._escaping:
            self._escaping = True
            self.place.escape()
        return True

    def _text_typed(self, _window: Any, text: str) -> None:
        if not self.place.hear_text(text) and text == HELP:
            self._ask_for_help()

    def _key_up(self, _window: Any, key: int, *_: Any) -> None:
        if key == _ESCAPE:
            self._escaping = False
        if self._keyboard is not None:
            self._keyboard.key_up(key, time.monotonic())

    def _focus_changed(self, _window: Any, focused: bool) -> None:
        if not focused and self._keyboard is not None:
            self._keyboard.focus_lost()
