"""The lightest tie-up of one number of treadles that is found, and its bound (see `feet_first`).

Lemmas and proofs: assets/mathematics.md, "Feet first".
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import islice, product

from companion.remap.feet.every_set import every_set, sets_are_few
from companion.remap.feet.halves import SMALL, order_found
from companion.remap.feet.least_footwork import footwork_bound
from companion.remap.feet.near_rows import least_extra, lightest_moved, moved, with_own
from companion.remap.feet.owning import OwnTreadles, own_treadles
from companion.remap.feet.presses import BOTH_FEET
from companion.remap.feet.seats import Ways, seats_of
from companion.remap.feet.walking import FixedFeet, best_feet_on, mirrored_feet, rough_costs
from companion.remap.feet.walks import Walks, walks_of
from companion.remap.loom.feet_wish import TabbyPlace
from companion.remap.loom.targets import Columns
from companion.remap.loom.wished import AS_IT_COMES, WishedFeet
from companion.remap.search.alike import names_of
from companion.remap.search.answers import ShouldStop, never_stop

MOST_SETS = {True: 24, False: 2}
MOST_WAYS_OF_SET = {True: 24, False: 2}
"""How many sets of columns, and ways to open the sheds by each, are arranged: for few treadles, and for more."""
MOST_MOVES = {1: 6, 2: 12}
FEW_NEAR, FEW_OFFERED, MORE_STARTS = 48, 4, 1
"""At reach 2, of how many rows that differ by a move the feet are chosen roughly, and then of how many with care."""
CELLS_OF_LEVEL, CELLS_OF_OFFER, CELLS_OF_ROW = {1: 1_500_000, 2: 5_000_000}, 8_000, 500
"""How many steps of candidates the moves may look at for each number of treadles, what each row costs beside that is
offered, and each that is looked at from afar."""


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
    below: int | None = None,
) -> LightestFound | None:
    """Return the lightest tie-up found; None where no seed and no set of columns opens every target as is wished.

    None too where only what costs less than `below` is wanted, and both feet would press for so many picks in every
    set of columns that is to be arranged that none does; a set that may is arranged as if nobody had asked.

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
    if below is not None and search.nothing_below(below):
        return None
    search.arrange(should_stop)
    complete = search.look_at_every_set(should_stop)
    if search.best is None:
        return None
    columns, feet = search.best
    at_least = feet.cost if complete else search.at_least(feet.cost) if bounded else 0
    if turned:
        columns, feet = columns[::-1], mirrored_feet(feet, len(columns))
    return LightestFound(names.unnamed(columns), feet, at_least)


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
        self._starts: list[tuple[tuple[int, ...], FixedFeet]] = []
        """Seeds that moves begin at; at reach 1 the best alone will do."""

    def at_least(self, cost: int) -> int:
        """Return what no answer is below, `cost` being known to do."""
        lost = 0 if self._own is None else self._own.at_least
        return footwork_bound(self._walk, cost, lost, self._treadles, self._reach, self._wished)

    def begin(self, seeds: Iterable[Sequence[int]], arranged: bool) -> None:
        """Price the seeds, and choose which sheds get a treadle of their own."""
        for seed in seeds:
            if self._reach > 1:
                feet = best_feet_on(self._walk, seed, self._reach, wished=self._wished)
                if feet is not None:
                    self._starts.append((tuple(seed), feet))
            self._offer(seed)
            if not arranged and best_feet_on(self._walk, seed, 1) is not None:
                self._sets.append(tuple(dict.fromkeys(column for column in seed if column)))
        if arranged:
            return
        fitting = [columns for columns in self._sets if len(columns) <= self._treadles]
        must = tuple(self._walk.targets[k] for k in self._wished.tabby or ())
        self._own = own_treadles(self._walk.targets, self._walk.picks, self._treadles, fitting, must)

    def nothing_below(self, cost: int) -> bool:
        """Tell whether all that can be found here costs at least as much, one treadle under each foot."""
        if self.best is not None and self.best[1].cost < cost:
            return False
        if self._reach > 1 or self._own is None or sets_are_few(self._walk, self._treadles):
            return False
        lost = [lost for lost, _ in self._own.kept] + [self._lost(columns) for columns in self._sets]
        return min(lost, default=0) * BOTH_FEET >= cost

    def _lost(self, columns: Sequence[int]) -> int:
        """Return how many picks have no treadle of their own."""
        return sum(
            picks
            for target, picks in zip(self._walk.targets, self._walk.picks, strict=True)
            if target and target not in columns
        )

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
        others = [start for start in self._starts if self.best is None or start[0] != self.best[0]]
        self._improve(should_stop)
        for start in sorted(others, key=lambda start: start[1].cost)[:MORE_STARTS]:
            best, self.best = self.best, start
            self._improve(should_stop)
            if best is not None and best[1].cost <= self.best[1].cost:
                self.best = best

    def _improve(self, should_stop: ShouldStop) -> None:
        while not should_stop():
            before = self.best
            self._exchange()
            self._rearrange()
            if self.best is before:
                break

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

    def _rearrange(self) -> None:
        """Arrange the best once more for the ways in which its feet open the sheds, as long as that is lighter."""
        for _ in range(MOST_MOVES[1]):
            if self.best is None:
                return
            row, feet = self.best
            columns = [column for column in row if column]
            number = {t: k for k, t in enumerate(t for t, column in enumerate(row) if column)}
            ways = [tuple(number[t] for t in (*press.left, *press.right)) for press in feet.presses]
            if len(set(columns)) < len(columns) or any(len(way) > 2 for way in ways):
                return
            seats = seats_of(self._wished, ways)
            found = None if seats is None else order_found(self._walk, len(columns), ways, feet.cost, seats)
            if found is None or not self._offer([columns[k] for k in found.order]):
                return

    def _exchange(self) -> None:
        """Improve by moves of one treadle where picks with two treadles make the halves inexact."""
        if self.best is None or not any(press.extra for press in self.best[1].presses):
            return
        for _ in range(MOST_MOVES[self._reach]):
            columns, feet = self.best
            row = [*columns, *[0] * (self._treadles - len(columns))]
            near = list(moved(row))
            near = lightest_moved(self._walk, row, feet, near) if self._reach == 1 else self._promising(row, feet, near)
            better = False
            for other in near:
                if self._cells < 0:
                    return
                better = self._offer(other, feet.split) or better
            if not better:
                return

    def _promising(self, row: Sequence[int], feet: FixedFeet, near: list[list[int]]) -> list[list[int]]:
        """Return the few that look lightest of these rows and of those that give another shed its own treadle."""
        near += with_own(row, self._walk)
        extra = least_extra(self._walk, near)
        order = [at for at in sorted(range(len(near)), key=extra.__getitem__) if extra[at] < feet.cost][:FEW_NEAR]
        rows = [near[at] for at in order]
        costs = rough_costs(self._walk, rows, self._reach, feet.split, self._wished)
        self._cells -= len(near) * CELLS_OF_ROW + len(rows) * CELLS_OF_OFFER
        return [rows[at] for at in sorted(costs, key=lambda at: (costs[at], at))[:FEW_OFFERED]]


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
