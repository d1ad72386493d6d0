"""The beats of a weaver, as a switch at the beater hears them: which of them may end a pick. Pure: every time is given.

Many weavers beat twice or three times for one pick. The times between beats then fall into two heaps: within a pick and
from pick to pick. Where they do, the gap between the heaps is the weaver's double-beat time; where they do not, part of
her pace is. No published figure for either was found: the bounds are our own choice.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import exp, log, sqrt
from statistics import median


@dataclass(frozen=True, slots=True)
class BeatTimes:
    """Between which bounds the double-beat time and the shortest pick are learned, and what holds before."""

    unlearned_double_s: float = 1.0
    least_double_s: float = 0.25
    most_double_s: float = 1.2
    """Longer than this between two beats, and a shuttle may have crossed."""
    least_throw_s: float = 0.2
    most_shortest_throw_s: float = 1.5
    least_pick_s: float = 0.25
    most_shortest_pick_s: float = 1.5
    share_of_pace: float = 0.5
    remembered: int = 40
    enough: int = 8
    enough_throws: int = 3
    """Fewer are enough: no second beat is ever among them."""
    longest_s: float = 20.0
    """A longer interval was a pause, and says nothing about the pace."""


USUAL_TIMES = BeatTimes()
_FEWEST_OF_A_HEAP = 3
_HEAPS_APART = 1.5
"""Two heaps of intervals differ by this factor on average, or are one."""


@dataclass(frozen=True, slots=True)
class BeatPace:
    """What is learned of one weaver: the newest intervals between beats, and between picks that were counted.

    `throws_s` are, of picks counted, the times from the open shed to the beat, where treadles are sensed.
    `beaten_s` is the last beat, `counted_s` when the last pick was counted, by a beat or otherwise (monotonic seconds).
    """

    between_s: tuple[float, ...] = ()
    picks_s: tuple[float, ...] = ()
    throws_s: tuple[float, ...] = ()
    beaten_s: float | None = None
    counted_s: float | None = None
    times: BeatTimes = USUAL_TIMES

    @property
    def double_s(self) -> float:
        """Beats that follow one another sooner than this belong to one pick."""
        times = self.times
        if len(self.between_s) < times.enough:
            return times.unlearned_double_s
        gap = _between_heaps(self.between_s, times.most_double_s)
        wanted = min(times.unlearned_double_s, times.share_of_pace * median(self.between_s)) if gap is None else gap
        return min(times.most_double_s, max(times.least_double_s, wanted))

    @property
    def shortest_pick_s(self) -> float:
        """No two picks are counted sooner after one another than this."""
        times = self.times
        return self._share(self.picks_s, times.enough, times.least_pick_s, times.most_shortest_pick_s)

    @property
    def shortest_throw_s(self) -> float:
        """No shuttle crosses sooner than this after its shed has opened."""
        times = self.times
        return self._share(self.throws_s, times.enough_throws, times.least_throw_s, times.most_shortest_throw_s)

    def _share(self, learned: tuple[float, ...], enough: int, least_s: float, most_s: float) -> float:
        if len(learned) < enough:
            return least_s
        return min(most_s, max(least_s, self.times.share_of_pace * median(learned)))

    def may_count(self, at_s: float, opened_s: float | None = None) -> bool:
        """Tell whether a beat now may end a pick: it is no second beat, and comes no sooner than a pick can.

        `opened_s` is when its shed was felt to be open, where that is known. A shed that has opened since the last
        beat, long enough ago for a shuttle to cross it, says more than the time between beats.
        """
        if self.counted_s is not None and at_s - self.counted_s < self.shortest_pick_s:
            return False
        if opened_s is not None and at_s - opened_s < self.shortest_throw_s:
            return False
        if self.beaten_s is None:
            return True
        learned = len(self.throws_s) >= self.times.enough_throws
        crossed = learned and opened_s is not None and opened_s > self.beaten_s
        return crossed or at_s - self.beaten_s >= self.double_s

    def beaten(self, at_s: float) -> BeatPace:
        """Return what is learned with one more beat, whether it counts or not."""
        return replace(self, between_s=self._with(self.between_s, self.beaten_s, at_s), beaten_s=at_s)

    def counted(self, at_s: float, opened_s: float | None = None) -> BeatPace:
        """Return what is learned with a pick counted now, whose shed was felt to be open since `opened_s`."""
        return replace(
            self,
            throws_s=self._with(self.throws_s, opened_s, at_s),
            picks_s=self._with(self.picks_s, self.counted_s, at_s),
            counted_s=at_s,
        )

    def _with(self, learned: tuple[float, ...], before_s: float | None, at_s: float) -> tuple[float, ...]:
        if before_s is None or not 0 < at_s - before_s <= self.times.longest_s:
            return learned
        return (*learned, at_s - before_s)[-self.times.remembered :]


def _between_heaps(between_s: tuple[float, ...], most_s: float) -> float | None:
    """Return a time between the two heaps that intervals fall into, up to `most_s`; None where they are one heap.

    By the split with the largest variance between its two parts, of logarithms (N. Otsu, "A Threshold Selection Method
    from Gray-Level Histograms", 1979, from memory).
    """
    logs = sorted(log(max(one, 1e-3)) for one in between_s)
    best, best_at = 0.0, 0
    for below in range(_FEWEST_OF_A_HEAP, len(logs) - _FEWEST_OF_A_HEAP + 1):
        if sqrt(exp(logs[below - 1] + logs[below])) > most_s:
            break
        apart = _mean(logs[below:]) - _mean(logs[:below])
        variance = below * (len(logs) - below) * apart * apart
        if apart >= log(_HEAPS_APART) and variance > best:
            best, best_at = variance, below
    return exp((logs[best_at - 1] + logs[best_at]) / 2) if best_at else None


def _mean(values: list[float]) -> float:
    return sum(values) / len(values)
