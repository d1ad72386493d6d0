"""The whole plan of tying anew: of all plans with fewest stages, one that changes fewest cords in all.

Preference, first to last: fewest stages; fewest cords changed over the whole plan; most stops at section ends; fewest
cords tied at the start where no present tie-up is given. Exact, by dynamic programming over stages (R. Bellman,
"Dynamic Programming", 1957), over where each begins, and over every tie-up the loom can hold (see `every_tieup`). That
treadles are taken as alike loses nothing: numbering the treadles of all later stages anew changes no cord there, so
each stage may be matched with the one before as cheaply as can be.

*Where a stop can be.* A stop that is no section end may be moved later as long as the stage before it opens the next
shed already: that asks nothing new of the one and less of the other, and never empties a stage, or the plan would have
had one too many. So only section ends are tried, and picks whose shed is new to the stage.

Lemmas and proofs: assets/mathematics.md, "Stages".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from companion.remap.loom.targets import Columns, Target
from companion.remap.search.answers import ShouldStop
from companion.remap.stages.every_tieup import NEVER, Costs, EveryTieUp, work_of
from companion.remap.stages.fewest_stages import Furthest

MOST_WORK_AT_ONCE = 1_500_000
"""How many steps between tie-ups are held at most: all of four shafts on six treadles."""

MOST_WORK = 40_000_000
"""How many steps the spreads of a plan may look at in each of their passes: about two seconds of work."""


@dataclass(frozen=True, slots=True)
class CordPlan:
    """The picks of each stage, its columns (in no order, 0 for an untied treadle), and the cords changed in all."""

    stages: tuple[range, ...]
    columns: tuple[Columns, ...]
    cords: int


_Layer = dict[int, tuple[int, ...]]
"""For each pick where a stage may begin the stops it may end at, rising."""


def fewest_cords_in_all(
    furthest: Furthest,
    section_ends: Sequence[int],
    treadles: int,
    present: Columns | None,
    should_stop: ShouldStop,
) -> CordPlan | None:
    """Return a plan that none with as few stages betters, for one treadle under a foot.

    None where there are too many tie-ups to weigh them all, or when stopped. `present` holds a column for every treadle
    of the loom; without it the cords of the first stage are not counted. Sheds 1, 2 and 3 on two treadles are two
    stages and change 2 cords: one comes off, one goes on.
    """
    wholes = {*furthest.treadling, *(present or ())}
    at_once = work_of(wholes, treadles)
    if at_once > MOST_WORK_AT_ONCE:
        return None
    ends = frozenset(section_ends)
    layers = _layers(furthest, ends, MOST_WORK // at_once)
    if not layers:
        return None
    return _Weighing(furthest.treadling, ends, layers, EveryTieUp(wholes, treadles)).plan(present, should_stop)


def _layers(furthest: Furthest, ends: frozenset[int], most: int) -> list[_Layer]:
    """Return a layer for every stage; none where there are more than `most` beginnings in all."""
    layers: list[_Layer] = []
    starts = {0}
    for left in reversed(range(furthest.stages_from(0))):
        layer = {start: _stops(furthest, ends, start, left) for start in sorted(starts)}
        layers.append(layer)
        most -= len(layer)
        if most < 0:
            return []
        starts = {stop for stops in layer.values() for stop in stops}
    return layers


def _stops(furthest: Furthest, ends: frozenset[int], start: int, left: int) -> tuple[int, ...]:
    """Return where a stage may end that begins at `start`, when `left` more must weave the rest."""
    treadling, latest = furthest.treadling, furthest(start)
    if not left:
        return (latest,)
    stops = []
    opened: set[Target] = set()
    for stop in range(start + 1, latest + 1):
        opened.add(treadling[stop - 1])
        if (stop in ends or treadling[stop] not in opened) and furthest.stages_from(stop) <= left:
            stops.append(stop)
    return tuple(stops)


class _Weighing:
    def __init__(
        self, treadling: Sequence[Target], ends: frozenset[int], layers: Sequence[_Layer], tieups: EveryTieUp
    ) -> None:
        self._treadling = treadling
        self._layers = layers
        self._tieups = tieups
        self._ends = ends - {len(treadling)}
        # One number compares cords first, then stops at section ends, then the cords tied at the start.
        self._end = int(tieups.cords.max()) + 1
        self._cord = self._end * (len(layers) + 1)

    def plan(self, present: Columns | None, should_stop: ShouldStop) -> CordPlan | None:
        tied = {0: self._at_start(present)}
        history: list[tuple[_Layer, dict[int, Costs], dict[int, Costs]]] = []
        for layer in self._layers:
            woven: dict[int, Costs] = {}
            for start, stops in layer.items():
                if should_stop():
                    return None
                self._weave(start, stops, tied[start], woven)
            history.append((layer, tied, woven))
            if layer is not self._layers[-1]:
                tied = {}
                for stop, costs in woven.items():
                    if should_stop():
                        return None
                    tied[stop] = self._tieups.spread(costs, self._cord)
        return self._traced(history)

    def _at_start(self, present: Columns | None) -> Costs:
        if present is None:
            return self._tieups.cords
        costs = np.full(len(self._tieups), NEVER)
        costs[self._tieups.number_of(present)] = 0
        return self._tieups.spread(costs, self._cord)

    def _weave(self, start: int, stops: Sequence[int], tied: Costs, woven: dict[int, Costs]) -> None:
        """Put the costs of the tie-ups that weave from `start` to each of the stops into `woven`."""
        at, opens = start, np.ones(len(tied), dtype=np.bool_)
        for stop in stops:
            for target in set(self._treadling[at:stop]):
                opens = opens & self._tieups.opens(target)
            at = stop
            costs = np.where(opens, tied - self._reward(stop), NEVER)
            woven[stop] = np.minimum(woven[stop], costs) if stop in woven else costs

    def _reward(self, stop: int) -> int:
        return self._end if stop in self._ends else 0

    def _traced(self, history: Sequence[tuple[_Layer, dict[int, Costs], dict[int, Costs]]]) -> CordPlan:
        stop = len(self._treadling)
        number = int(history[-1][2][stop].argmin())
        least = int(history[-1][2][stop][number])
        stages, columns, kept = [], [], 0
        for at in reversed(range(len(history))):
            layer, tied, woven = history[at]
            wanted = woven[stop][number] + self._reward(stop)
            start = next(
                start
                for start, stops in layer.items()
                if stop in stops and tied[start][number] == wanted and self._opens(number, start, stop)
            )
            stages.append(range(start, stop))
            columns.append(self._tieups.columns(number))
            if at:
                kept += self._reward(start)
                number = self._tied_from(number, tied[start], history[at - 1][2][start])
            stop = start
        return CordPlan(tuple(reversed(stages)), tuple(reversed(columns)), (least + kept) // self._cord)

    def _opens(self, number: int, start: int, stop: int) -> bool:
        return all(self._tieups.opens(target)[number] for target in set(self._treadling[start:stop]))

    def _tied_from(self, number: int, tied: Costs, woven: Costs) -> int:
        """Follow the spread back, a cord at a time, to the tie-up from which this one was tied."""
        while woven[number] != tied[number]:
            nearer = self._tieups.one_cord_away[number]
            number = int(nearer[tied[nearer] == tied[number] - self._cord][0])
        return number
