"""The picks that lie in the cloth of a piece, as a pile of runs: newest on top, short however long the cloth.

A treadling woven in order is one run; a jump begins another; a repeat woven many times is one run with laps. So one
more pick costs the same in a long cloth as in a short one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class PickRun:
    """The picks `first` to `last` (indices) in order, `laps` times over.

    `anew`: with the first of them, in the oldest lap, a section was begun anew; what lies below is no longer of it.
    """

    first: int
    last: int
    laps: int = 1
    anew: bool = False

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

    @property
    def begins_anew(self) -> bool:
        """Whether a section was begun anew with the newest pick."""
        return self.top is not None and self.top.anew and self.top.first == self.top.last

    def woven(self, pick: int, anew: bool = False) -> Cloth:
        """Return the cloth with this pick on top, with which a section may be begun `anew`."""
        top = self.top
        if top is None:
            return Cloth((), PickRun(pick, pick, anew=anew), 1)
        if pick == top.last + 1 and not anew:
            return Cloth(self.below, replace(top, last=pick), self.picks + 1)
        return Cloth(_closed(self.below, top), PickRun(pick, pick, anew=anew), self.picks + 1)

    def taken_out(self) -> Cloth:
        """Return the cloth without its newest pick; ValueError where there is none."""
        top, below = self.top, self.below
        if top is None:
            raise ValueError("there is no pick to take out")
        if top.first < top.last:
            return Cloth(below, replace(top, last=top.last - 1), self.picks - 1)
        if not below:
            return NO_CLOTH
        run = below[-1]
        if run.laps == 1:
            return Cloth(below[:-1], run, self.picks - 1)
        return Cloth((*below[:-1], replace(run, laps=run.laps - 1)), PickRun(run.first, run.last), self.picks - 1)

    def newest_first(self) -> Iterator[int]:
        """Yield the indices of the picks in the cloth, newest first."""
        for run in self._runs_from_top():
            for _ in range(run.laps):
                yield from range(run.last, run.first - 1, -1)

    def newest_within(self, picks: range) -> int:
        """Return how many of the newest are among `picks`, down to the first stranger or to where they began anew."""
        number = 0
        for run in self._runs_from_top():
            if run.last not in picks:
                break
            if run.first not in picks:
                return number + run.last - picks.start + 1
            number += run.picks
            if run.anew:
                break
        return number

    def turns_within(self, picks: range, pick: int) -> int:
        """Return how often `picks` were begun again among those that `newest_within` counts, with `pick` to come."""
        turns, above = 0, pick
        for run in self._runs_from_top():
            if run.last not in picks:
                break
            turns += above <= run.last
            if run.first not in picks:
                break
            turns += run.laps - 1
            if run.anew:
                break
            above = run.first
        return turns

    def _runs_from_top(self) -> Iterator[PickRun]:
        if self.top:
            yield self.top
        yield from reversed(self.below)


NO_CLOTH = Cloth()


def _closed(below: tuple[PickRun, ...], top: PickRun) -> tuple[PickRun, ...]:
    """Put the finished top run on the pile; the same run once more is one more lap of it."""
    if below and (below[-1].first, below[-1].last) == (top.first, top.last) and not top.anew:
        return (*below[:-1], replace(below[-1], laps=below[-1].laps + 1))
    return (*below, top)
