"""The program with a window: settings, pedal, the choice of warps and the loom, and the ways between them."""

from __future__ import annotations

from types import TracebackType
from typing import Self

from companion.journal.errors import JournalError
from companion.present.asking import Elsewhere
from companion.present.cue import Sound
from companion.screens.flow_side import FlowSide
from companion.screens.loom_side import LoomSide
from companion.screens.window import FellsideWindow
from companion.weaving.errors import WeavingError
from companion.wiring.loom_at_window import LoomAtWindow
from companion.wiring.pedal_at_window import PedalAtWindow
from companion.wiring.preferences_at_window import PreferencesAtWindow
from companion.wiring.record_at_window import show_record
from companion.wiring.tie_up_at_window import say
from companion.wiring.warps_at_window import WarpsAtWindow
from companion.wiring.watchdog import SignsOfLife


class ScreenApp:
    """The window, opened on the warp called `name`, or on the choice of warps where it is None.

    `pedal` is a serial port to listen to today, whatever the settings say.
    """

    def __init__(self, name: str | None, pedal: str | None = None) -> None:
        self._today = pedal
        self.window = FellsideWindow(lambda _window: self._start() if name is None else self._loom.side(name))
        self._pedal = PedalAtWindow(
            swallowed=lambda: self._kept.sounds.play(Sound.REFUSED), double_tapped=self._double_tapped
        )
        self._kept = PreferencesAtWindow(self.window, self._pedal, leave=self._show_start)
        self._loom = LoomAtWindow(self.window, self._kept, self._pedal, self._go)
        self._warps = WarpsAtWindow(self.window, self._open, self._kept.ask, lambda: self._kept.letters)

    def __enter__(self) -> Self:
        self._kept.listen(self._today)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._pedal.close()
        self._kept.close()
        self._loom.close()

    def run(self) -> None:
        """Stay until the window is closed; raises JournalError where the first warp cannot be opened."""
        with self, SignsOfLife(self.window.post):
            self.window.run()

    def _double_tapped(self) -> None:
        self._loom.double_tapped()

    def _start(self) -> FlowSide:
        self._loom.close()
        return self._warps.side()

    def _show_start(self) -> None:
        self.window.show(self._start())

    def _open(self, name: str) -> None:
        try:
            place: LoomSide = self._loom.side(name)
        except (JournalError, WeavingError) as error:
            say(self.window, str(error), self._show_start)
        else:
            self.window.show(place)

    def _go(self, where: Elsewhere, name: str) -> None:
        if where is Elsewhere.OTHER_WARP:
            self._show_start()
            return
        show_record(self.window, name, leave=lambda: self._open(name))
