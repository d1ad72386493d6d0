"""The picks that lie in the cloth of a piece, as a pile of runs: newest on top, short however long the cloth.

A treadling woven in order is one run; a jump begins another; a repeat woven many times is one run with laps. So one
more pick costs the same in a long cloth as in a short one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PickRun:
    """The picks `first` to `last` (indices) in order, `laps` times over."""

    first: int
    last: int
    laps: int = 1

    @property
    def picks(self) -> int:
        """How many picks lie in the run."""
        return (self.last - self.first + 1) * self.laps


@dataclass(frozen=True, slots=True)
class Cloth:
    """The pile: `below` the older runs, oldest first, and the `top` run, always of one lap; `picks` in all.

    Equal piles of picks are equal values."""

    below: tuple[PickRun, ...] = ()
    top: PickRun | None = None
    picks: int = 0

    @property
    def newest(self) -> int | None:
        """The index of the newest pick; None where nothing is woven."""
        return self.top.last if self.top else None

    def woven(self, pick: int) -> Cloth:
        """Return the cloth with this pick on top."""
        top = self.top
        if top is None:
            return Cloth((), PickRun(pick, pick), 1)
        if pick == top.last + 1:
            return Cloth(self.below, PickRun(top.first, pick), self.picks + 1)
        return Cloth(_closed(self.below, top), PickRun(pick, pick), self.picks + 1)

    def taken_out(self) -> Cloth:
        """Return the cloth without its newest pick; ValueError where there is none."""
        top, below = self.top, self.below
        if top is None:
            raise ValueError("there is no pick to take out")
        if top.first < top.last:
            return Cloth(below, PickRun(top.first, top.last - 1), self.picks - 1)
        if not below:
            return NO_CLOTH
        run = below[-1]
        older = below[:-1] if run.laps == 1 else (*below[:-1], PickRun(run.first, run.last, run.laps - 1))
        return Cloth(older, PickRun(run.first, run.last), self.picks - 1)

    def newest_first(self) -> Iterator[int]:
        """Yield the indices of the picks in the cloth, newest first."""
        for run in self._runs_from_top():
            for _ in range(run.laps):
                yield from range(run.last, run.first - 1, -1)

    def newest_within(self, picks: range) -> int:
        """Return how many of the newest picks, counted down to the first stranger, are among `picks`."""
        number = 0
        for run in self._runs_from_top():
            if run.last not in picks:
                break
            if run.first not in picks:
                return number + run.last - picks.start + 1
            number += run.picks
        return number

    def turns_within(self, picks: range, pick: int) -> int:
        """Return how often `picks` were begun anew among those that `newest_within` counts, with `pick` to come."""
        turns, above = 0, pick
        for run in self._runs_from_top():
            if run.last not in picks:
                break
            turns += above <= run.last
            if run.first not in picks:
                break
            turns += run.laps - 1
            above = run.first
        return turns

    def _runs_from_top(self) -> Iterator[PickRun]:
        if self.top:
            yield self.top
        yield from reversed(self.below)


NO_CLOTH = Cloth()


def _closed(below: tuple[PickRun, ...], top: PickRun) -> tuple[PickRun, ...]:
    """Put the finished top run on the pile; the same run once more is one more lap of it."""
    if below and (below[-1].first, below[-1].last) == (top.first, top.last):
        return (*below[:-1], PickRun(top.first, top.last, below[-1].laps + 1))
    return (*below, top)
