"""Which column goes to which treadle so that the feet have least to do: every order weighed where that is possible.

The cost of a treadling (see `footwork`) is a sum over neighbouring picks, so one table says what a step from one shed
to the next costs on a given order, and numpy fills it for hundreds of orders at once. Two passes:

1. For every order a lower bound: every two steps in a row taken with their own cheapest feet, times how often they
   occur. So each step but the first and last is counted twice; half of the sum, these two added once more, is no more
   than the cost. Where a treadling has too many different triples of sheds, each step by itself.
2. The orders by rising bound: their exact cost by dynamic programming over the picks. Stretches between picks that
   leave the feet no choice are worked out once and counted. As soon as a bound is no lower than the best exact cost,
   the rest cannot be better, and the best order is proven.

Up to `MOST_ORDERS` orders (8 treadles have 40,320; 10 treadles with 4 columns 5,040) all are weighed. Beyond, orders
are improved by exchanging treadles, turning stretches round and moving one treadle along, until none of these
helps: the best found, and called so.

Where the loom is tied already, an order that changes fewer cords comes before any saving of the feet.

Lemmas and proofs: assets/mathematics.md, "Feet and orders".
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations, pairwise, permutations
from math import perm

import numpy as np
from numpy.typing import NDArray

from companion.remap.feet.step_costs import FORBIDDEN, StepCosts
from companion.remap.loom.cords import cheapest_places
from companion.remap.loom.targets import Column, Target
from companion.remap.search.answers import ShouldStop, never_stop

MOST_ORDERS = 50_000
ORDERS_AT_ONCE = 2048
BOUNDS_AT_ONCE = 2048
MOST_TRIPLES = 2000
BOUNDS_WORTH = 3
"""Where the exact cost takes no more steps than that many times the pairs, bounds cost more than they save."""

Places = NDArray[np.int8]
"""Orders x columns: the treadle (from 0) of each column."""


@dataclass(frozen=True, slots=True)
class Order:
    """`places[column]` is its treadle. `cords` change, footwork costs `cost`; `proven`: no order is better in these.

    `fewest_cords`: no order changes fewer cords, whether or not the footwork is proven too.
    """

    places: tuple[int, ...]
    cords: int
    cost: int
    proven: bool
    fewest_cords: bool = True


def best_order(
    columns: Sequence[Column],
    treadles: int,
    reach: int,
    treadling: Sequence[Target],
    *,
    cords: Sequence[Sequence[int]] = (),
    should_stop: ShouldStop = never_stop,
) -> Order:
    """Place the columns on the treadles: fewest cords first, then least footwork, then nearest to the order given.

    The columns must open every target of `treadling` in the order in which they are given. `cords[column][treadle]`
    is what tying that column there changes; empty where the loom's present tie-up does not matter.
    """
    if not columns:
        return Order((), 0, 0, True)
    search = _Search(columns, treadles, reach, treadling, cords, should_stop)
    if perm(treadles, len(columns)) <= MOST_ORDERS and not should_stop():
        return search.weigh_all()
    return search.improve()


class _Search:
    def __init__(
        self,
        columns: Sequence[Column],
        treadles: int,
        reach: int,
        treadling: Sequence[Target],
        cords: Sequence[Sequence[int]],
        should_stop: ShouldStop,
    ) -> None:
        self.columns = columns
        self.treadles = treadles
        self.reach = reach
        self.steps = StepCosts(columns, treadles, reach, sorted(set(treadling)))
        self.treadling = [self.steps.targets.index(target) for target in treadling]
        self.pairs = Counter(pairwise(self.treadling))
        self.triples = Counter(zip(self.treadling, self.treadling[1:], self.treadling[2:], strict=False))
        self.head, self.stretches = _stretches(self.treadling, self.steps)
        self.cords = np.array(cords, dtype=np.int64) if cords else None
        self.should_stop = should_stop

    def weigh_all(self) -> Order:
        places = _all_places(self.treadles, len(self.columns))
        if self.cords is None:
            # A mirrored order costs the same, feet exchanged: half of them will do.
            places = places[places[:, 0] * 2 <= self.treadles - 1]
        places = places[self.steps.valid(places)]
        changed = self._cords_of(places)
        places = places[changed == changed.min()]
        bounds = np.concatenate(
            [self._bounds(places[at : at + BOUNDS_AT_ONCE]) for at in range(0, len(places), BOUNDS_AT_ONCE)]
        )
        by_bound = np.argsort(bounds, kind="stable")
        best: tuple[int, int] | None = None
        proven = True
        for at in range(0, len(places), ORDERS_AT_ONCE):
            some = by_bound[at : at + ORDERS_AT_ONCE]
            if best is not None and bounds[some[0]] >= best[0]:
                break
            if best is not None and self.should_stop():
                proven = False
                break
            costs = self._exact(places[some])
            nearest = min(zip(costs.tolist(), some.tolist(), strict=True))
            best = nearest if best is None else min(best, nearest)
        if best is None:
            raise AssertionError("the columns do not open every shed in the order given")
        chosen = places[best[1]]
        return Order(tuple(chosen.tolist()), int(changed.min()), best[0], proven)

    def improve(self) -> Order:
        starts = [tuple(range(len(self.columns)))]
        if self.reach == 1:
            margin = (self.treadles - len(self.columns)) // 2
            starts.append(tuple(range(margin, margin + len(self.columns))))
            if self.cords is not None:
                starts = [cheapest_places(self.cords.tolist())]
        weighed = [(self._weight(np.array([start], dtype=np.int8))[0], start) for start in starts]
        best, places = min(weighed)
        while not self.should_stop():
            near = _neighbours(places, self.treadles)
            near = near[self.steps.valid(near)]
            if not len(near):
                break
            weights = self._weight(near)
            at = int(weights.argmin())
            if weights[at] >= best:
                break
            best, places = int(weights[at]), tuple(near[at].tolist())
        cords, cost = divmod(int(best), FORBIDDEN)
        # At reach 1 the Hungarian method gave the start, and no move has made it worse.
        return Order(places, cords, cost, proven=False, fewest_cords=self.cords is None or self.reach == 1)

    def _weight(self, places: Places) -> NDArray[np.int64]:
        """Return cords and cost of each order in one number that compares cords first."""
        parts = [self._exact(places[at : at + ORDERS_AT_ONCE]) for at in range(0, len(places), ORDERS_AT_ONCE)]
        weights: NDArray[np.int64] = self._cords_of(places) * FORBIDDEN + np.concatenate(parts)
        return weights

    def _cords_of(self, places: Places) -> NDArray[np.int64]:
        changed = np.zeros(len(places), dtype=np.int64)
        if self.cords is not None:
            for column, cords in enumerate(self.cords):  # one column after the other: ten times as fast as all at once
                changed += cords.take(places[:, column])
        return changed

    def _bounds(self, places: Places) -> NDArray[np.int64]:
        total = np.zeros(len(places), dtype=np.int64)
        steps = len(self.head) + sum(len(stretch) - 1 for stretch in self.stretches)
        if not self.treadling or steps <= BOUNDS_WORTH * len(self.pairs):
            return total
        feet = self.steps.feet(places)
        total += self.steps.first(feet[self.treadling[0]]).min(axis=0)
        pairs = {pair: self.steps.between(feet[pair[0]], feet[pair[1]]) for pair in self.pairs}
        if not self.triples or len(self.triples) > MOST_TRIPLES:
            for pair, times in self.pairs.items():
                total += times * pairs[pair].min(axis=(0, 1))
            return total
        into = {pair: cost.min(axis=1) for pair, cost in pairs.items()}
        out_of = {pair: cost.min(axis=0) for pair, cost in pairs.items()}
        twice = sum(
            times * (into[one, two] + out_of[two, three]).min(axis=0)
            for (one, two, three), times in self.triples.items()
        )
        for at in (0, len(self.treadling) - 2):
            twice = twice + into[self.treadling[at], self.treadling[at + 1]].min(axis=0)
        total += (twice + 1) // 2
        return total

    def _exact(self, places: Places) -> NDArray[np.int64]:
        feet = self.steps.feet(places)
        between = {pair: self.steps.between(feet[pair[0]], feet[pair[1]]) for pair in self.pairs}
        if not self.treadling:
            return np.zeros(len(places), dtype=np.int64)
        sums = {pair: np.empty_like(step) for pair, step in between.items()}  # written over and over: twice as fast

        def along(costs: NDArray[np.int32], stretch: Sequence[int]) -> NDArray[np.int32]:
            for pair in pairwise(stretch):
                np.add(between[pair], costs, out=sums[pair])
                costs = sums[pair].min(axis=1)
            least: NDArray[np.int32] = costs.min(axis=0) if len(costs) > 1 else costs[0]
            return least

        total = along(self.steps.first(feet[self.head[0]]), self.head).astype(np.int64)
        for stretch, times in self.stretches.items():
            total += np.int64(times) * along(between[stretch[0], stretch[1]][:, 0], stretch[1:])
        return total


def _stretches(treadling: Sequence[int], steps: StepCosts) -> tuple[tuple[int, ...], Counter[tuple[int, ...]]]:
    """Cut the treadling at the picks with only one way to stand: what comes after does not ask what came before.

    Return its beginning, up to the first such pick, and the stretches from each such pick to the next, counted.
    """
    cuts = [pick for pick, target in enumerate(treadling) if steps.one_way(target)]
    ends = [*cuts[1:], len(treadling) - 1] if cuts else []
    stretches = [tuple(treadling[start : end + 1]) for start, end in zip(cuts, ends, strict=True) if start < end]
    return tuple(treadling[: cuts[0] + 1] if cuts else treadling), Counter(stretches)


@cache
def _all_places(treadles: int, columns: int) -> Places:
    places = np.array(list(permutations(range(treadles), columns)), dtype=np.int8)
    places.setflags(write=False)
    return places


def _neighbours(places: Sequence[int], treadles: int) -> Places:
    """Return all orders one move away: two treadles exchanged, a stretch turned round, one treadle moved along."""
    row = [-1] * treadles
    for column, treadle in enumerate(places):
        row[treadle] = column
    found = set()
    for left, right in combinations(range(treadles), 2):
        exchanged = row.copy()
        exchanged[left], exchanged[right] = row[right], row[left]
        turned = row[:left] + row[left : right + 1][::-1] + row[right + 1 :]
        to_right = row[:left] + row[left + 1 : right + 1] + [row[left]] + row[right + 1 :]
        to_left = [*row[:left], row[right], *row[left:right], *row[right + 1 :]]
        found |= {tuple(exchanged), tuple(turned), tuple(to_right), tuple(to_left)}
    found.discard(tuple(row))
    orders = [[moved.index(column) for column in range(len(places))] for moved in sorted(found)]
    return np.array(orders, dtype=np.int8).reshape(len(orders), len(places))
