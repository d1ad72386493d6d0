"""A bouncing contact in, clean edges out. Pure: every time is an argument.

Asymmetric in time, not in direction: a change counts as soon as the contact has stayed put for `settle_ms`, so a
press is felt at once; after an edge everything within `refractory_ms` is bounce, so a slow or dirty contact cannot
fire twice. Ganssle measured eighteen kinds of switch: mean bounce 1.6 ms, worst 6.2 ms, and one at 157 ms
(J. Ganssle, A Guide to Debouncing, 2004; the last figure from memory). No figure for foot-switches was found, hence
the wide margin and the settings.

Weak: with samples farther apart than `settle_ms` a change is known only at the next sample.
"""

from __future__ import annotations

from dataclasses import dataclass

from drivers.tally import Ignored, Tally


@dataclass(frozen=True, slots=True)
class DebounceTimes:
    """How long a contact must stay put to count, and how long after an edge nothing else counts."""

    settle_ms: float = 5.0
    refractory_ms: float = 150.0


@dataclass(frozen=True, slots=True)
class Edge:
    """The contact went down (closed) or up, and first touched its new state at `at_s`."""

    down: bool
    at_s: float


class Debounce:
    """One contact. Feed it samples in order of time; the first one only says how the contact rests."""

    def __init__(self, times: DebounceTimes, ignored: Tally) -> None:
        self._settle_s = times.settle_ms / 1000
        self._refractory_s = times.refractory_ms / 1000
        self._ignored = ignored
        self._reported: bool | None = None
        self._raw = False
        self._raw_since_s = 0.0
        self._quiet_until_s = float("-inf")

    @property
    def rests_open(self) -> bool:
        """Whether one more sample of an open contact would change nothing."""
        return self._reported is False and not self._raw

    def sample(self, closed: bool, at_s: float) -> Edge | None:
        """Take the contact's state at `at_s`; return the edge that is certain now, if any."""
        if self._reported is None:
            self._reported = self._raw = closed
            return None
        edge = self._edge_by(at_s)
        if closed != self._raw:
            self._raw = closed
            self._raw_since_s = at_s
            if closed == self._reported:
                # Gone and back without becoming an edge: both changes were bounce.
                self._ignored[Ignored.BOUNCE] += 2
        return edge

    def _edge_by(self, at_s: float) -> Edge | None:
        if self._raw == self._reported or at_s < self._quiet_until_s or at_s - self._raw_since_s < self._settle_s:
            return None
        self._reported = self._raw
        # Quiet from now, or a change known late would leave its own bounce outside the quiet time.
        self._quiet_until_s = at_s + self._refractory_s
        return Edge(self._raw, self._raw_since_s)
