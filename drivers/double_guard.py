"""Guards against weaving one pick twice: an advance that follows too soon is swallowed, counted and told.

"Too soon" is learned from the weaver's pace. All intervals between advances count, those of swallowed presses too: a
weaver who really speeds up would otherwise be held to the old pace. Pure: every time is an argument.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from statistics import median

from drivers.events import DriverEvent, Listener, Press, Pressed, PressSwallowed
from drivers.tally import Ignored, Tally


@dataclass(frozen=True, slots=True)
class GuardTimes:
    """The shortest pick: `share_of_pace` of the usual one, within `least_ms` and `most_ms`.

    No published figure for the fastest pick on a floor loom was found: the values are our choice, and settable.
    """

    least_ms: float = 250.0
    most_ms: float = 600.0
    share_of_pace: float = 0.35
    picks_remembered: int = 15
    longest_pick_s: float = 20.0
    """A longer interval was a pause, and says nothing about the pace."""


class DoubleGuard:
    """Judges the presses of all pedals of one weaver, in order of time."""

    def __init__(self, times: GuardTimes) -> None:
        self._times = times
        self._paces_s: deque[float] = deque(maxlen=times.picks_remembered)
        self._last_press_s: float | None = None
        self._last_admitted_s: float | None = None

    @property
    def shortest_pick_s(self) -> float:
        """How soon after an advance the next one is believed."""
        least_s, most_s = self._times.least_ms / 1000, self._times.most_ms / 1000
        if not self._paces_s:
            return least_s
        return min(most_s, max(least_s, self._times.share_of_pace * median(self._paces_s)))

    def judge(self, pressed: Pressed) -> PressSwallowed | None:
        """Return None for a press to carry out, or what to tell the weaver about one that is not."""
        if pressed.press is Press.BEAT:
            # Weavers beat twice on purpose: which of them ends a pick is judged where the weaving is known.
            return None
        if pressed.press is not Press.ADVANCE:
            # Whoever goes back and then on again means both.
            self._last_press_s = self._last_admitted_s = None
            return None
        shortest_s = self.shortest_pick_s
        if self._last_press_s is not None and 0 <= pressed.at_s - self._last_press_s <= self._times.longest_pick_s:
            self._paces_s.append(pressed.at_s - self._last_press_s)
        self._last_press_s = pressed.at_s
        if self._last_admitted_s is not None and 0 <= pressed.at_s - self._last_admitted_s < shortest_s:
            return PressSwallowed(pressed.press, pressed.at_s, pressed.at_s - self._last_admitted_s)
        self._last_admitted_s = pressed.at_s
        return None


class GuardedListener:
    """Passes a driver's events on, with presses that came too soon turned into `PressSwallowed`."""

    def __init__(self, listener: Listener, guard: DoubleGuard, ignored: Tally) -> None:
        self._listener = listener
        self._guard = guard
        self._ignored = ignored

    def __call__(self, event: DriverEvent) -> None:
        """Pass this event on, or what became of it."""
        swallowed = self._guard.judge(event) if isinstance(event, Pressed) else None
        if swallowed is not None:
            self._ignored[Ignored.TOO_SOON] += 1
        self._listener(event if swallowed is None else swallowed)
