"""Edges of one pedal in, what the foot asked for out. Pure: every time is an argument.

A pedal with only a tap speaks when it goes down. One that also knows a hold speaks when it comes up again, or
when it has been down for `hold_ms`. One that knows a double tap waits `double_tap_ms` after the first tap.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from drivers.debounce import Debounce, DebounceTimes, Edge
from drivers.events import Press, Pressed
from drivers.tally import Ignored, Tally

LONGEST_SILENCE_S = 1.5
"""A press during which nothing was heard for so long (cable pulled, machine asleep) means nothing."""


@dataclass(frozen=True, slots=True)
class PedalUse:
    """What the gestures of one pedal ask for; None where the pedal does not know the gesture."""

    tap: Press = Press.ADVANCE
    hold: Press | None = Press.BACK
    double_tap: Press | None = None


@dataclass(frozen=True, slots=True)
class GestureTimes:
    """How long down is a hold, and how soon the second tap must follow."""

    hold_ms: float = 600.0
    double_tap_ms: float = 350.0


ONE_PEDAL = (PedalUse(),)
"""Tap = next, hold = back."""
TWO_PEDALS = (PedalUse(Press.ADVANCE, hold=None), PedalUse(Press.BACK, hold=None))
"""The first pedal is next, the second is back, each at once when pressed."""
BEATER = PedalUse(Press.BEAT, hold=None)
"""A reed switch at the beater, on the contact after the pedals: it speaks when it closes."""


class Gestures:
    """One pedal's gestures; `observe` it at every sample, with or without an edge."""

    def __init__(self, use: PedalUse, times: GestureTimes, ignored: Tally) -> None:
        self._use = use
        self._hold_s = times.hold_ms / 1000
        self._double_tap_s = times.double_tap_ms / 1000
        self._ignored = ignored
        self._down_s: float | None = None
        self._seen_s = float("-inf")
        self._first_tap_s: float | None = None

    def observe(self, edge: Edge | None, now_s: float) -> list[Pressed]:
        """Take an edge, or None when only time has passed; return what is certain by now."""
        if self._down_s is not None and now_s - self._seen_s > LONGEST_SILENCE_S:
            self._down_s = None
            self._ignored[Ignored.INTERRUPTED_PRESS] += 1
        self._seen_s = now_s
        if edge is None:
            return self._time_passed(now_s)
        return self._went_down(edge.at_s) if edge.down else self._came_up(edge.at_s)

    def _went_down(self, at_s: float) -> list[Pressed]:
        if self._first_tap_s is not None and self._use.double_tap is not None:
            first_s, self._first_tap_s = self._first_tap_s, None
            if at_s - first_s <= self._double_tap_s:
                return [Pressed(self._use.double_tap, at_s)]
            self._down_s = at_s
            return [Pressed(self._use.tap, first_s)]
        if self._use.hold is None and self._use.double_tap is None:
            return [Pressed(self._use.tap, at_s)]
        self._down_s = at_s
        return []

    def _came_up(self, at_s: float) -> list[Pressed]:
        if self._down_s is None:
            return []
        down_s, self._down_s = self._down_s, None
        if self._use.hold is not None and at_s - down_s >= self._hold_s:
            return [Pressed(self._use.hold, at_s)]
        if self._use.double_tap is not None:
            self._first_tap_s = at_s
            return []
        return [Pressed(self._use.tap, at_s)]

    def _time_passed(self, now_s: float) -> list[Pressed]:
        if self._down_s is not None and self._use.hold is not None and now_s - self._down_s >= self._hold_s:
            self._down_s = None
            return [Pressed(self._use.hold, now_s)]
        if self._first_tap_s is not None and now_s - self._first_tap_s > self._double_tap_s:
            first_s, self._first_tap_s = self._first_tap_s, None
            return [Pressed(self._use.tap, first_s)]
        return []


@dataclass(frozen=True, slots=True)
class FootTimes:
    """All the times of a foot-switch, each settable."""

    debounce: DebounceTimes = field(default_factory=DebounceTimes)
    gestures: GestureTimes = field(default_factory=GestureTimes)


class FootSwitch:
    """Contact states of one pedal in, presses out: debounce, then gestures."""

    def __init__(self, use: PedalUse, times: FootTimes, ignored: Tally) -> None:
        self._debounce = Debounce(times.debounce, ignored)
        self._gestures = Gestures(use, times.gestures, ignored)

    @property
    def at_rest(self) -> bool:
        """Whether no foot is on the pedal."""
        return self._debounce.rests_open

    def sample(self, closed: bool, at_s: float) -> list[Pressed]:
        """Take the contact's state at `at_s`; return what the foot asked for."""
        return self._gestures.observe(self._debounce.sample(closed, at_s), at_s)
