"""Which of some columns goes to which treadle: fewest cords first, then the feet as `walking` prices them.

Up to `MOST_ORDERS` orders (8 treadles have 40,320) the cords of all are counted, so that none changes fewer. Beyond,
the Hungarian method gives the fewest at reach 1, and moves of one treadle improve the feet. Of orders that change
equally few cords those that look lightest, each shed opened in the way that looks simplest, are priced as they stand.

Lemmas and proofs: assets/mathematics.md, "Cords and places".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations, permutations
from math import perm

import numpy as np
from numpy.typing import NDArray

from companion.remap.feet.presses import ACROSS, BOTH_FEET, FREE, TWO_UNDER_ONE
from companion.remap.feet.walking import MOST_CELLS, FixedFeet, best_feet_on, keeps, walked
from companion.remap.feet.walks import Walks
from companion.remap.loom.cords import cheapest_places
from companion.remap.loom.footings import opens
from companion.remap.loom.targets import Column, Target, by_treadle
from companion.remap.loom.wished import AS_IT_COMES, WishedFeet
from companion.remap.search.answers import ShouldStop, never_stop
from companion.remap.search.choices import Bools, Ints

MOST_ORDERS = 50_000
FEW_ORDERS = 24
"""How many orders are priced as they stand."""
MOST_MOVES = 40
PRESSES_AT_ONCE = 200_000
"""Of how many sheds in orders and divisions the feet are looked at together."""

Places = NDArray[np.int8]
"""Orders x columns: the treadle (from 0) of each column."""

Block = tuple[int, ...]
"""One or two columns under one foot."""


@dataclass(frozen=True, slots=True)
class Order:
    """`places[column]` is its treadle. `cords` change, and the feet on it are `feet`.

    `fewest_cords`: no order changes fewer cords.
    """

    places: tuple[int, ...]
    cords: int
    feet: FixedFeet
    fewest_cords: bool = True


def best_order(
    columns: Sequence[Column],
    treadles: int,
    reach: int,
    walk: Walks,
    *,
    cords: Sequence[Sequence[int]] = (),
    wished: WishedFeet = AS_IT_COMES,
    should_stop: ShouldStop = never_stop,
) -> Order:
    """Place the columns on the treadles: fewest cords first, then as is wished, then least footwork.

    The columns must open every target of the walk in the order in which they are given. `cords[column][treadle]`
    is what tying that column there changes; empty where the loom's present tie-up does not matter. Where no order that
    was priced is as wished, the lightest of them is returned. Raises AssertionError where the columns do not open all.
    """
    search = _Search(columns, treadles, reach, walk, cords, wished)
    if perm(treadles, len(columns)) <= MOST_ORDERS and not should_stop():
        return search.weigh_all()
    return search.improve(should_stop)


class _Search:
    def __init__(
        self,
        columns: Sequence[Column],
        treadles: int,
        reach: int,
        walk: Walks,
        cords: Sequence[Sequence[int]],
        wished: WishedFeet,
    ) -> None:
        self.columns = columns
        self.treadles = treadles
        self.reach = reach
        self.walk = walk
        self.wished = wished
        self.cords = np.array(cords, dtype=np.int64) if len(cords) else np.zeros((len(columns), treadles), np.int64)
        self.presses = [
            sorted(_presses(Target(Column(target)), columns, reach), key=_dearness) for target in walk.targets
        ]
        one_way = reach == 1 and all(len(presses) == 1 for presses in self.presses)
        self._looks_are_exact = one_way and not wished.anything

    def weigh_all(self) -> Order:
        places = _all_places(self.treadles, len(self.columns))
        places = places[self._valid(places)]
        if not len(places):
            raise AssertionError("the columns do not open every shed in the order given")
        changed = self._cords_of(places)
        return self._priced(places[changed == changed.min()], int(changed.min()))

    def improve(self, should_stop: ShouldStop) -> Order:
        start = tuple(range(len(self.columns)))
        if self.reach == 1 and self.cords.any():
            start = cheapest_places(self.cords.tolist())
        best = self._priced(np.array([start], dtype=np.int8))
        for _ in range(MOST_MOVES):
            if should_stop():
                break
            near = _neighbours(best.places, self.treadles)
            near = near[self._valid(near)]
            changed = self._cords_of(near)
            near = near[changed == changed.min(initial=best.cords)]
            if not len(near):
                break
            found = self._priced(near)
            if self._rank(found) >= self._rank(best):
                break
            best = found
        # At reach 1 the Hungarian method gave the start, and no move has made it worse.
        return Order(best.places, best.cords, best.feet, fewest_cords=self.reach == 1 or not self.cords.any())

    def _rank(self, order: Order) -> tuple[int, bool, int]:
        return order.cords, not keeps(order.feet, self.wished), order.feet.cost

    def _priced(self, places: Places, cords: int | None = None) -> Order:
        """Return the best of these orders, which all change as many cords."""
        few = 1 if self._looks_are_exact else FEW_ORDERS
        if len(places) > few:
            places = places[np.argsort(self._looks(places), kind="stable")[:few]]
        for wished in self.wished.less():
            best: tuple[tuple[int, ...], FixedFeet] | None = None
            for row in places.tolist():
                pressed = by_treadle(self.columns, row, self.treadles)
                below = None if best is None else best[1].cost
                feet = best_feet_on(self.walk, pressed, self.reach, below=below, wished=wished)
                if feet is not None and (best is None or feet.cost < best[1].cost):
                    best = tuple(row), feet
            if best is not None:
                changed = int(self._cords_of(np.array([best[0]], dtype=np.int8))[0]) if cords is None else cords
                return Order(best[0], changed, best[1])
        raise AssertionError("the columns do not open every shed in the order given")

    def _cords_of(self, places: Places) -> Ints:
        changed = np.zeros(len(places), dtype=np.int64)
        for column, cords in enumerate(self.cords):  # one column after the other: ten times as fast as all at once
            changed += cords.take(places[:, column])
        return changed

    def _valid(self, places: Places) -> Bools:
        """Return for each order whether every target can be opened on it (orders, bool)."""
        good = np.ones(len(places), dtype=np.bool_)
        for presses in self.presses:
            opened = np.zeros(len(places), dtype=np.bool_)
            for press in presses:
                opened |= _together(press, places)
            good &= opened
        return good

    def _looks(self, places: Places) -> Ints:
        """Return what each order costs with each target opened in the simplest way there, for the best division."""
        number = len(self.presses)
        walk = self.walk.shortened(max(1, MOST_CELLS // (len(places) * (self.treadles + 1))))
        low = np.full((len(places), number), FREE, dtype=np.int64)
        high = np.full((len(places), number), FREE, dtype=np.int64)
        extra = np.zeros((len(places), number), dtype=np.int64)
        for k, presses in enumerate(self.presses):
            left = np.ones(len(places), dtype=np.bool_)
            for one, other in presses:
                here = left & _together((one, other), places)
                left &= ~here
                if not one:
                    continue
                at = _middle(one, places[here])
                low[here, k] = at if not other else np.minimum(at, _middle(other, places[here]))
                high[here, k] = FREE if not other else np.maximum(at, _middle(other, places[here]))
                extra[here, k] = _dearness((one, other))
        picks = np.array(self.walk.picks, dtype=np.int64)
        alone = high == FREE
        costs = np.full(len(places), np.iinfo(np.int64).max)
        at_once = max(1, PRESSES_AT_ONCE // max(1, low.size))
        for first in range(0, self.treadles + 1, at_once):
            middle = 4 * np.arange(first, min(first + at_once, self.treadles + 1))[:, None, None] - 2
            to_right = low > middle
            left_foot = np.where(alone & to_right, FREE, low).reshape(-1, number)
            right_foot = np.where(alone, np.where(to_right, low, FREE), high).reshape(-1, number)
            across = ~alone & (to_right | (high < middle))
            cost = walked(walk, left_foot, right_foot).reshape(len(middle), -1) + (extra + ACROSS * across) @ picks
            costs = np.minimum(costs, cost.min(axis=0))
        return costs


def _dearness(press: tuple[Block, Block]) -> int:
    one, other = press
    return BOTH_FEET * bool(other) + TWO_UNDER_ONE * ((len(one) > 1) + (len(other) > 1))


def _middle(block: Block, places: Places) -> Ints:
    middle: Ints = 2 * (places[:, block[0]].astype(np.int64) + places[:, block[-1]].astype(np.int64))
    return middle


def _together(press: tuple[Block, Block], places: Places) -> Bools:
    """Tell of each order whether each block lies under one foot (orders, bool)."""
    good = np.ones(len(places), dtype=np.bool_)
    for block in press:
        if len(block) == 2:
            good &= abs(places[:, block[0]] - places[:, block[1]]) == 1
    return good


def _presses(target: Target, columns: Sequence[Column], reach: int) -> Iterator[tuple[Block, Block]]:
    """Yield what the feet may press for a target, as one or two blocks of columns (the second may be empty).

    A target with treadles of its own is opened by one of them.
    """
    if target == 0:
        yield (), ()
        return
    own = [column for column, pulled in enumerate(columns) if pulled == target]
    if own:
        yield from (((column,), ()) for column in own)
        return
    inside = [column for column, pulled in enumerate(columns) if pulled and pulled | target == target]
    for size in range(2, 2 * reach + 1):
        for chosen in combinations(inside, size):
            if opens(chosen, columns, target):
                yield from _shared_out(chosen, reach)


def _shared_out(chosen: tuple[int, ...], reach: int) -> Iterator[tuple[Block, Block]]:
    if len(chosen) <= reach:
        yield chosen, ()
    for size in range(1, min(len(chosen) - 1, reach) + 1):
        for one in combinations(chosen, size):
            other = tuple(column for column in chosen if column not in one)
            # Which block is under the left foot follows from the order, so each pair of blocks is taken once.
            if len(other) <= reach and one < other:
                yield one, other


@cache
def _all_places(treadles: int, columns: int) -> Places:
    places = np.array(list(permutations(range(treadles), columns)), dtype=np.int8).reshape(-1, columns)
    places.setflags(write=False)
    return places


def _neighbours(places: Sequence[int], treadles: int) -> Places:
    """Return all orders one move away: two treadles exchanged, a stretch turned round, one treadle moved along."""
    here = np.array(places, dtype=np.int8)
    near = _moves(treadles)[:, here]
    others: Places = near[(near != here).any(axis=1)]
    return others


@cache
def _moves(treadles: int) -> Places:
    """Return where every treadle comes by each move of a row: moves x treadles."""
    row = list(range(treadles))
    found = set()
    for left, right in combinations(range(treadles), 2):
        exchanged = row.copy()
        exchanged[left], exchanged[right] = row[right], row[left]
        turned = row[:left] + row[left : right + 1][::-1] + row[right + 1 :]
        to_right = row[:left] + row[left + 1 : right + 1] + [row[left]] + row[right + 1 :]
        to_left = [*row[:left], row[right], *row[left:right], *row[right + 1 :]]
        found |= {tuple(exchanged), tuple(turned), tuple(to_right), tuple(to_left)}
    moves = np.array(sorted(found), dtype=np.int8).reshape(len(found), treadles)
    moves.setflags(write=False)
    return moves
