"""The program with a window: settings, pedal, the choice of warps and the loom, and the ways between them."""

from __future__ import annotations

from types import TracebackType
from typing import Any, Self

from companion.journal.errors import JournalError
from companion.present.asking import Elsewhere
from companion.present.cue import Sound
from companion.screens.window import FellsideWindow
from companion.weaving.errors import WeavingError, error_words
from companion.wiring.ear import USUAL_GUARD, Ear
from companion.wiring.loom import LoomWay
from companion.wiring.navigator import Navigator
from companion.wiring.preferences import PreferencesWay
from companion.wiring.record import show_record
from companion.wiring.start import StartWay
from companion.workshop.watchdog import SignsOfLife
from drivers.double_guard import GuardTimes


class ScreenApp:
    """The window, opened on the warp called `name`, or on the choice of warps where it is None.

    `pedal` is a serial port to listen to today, whatever the settings say; `guard` None believes every press.
    """

    def __init__(self, name: str | None, pedal: str | None = None, guard: GuardTimes | None = USUAL_GUARD) -> None:
        self._today = pedal
        self.window = FellsideWindow(lambda _window: self._first(name))
        self._ways = Navigator(self.window)
        self._ear = Ear(
            swallowed=lambda: self._kept.sounds.play(Sound.REFUSED), double_tapped=self._double_tapped, guard=guard
        )
        self._kept = PreferencesWay(self._ways, self._ear, leave=self._show_start)
        self._loom = LoomWay(self.window, self._kept, self._ear, self._go)
        self._start = StartWay(self._ways, self._open, self._kept.ask)

    def __enter__(self) -> Self:
        self._kept.listen(self._today)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._ear.close()
        self._kept.close()
        self._loom.close()

    def run(self) -> None:
        """Stay until the window is closed; raises JournalError where the first warp cannot be opened."""
        with self, SignsOfLife(self.window.post):
            self.window.run()

    def _double_tapped(self) -> None:
        self._loom.double_tapped()

    def _first(self, name: str | None) -> Any:
        if name is None:
            return self._show_start()
        return self._ways.home(lambda: self._loom.side(name))

    def _show_start(self) -> Any:
        self._loom.close()
        return self._ways.home(self._start.side, fresh=True)

    def _open(self, name: str) -> None:
        try:
            place = self._loom.side(name)
        except (JournalError, WeavingError) as error:
            self._ways.message(error_words(error, self.window.units))
        else:
            self._ways.home(lambda: place)

    def _go(self, where: Elsewhere, name: str) -> None:
        if where is Elsewhere.OTHER_WARP:
            self._show_start()
        else:
            show_record(self._ways, name)
