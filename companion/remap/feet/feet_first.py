"""The aim `feet`: least footwork among all tie-ups with at most so many treadles, all orders and all feet.

1. Seeds, each priced as it stands: the draft's own tie-up, the fewest treadles, the answer of feet that press one
   treadle only, the answer with one treadle fewer. Nothing leaves here that is dearer than one of them.
2. `owning` says which sheds deserve a treadle of their own, `halves` gives each set of columns its lightest order.
3. Exchanges, and feet of their own for sheds with several ways, improve what was found.
4. On few treadles every set of columns is looked at, where these are not too many (`every_set`).
5. The bound: whichever sheds both feet open, they pay for that, and what the rest walk is no dearer without them.

Lemmas and proofs: assets/mathematics.md, "Feet first".
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from heapq import heappop, heappush
from itertools import islice, product

import numpy as np

from companion.remap.feet.every_set import every_set
from companion.remap.feet.halves import MOST_COLUMNS, SMALL, Halves, Ways, order_found, seats_of, weighed
from companion.remap.feet.owning import OwnTreadles, own_treadles
from companion.remap.feet.tidy_order import in_walking_order
from companion.remap.feet.walking import (
    BOTH_FEET,
    MOST_CELLS,
    TWO_UNDER_ONE,
    FixedFeet,
    best_feet_on,
    mirrored_feet,
)
from companion.remap.feet.walks import Walks, walks_of
from companion.remap.loom.feet_wish import TabbyPlace
from companion.remap.loom.targets import Column, Columns
from companion.remap.loom.wished import AS_IT_COMES, WishedFeet
from companion.remap.search.alike import names_of
from companion.remap.search.answers import ShouldStop, never_stop

MOST_SETS = {True: 24, False: 2}
MOST_WAYS_OF_SET = {True: 24, False: 2}
"""How many sets of columns, and ways to open the sheds by each, are arranged: for few treadles, and for more."""
MOST_BOUNDS = 60
MOST_EXACT = 8
"""Up to so many sheds that keep a treadle of their own their walk is worked out for the bound, else bounded too."""
MOST_MOVES = 6
MOST_WAITING = 20_000
CELLS_OF_LEVEL, CELLS_OF_OFFER = {1: 1_500_000, 2: 5_000_000}, 8_000
"""How many steps of candidates the moves may look at for each number of treadles, and what each row costs beside."""


@dataclass(frozen=True, slots=True)
class LightestFound:
    """Columns treadle by treadle (0 untied), the feet on them, and what no answer is below."""

    columns: Columns
    feet: FixedFeet
    at_least: int

    @property
    def cost(self) -> int:
        """What the feet pay."""
        return self.feet.cost

    @property
    def proven(self) -> bool:
        """Whether nothing is lighter."""
        return self.cost == self.at_least


def lightest_of_all(
    picks: Sequence[int],
    treadles: int,
    reach: int,
    *,
    own: Columns | None = None,
    fewest: Sequence[Columns] = (),
    should_stop: ShouldStop = never_stop,
    wished: WishedFeet = AS_IT_COMES,
) -> LightestFound | None:
    """Return the lightest tie-up found for these picks (a target each); None where nothing does as wished.

    `own` is the draft's own tie-up where it fits, `fewest` the answers with fewest treadles at reach 1 up to `reach`.
    Asked for more treadles, or for a longer reach, it is never dearer: the answers with fewer are seeds of it. More
    treadles than sheds are of no use to feet that press one treadle at a time, so there the answers are the same.
    Of rows that are as light the draft's own comes first, then one in walking order (see `tidy_order`).
    """
    found = _lightest(picks, treadles, reach, own, fewest, should_stop, wished)
    return found if found is None or found.columns == own else tidied(found, picks, wished)


def tidied(found: LightestFound, picks: Sequence[int], wished: WishedFeet) -> LightestFound:
    """Return the answer in the order that legs learn soonest, of those that are as light."""
    row, feet = in_walking_order(walks_of(picks), found.columns, found.feet, wished)
    return replace(found, columns=tuple(map(Column, row)), feet=feet)


def _lightest(
    picks: Sequence[int],
    treadles: int,
    reach: int,
    own: Columns | None,
    fewest: Sequence[Columns],
    should_stop: ShouldStop,
    wished: WishedFeet,
) -> LightestFound | None:
    sheds = len({pick for pick in picks if pick})
    shortest = min(map(len, fewest), default=sheds)
    most = min(treadles, max(sheds, shortest))
    given = [*fewest] if own is None else [own, *fewest]
    at_once = None
    if most >= sheds or (reach == 1 and shortest >= most):
        seeds = [row for row in given if len(row) <= treadles]
        at_once = feet_first(picks, most, reach, seeds, should_stop, wished=wished)
        if at_once is not None and (at_once.proven or shortest >= most):
            return at_once
    found: dict[int, LightestFound] = {}
    for number in range(min(most, shortest), most + 1):
        if number < most and should_stop():
            # Whoever waits no longer gets what is asked for by itself, without fewer treadles before it.
            continue
        for feet in range(1, reach + 1):
            seeds = [row for row in given if len(row) <= (treadles if number == most else number)]
            seeds += [found[fewer].columns for fewer in sorted(found) if fewer <= feet]
            asked = number == most and feet == reach
            lightest = feet_first(
                picks, number, feet, seeds, should_stop, bounded=asked, arranged=feet > 1 and 1 in found, wished=wished
            )
            if lightest is not None:
                found[feet] = lightest
    return found.get(reach, at_once)


def feet_first(
    picks: Sequence[int],
    treadles: int,
    reach: int,
    seeds: Sequence[Sequence[int]] = (),
    should_stop: ShouldStop = never_stop,
    *,
    bounded: bool = True,
    arranged: bool = False,
    wished: WishedFeet = AS_IT_COMES,
) -> LightestFound | None:
    """Return the lightest tie-up found; None where no seed and no set of columns opens every target as is wished.

    `seeds` are rows of columns in the order of the treadles. Where it is not to be `bounded`, `at_least` is 0. Where
    sets of columns are `arranged` already for feet that press one treadle, the last seed is that answer.
    """
    names = names_of(picks)
    turned = wished.place is TabbyPlace.RIGHT
    if turned:
        # A row turned round, feet exchanged, costs the same: tabby is put to the left, and all is turned back.
        wished, seeds = wished.mirrored(), [seed[::-1] for seed in seeds]
    search = _FeetSearch(walks_of([names.named(pick) for pick in picks]), treadles, reach, wished)
    targets = set(picks)
    rows = []
    for seed in seeds:
        # No foot presses a column that lies inside no target; the rest can be named.
        row = [column if any(not column & ~target for target in targets) else 0 for column in seed]
        rows.append([names.named(column) for column in row])
    search.begin(rows, arranged)
    search.arrange(should_stop)
    complete = search.look_at_every_set(should_stop)
    if search.best is None:
        return None
    columns, feet = search.best
    at_least = feet.cost if complete else search.at_least(feet.cost) if bounded else 0
    if turned:
        columns, feet = columns[::-1], mirrored_feet(feet, len(columns))
    return LightestFound(names.unnamed(columns), feet, at_least)


def least_footwork(picks: Sequence[int], treadles: int, reach: int, cost: int) -> int:
    """Return what no tie-up of so many treadles is below; `cost` where that is met by what is known to do."""
    names = names_of(picks)
    walk = walks_of([names.named(pick) for pick in picks])
    lost = own_treadles(walk.targets, walk.picks, treadles).at_least
    return _bound(walk, cost, lost, treadles, reach, AS_IT_COMES)


class _FeetSearch:
    def __init__(self, walk: Walks, treadles: int, reach: int, wished: WishedFeet) -> None:
        self._walk = walk
        self._wished = wished
        self._treadles = treadles
        self._reach = reach
        self.best: tuple[tuple[int, ...], FixedFeet] | None = None
        """The lightest by now."""
        self._cells = CELLS_OF_LEVEL[reach]
        self._sets: list[tuple[int, ...]] = []
        self._own: OwnTreadles | None = None

    def at_least(self, cost: int) -> int:
        """Return what no answer is below, `cost` being known to do."""
        lost = 0 if self._own is None else self._own.at_least
        return _bound(self._walk, cost, lost, self._treadles, self._reach, self._wished)

    def begin(self, seeds: Iterable[Sequence[int]], arranged: bool) -> None:
        """Price the seeds, and choose which sheds get a treadle of their own."""
        for seed in seeds:
            self._offer(seed)
            if not arranged and best_feet_on(self._walk, seed, 1) is not None:
                self._sets.append(tuple(dict.fromkeys(column for column in seed if column)))
        if arranged:
            return
        fitting = [columns for columns in self._sets if len(columns) <= self._treadles]
        must = tuple(self._walk.targets[k] for k in self._wished.tabby or ())
        self._own = own_treadles(self._walk.targets, self._walk.picks, self._treadles, fitting, must)

    def arrange(self, should_stop: ShouldStop) -> None:
        """Give each promising set of columns its lightest order, and improve the best."""
        kept = () if self._own is None else self._own.kept
        most = MOST_SETS[self._treadles <= SMALL]
        arranged = 0
        for lost, columns in (*kept, *((0, columns) for columns in self._sets)):
            if arranged >= most or (arranged and should_stop()):
                break
            if self.best is None or lost * BOTH_FEET < self.best[1].cost:
                arranged += 1
                self._arrange_set(columns)
        if not should_stop():
            self._exchange()

    def look_at_every_set(self, should_stop: ShouldStop) -> bool:
        """Look at all sets of columns where these are few; tell whether nothing is lighter than the best."""
        if self._reach > 1 or self.best is None or should_stop():
            return False
        found = every_set(self._walk, self._treadles, self.best[1].cost, self._wished)
        if found.columns is not None:
            self._offer(found.columns)
        return found.complete

    def _offer(self, columns: Sequence[int], near: int | None = None) -> bool:
        below = None if self.best is None else self.best[1].cost
        feet = best_feet_on(self._walk, columns, self._reach, near, below, self._wished)
        self._cells -= CELLS_OF_OFFER
        if feet is None:
            return False
        self._cells -= feet.weighed * len(self._walk.steps)
        if self.best is not None and feet.cost >= self.best[1].cost:
            return False
        self.best = tuple(columns), feet
        return True

    def _arrange_set(self, columns: Sequence[int]) -> None:
        for ways in islice(_ways_of_set(self._walk, columns), MOST_WAYS_OF_SET[len(columns) <= SMALL]):
            seats = seats_of(self._wished, ways)
            if seats is None:
                continue
            below = None if self.best is None else self.best[1].cost
            found = order_found(self._walk, len(columns), ways, below, seats)
            if found is not None:
                self._offer([columns[k] for k in found.order])

    def _exchange(self) -> None:
        """Improve by moves of one treadle where picks with two treadles make the halves inexact."""
        if self.best is None or not any(press.extra for press in self.best[1].presses):
            return
        for _ in range(MOST_MOVES):
            columns, feet = self.best
            row = [*columns, *[0] * (self._treadles - len(columns))]
            near = list(_moved(row))
            if self._reach == 1:
                near = _promising(self._walk, row, feet, near)
            better = False
            for other in near:
                if self._cells < 0:
                    return
                better = self._offer(other, feet.split) or better
            if not better:
                return


def _ways_of_set(walk: Walks, columns: Sequence[int]) -> Iterable[Ways]:
    """Yield ways to open every target by these columns, a treadle of its own wherever there is one; none if none do."""
    at = {column: k for k, column in enumerate(columns)}
    options: list[list[tuple[int, ...]]] = []
    for target in walk.targets:
        if not target:
            options.append([()])
        elif target in at:
            options.append([(at[target],)])
        else:
            inside = [column for column in columns if not column & ~target]
            options.append(
                [(at[one], at[two]) for k, one in enumerate(inside) for two in inside[k + 1 :] if one | two == target]
            )
    return product(*options)


def _moved(row: Sequence[int]) -> Iterable[list[int]]:
    for one in range(len(row)):
        for other in range(one + 1, len(row)):
            if row[one] != row[other]:
                exchanged = list(row)
                exchanged[one], exchanged[other] = row[other], row[one]
                yield exchanged
                yield [*row[:one], *row[one + 1 : other + 1], row[one], *row[other + 1 :]]


def _promising(walk: Walks, row: Sequence[int], feet: FixedFeet, near: list[list[int]]) -> list[list[int]]:
    """Return the one row that is lightest with each target opened by the columns that open it now, if it is lighter."""
    number = {column: k for k, column in enumerate(row)}
    if len(number) < len(row) or not near:
        return near[:1]
    ways = [tuple(number[row[t]] for t in (*press.left, *press.right)) for press in feet.presses]
    splits = range(len(row) + 1)
    short = walk.shortened(max(1, MOST_CELLS // (len(near) * len(splits))))
    orders = np.array([[number[column] for column in other] for other in near for _ in splits])
    costs = weighed(short, ways, orders, np.array([split for _ in near for split in splits]))
    at = min(range(len(costs)), key=costs.__getitem__)
    return [near[at // len(splits)]] if costs[at] < feet.cost else []


def _bound(walk: Walks, cost: int, lost_at_least: int, treadles: int, reach: int, wished: WishedFeet) -> int:
    """Return what no answer is below: over all sets of sheds that are not opened by one treadle, rising in picks.

    Such a set pays for each of its picks, and the walk of the others, by the triangle inequality, is no dearer when the
    others' picks are left out, strides not counted. Tabby that is wished to one side has treadles of its own there.
    """
    dear, lost = (BOTH_FEET, lost_at_least) if reach == 1 else (TWO_UNDER_ONE, 0)
    order = sorted((k for k, target in enumerate(walk.targets) if target), key=lambda k: walk.picks[k])
    two_at_least = len(order) - treadles
    order = [k for k in order if k not in (wished.tabby or ())]
    most = max(2, min(MOST_BOUNDS, 4_000 // 2 ** max(0, min(len(order), treadles))))
    heap: list[tuple[int, tuple[int, ...], int]] = [(0, (), 0)]
    least, looked = cost, 0
    while heap:
        picks, chosen, after = heappop(heap)
        if picks * dear >= least:
            break
        for at in range(after, len(order)):
            heappush(heap, (picks + walk.picks[order[at]], (*chosen, order[at]), at + 1))
        looked += picks >= lost and len(chosen) >= two_at_least
        if looked > most or len(heap) > MOST_WAITING:
            return min(least, max(picks, lost) * dear)
        if picks >= lost and len(chosen) >= two_at_least:
            least = min(least, picks * dear + _walk_of_others(walk, chosen, least - picks * dear, wished))
    return least


def _walk_of_others(walk: Walks, left_out: tuple[int, ...], below: int, wished: WishedFeet) -> int:
    singles = [k for k, target in enumerate(walk.targets) if target and k not in left_out]
    if len(singles) > MOST_COLUMNS:
        return 0
    number = {k: c for c, k in enumerate(singles)}
    ways = [(number[k],) if k in number else () for k in range(len(walk.targets))]
    seats = seats_of(wished, ways)
    if seats is None:
        return 0
    halves = Halves(walk, len(singles), ways, seats, strides=not left_out)
    if len(singles) > MOST_EXACT and left_out:
        return halves.floor()
    found = halves.best(below)
    return below if found is None else found.at_least
