"""The ear of the window: pedals and keys heard through one guard and brought to the place on the screen.

A press counts once, whatever it came by: the guard against double advance stands here, behind all drivers.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

from companion.present.outcome_words import PEDAL_DOWN, PEDAL_UP, PRESS_SWALLOWED, by_touch_words
from companion.present.preferences import Preferences
from companion.screens.window import FellsideWindow
from drivers.double_guard import DoubleGuard, GuardTimes
from drivers.events import (
    Driver,
    DriverEvent,
    LinkDown,
    LinkUp,
    Listener,
    Press,
    Pressed,
    PressSwallowed,
    TreadlesSensed,
    Trouble,
)
from drivers.gestures import BEATER, PedalUse
from drivers.keys import USUAL_KEYS, KeyMeanings, KeyPedal
from drivers.pedal import Pedal, PedalSettings, Wiring, open_pedal
from drivers.replay import Replay, read_recorded
from drivers.switch_lines import SwitchWiring
from drivers.tally import new_tally

USUAL_GUARD = GuardTimes()
LONGEST_GUARD_MS = 600.0
"""However slow a weaver, after this time a press is believed."""
KEYS_EVERY_S = 0.05
"""How often a key that was let go is asked whether its second tap is still to come."""


def pedal_settings(preferences: Preferences) -> PedalSettings:
    """Return how the weaver's pedal is wired and what its gestures mean."""
    double_tap = Press.HOLD if preferences.double_tap is not None else None
    if preferences.two_pedals:
        uses: tuple[PedalUse, ...] = (
            PedalUse(Press.ADVANCE, hold=None, double_tap=double_tap),
            PedalUse(Press.BACK, hold=None),
        )
    else:
        uses = (PedalUse(double_tap=double_tap),)
    if preferences.beater:
        uses += (BEATER,)
    return PedalSettings(
        wiring=Wiring.SWITCH if preferences.bare_switch else Wiring.BOARD,
        uses=uses,
        switch=SwitchWiring(invert=preferences.inverted),
    )


def key_meanings(preferences: Preferences) -> KeyMeanings:
    """Return what each key means: the usual ones, and those that this weaver taught."""
    taught = dict.fromkeys(preferences.next_keys, Press.ADVANCE) | dict.fromkeys(preferences.back_keys, Press.BACK)
    return {**USUAL_KEYS, **taught}


class Ear:
    """Hears one pedal at a time and the keys; `words` say how it stands with the pedal, empty where none is set.

    `swallowed` is called when a press came too soon after the last one to be meant, `double_tapped` at a double tap,
    where one is listened for. `guard` None lets every press through.
    """

    def __init__(
        self,
        retry_s: float = 0.5,
        swallowed: Callable[[], None] = lambda: None,
        double_tapped: Callable[[], None] = lambda: None,
        guard: GuardTimes | None = USUAL_GUARD,
    ) -> None:
        self._double_tapped = double_tapped
        self._swallowed = swallowed
        self._retry_s = retry_s
        self._guard = None if guard is None else DoubleGuard(guard)
        self._driver: Driver | None = None
        self._pedal: Pedal | None = None
        self._end_ticking: Callable[[], None] = lambda: None
        self.words = ""

    def listen_to(self, port: str, window: FellsideWindow, settings: PedalSettings) -> None:
        """Listen to the pedal on this port from now on, and to no other; an empty port is none.

        In place of a port a file that `fellside pedal --json` wrote is played once, with its times.
        """
        self.close()
        if not port:
            return

        def heard(event: DriverEvent) -> None:
            window.post(lambda: self._tell(event, window.place))

        self.words = PEDAL_DOWN
        if Path(port).is_file():
            self._play(Path(port), heard)
            return
        self._driver = self._pedal = open_pedal(port, heard, replace(settings, guard=None), retry_s=self._retry_s)
        self._driver.__enter__()

    def listen_to_keys(self, window: FellsideWindow, meanings: KeyMeanings, double_tap: bool = False) -> None:
        """Let these keys mean this from now on; `double_tap`: two quick ones for "next" mean what is chosen."""
        keys = KeyPedal(
            meanings,
            lambda event: self._tell(event, window.place),
            new_tally(),
            double_tap=Press.HOLD if double_tap else None,
        )
        window.listen_to_keys(keys)
        self._end_ticking()
        if double_tap:
            self._end_ticking = window.every(KEYS_EVERY_S, lambda: keys.time_passed(time.monotonic()))

    def touched(self, window: FellsideWindow) -> None:
        """Hear a touch that says "next": it is judged with the presses of pedals and keys."""
        self._tell(Pressed(Press.ADVANCE, time.monotonic()), window.place)

    def beat_counted(self, at_s: float) -> None:
        """Hear that a beat counted as a pick: a press of pedal, key or finger right after it is for the same pick."""
        if self._guard is not None:
            self._guard.judge(Pressed(Press.ADVANCE, at_s))

    def believe_after(self, shortest_ms: int) -> None:
        """Believe no advance sooner than this after another from now on, unless every press is believed here."""
        if self._guard is not None:
            self._guard = DoubleGuard(replace(USUAL_GUARD, least_ms=float(shortest_ms), most_ms=LONGEST_GUARD_MS))

    def close(self) -> None:
        """Listen to no pedal any more; safe to call twice."""
        if self._driver is not None:
            self._driver.__exit__(None, None, None)
        self._driver, self._pedal, self.words = None, None, ""

    def light(self, treadles: frozenset[int]) -> None:
        """Light the lamps over these treadles (indices from 0), where there are lamps."""
        if self._pedal is not None:
            self._pedal.light(treadles)

    def _play(self, watch: Path, heard: Listener) -> None:
        try:
            self._driver = Replay(read_recorded(watch), heard)
        except (OSError, ValueError) as error:
            heard(LinkDown(str(watch), str(error), time.monotonic(), Trouble.FAULT))
        else:
            self._driver.__enter__()

    def _tell(self, event: DriverEvent, place: Any) -> None:
        if isinstance(event, Pressed) and self._guard is not None:
            event = self._guard.judge(event) or event
        match event:
            case Pressed(Press.ADVANCE):
                place.go_on()
            case Pressed(Press.BACK):
                place.go_back()
            case PressSwallowed():
                self._swallowed()
                place.say(PRESS_SWALLOWED)
            case LinkUp():
                self.words = PEDAL_UP
                place.show_pedal(self.words)
            case LinkDown():
                self.words = PEDAL_DOWN
                place.show_pedal(self.words)
                place.say(by_touch_words(event.why))
            case TreadlesSensed(down, at_s):
                place.feel(down, at_s)
            case Pressed(Press.BEAT, at_s):
                place.feel_beat(at_s)
            case Pressed(Press.HOLD):
                self._double_tapped()
