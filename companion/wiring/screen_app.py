"""The program with a window: settings, pedal, the choice of warps and the loom, and the ways between them."""

from __future__ import annotations

from types import TracebackType
from typing import Self

from companion.journal.errors import JournalError
from companion.present.asking import Elsewhere
from companion.present.cue import Sound
from companion.screens.at_loom import LoomPlace
from companion.screens.flow import FlowPlace
from companion.screens.window import FellsideWindow
from companion.weaving.errors import WeavingError
from companion.wiring.ear import USUAL_GUARD, Ear
from companion.wiring.loom import LoomWay
from companion.wiring.preferences import PreferencesWay
from companion.wiring.record import show_record
from companion.wiring.start import StartWay
from companion.wiring.tie_up import say
from companion.workshop.watchdog import SignsOfLife
from drivers.double_guard import GuardTimes


class ScreenApp:
    """The window, opened on the warp called `name`, or on the choice of warps where it is None.

    `pedal` is a serial port to listen to today, whatever the settings say; `guard` None believes every press.
    """

    def __init__(self, name: str | None, pedal: str | None = None, guard: GuardTimes | None = USUAL_GUARD) -> None:
        self._today = pedal
        self.window = FellsideWindow(lambda _window: self._start() if name is None else self._loom.side(name))
        self._ear = Ear(
            swallowed=lambda: self._kept.sounds.play(Sound.REFUSED), double_tapped=self._double_tapped, guard=guard
        )
        self._kept = PreferencesWay(self.window, self._ear, leave=self._show_start)
        self._loom = LoomWay(self.window, self._kept, self._ear, self._go)
        self._warps = StartWay(self.window, self._open, self._kept.ask, lambda: self._kept.now.letters)

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

    def _start(self) -> FlowPlace:
        self._loom.close()
        return self._warps.side()

    def _show_start(self) -> None:
        self.window.show(self._start())

    def _open(self, name: str) -> None:
        try:
            place: LoomPlace = self._loom.side(name)
        except (JournalError, WeavingError) as error:
            say(self.window, str(error), self._show_start)
        else:
            self.window.show(place)

    def _go(self, where: Elsewhere, name: str) -> None:
        if where is Elsewhere.OTHER_WARP:
            self._show_start()
            return
        show_record(self.window, name, leave=lambda: self._open(name))
