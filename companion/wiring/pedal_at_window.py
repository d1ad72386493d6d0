"""The pedal brought to the window: its presses to the place on the screen, its troubles in words."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from companion.present.preferences import Preferences
from companion.screens.window import FellsideWindow
from drivers.events import DriverEvent, LinkDown, LinkUp, Press, Pressed, PressSwallowed, TreadlesSensed
from drivers.gestures import PedalUse
from drivers.pedal import Pedal, PedalSettings, Wiring, open_pedal
from drivers.switch_lines import SwitchWiring

PEDAL_UP = "pedal"
PEDAL_DOWN = "no pedal"


def pedal_settings(preferences: Preferences) -> PedalSettings:
    """Return how the weaver's pedal is wired and what its gestures mean."""
    double_tap = Press.HOLD if preferences.double_tap else None
    if preferences.two_pedals:
        uses: tuple[PedalUse, ...] = (
            PedalUse(Press.ADVANCE, hold=None, double_tap=double_tap),
            PedalUse(Press.BACK, hold=None),
        )
    else:
        uses = (PedalUse(double_tap=double_tap),)
    return PedalSettings(
        wiring=Wiring.SWITCH if preferences.bare_switch else Wiring.BOARD,
        uses=uses,
        switch=SwitchWiring(invert=preferences.inverted),
    )


class PedalAtWindow:
    """One pedal at a time; `words` say how it stands with it, empty where none is set.

    `swallowed` is called when a press came too soon after the last one to be meant, `double_tapped` at a double tap,
    where the pedal listens for one.
    """

    def __init__(
        self,
        retry_s: float = 0.5,
        swallowed: Callable[[], None] = lambda: None,
        double_tapped: Callable[[], None] = lambda: None,
    ) -> None:
        self._double_tapped = double_tapped
        self._swallowed = swallowed
        self._retry_s = retry_s
        self._pedal: Pedal | None = None
        self.words = ""

    def listen_to(self, port: str, window: FellsideWindow, settings: PedalSettings) -> None:
        """Listen to the pedal on this port from now on, and to no other; an empty port is none."""
        self.close()
        if not port:
            return

        def heard(event: DriverEvent) -> None:
            window.post(lambda: self._tell(event, window.place))

        self.words = PEDAL_DOWN
        self._pedal = open_pedal(port, heard, settings, retry_s=self._retry_s)
        self._pedal.__enter__()

    def close(self) -> None:
        """Listen no more; safe to call twice."""
        if self._pedal is not None:
            self._pedal.__exit__(None, None, None)
        self._pedal, self.words = None, ""

    def _tell(self, event: DriverEvent, place: Any) -> None:
        match event:
            case Pressed(Press.ADVANCE):
                place.go_on()
            case Pressed(Press.BACK):
                place.go_back()
            case PressSwallowed():
                self._swallowed()
                place.say("A second press so soon was not counted")
            case LinkUp():
                self.words = PEDAL_UP
                place.show_pedal(self.words)
            case LinkDown():
                self.words = PEDAL_DOWN
                place.show_pedal(self.words)
                place.say(f"Weave on by touch: {event.why}")
            case TreadlesSensed(down, at_s):
                place.feel(down, at_s)
            case Pressed(Press.HOLD):
                self._double_tapped()

    def light(self, treadles: frozenset[int]) -> None:
        """Light the lamps over these treadles (indices from 0), where there are lamps."""
        if self._pedal is not None:
            self._pedal.light(treadles)
