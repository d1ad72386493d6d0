"""The lightest order of given treadles, every division between the feet weighed: exact where each shed has its own.

Once it is said which treadles are the left foot's, it is known which picks each foot presses, and so how often it goes
from each of its treadles to each other one. What one foot walks is then a sum over pairs of its own treadles: a linear
arrangement, exact by dynamic programming over (treadles placed so far, the last of them) (M. Held and R.M. Karp, J.
SIAM 10, 1962, from memory). The other foot's order does not matter to it. So the two halves are worked out each by
itself, and the cost of a half depends on the set of its treadles only.

Divisions are taken by rising bound: among m treadles m-1 pairs lie a width apart, m-2 two widths and so on, so the
heaviest pairs on the shortest ways are no dearer than any order.

Where both treadles of a pair are in one half, that pair's picks are left out of the walk and pay `ACROSS`. By the
triangle inequality what is left is no dearer than the truth, strides not counted: a bound. The order found is weighed
as it is. Of a long treadling only the first steps are divided: what is walked there is no more than in all, so that
bounds hold, and the order found is weighed over the whole.

Lemmas and proofs: assets/mathematics.md, "Feet first".
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby, permutations
from math import factorial

import numpy as np

from companion.draft.masks import bit, bits_of, counts, first_bits, members_of
from companion.remap.feet.arranged import NEVER, arranged
from companion.remap.feet.goings import Goings, goings
from companion.remap.feet.presses import ACROSS, BOTH_FEET, SAME_FOOT, STRIDE, WIDTH
from companion.remap.feet.rows_weighed import WeighedRow, improved_row, weighed
from companion.remap.feet.seats import ANYWHERE, Seats, Ways
from companion.remap.feet.walks import Walks
from companion.remap.search.choices import Ints

MOST_COLUMNS = 14
"""Beyond these there are too many divisions; an order is then improved move by move (see `order_found`)."""
SMALL = 7
"""Up to so many columns nothing is cut short."""
MOST_STEPS = 2_000
"""How many steps of a treadling are looked at for the bounds."""
CHUNKS = (24, 72)
"""How many divisions are worked out at once: few at first, for their bounds are often enough to end it."""
MOST_DIVISIONS = 1500
MOST_DIVISIONS_INEXACT = 48
"""How many divisions are worked out before the rest is left to the bound."""
MOST_WORK = 6_000_000
"""How many steps of the dynamic programming these may take together: some tenths of a second."""
MOST_STEPS_OF_ORDERS = 250_000
"""How many steps are weighed at most to see every order of a division: of 6 columns those of 347 picks."""
ROWS_AT_ONCE = 20_000
"""How many steps of rows are weighed before it is asked whether the bounds of the others are worse already."""


def exact_with_pairs(walk: Walks, columns: int) -> bool:
    """Tell whether that is little enough to weigh every order of a division with both columns of a pair in one half."""
    return columns <= SMALL and len(walk.steps) * factorial(columns) <= MOST_STEPS_OF_ORDERS


def order_found(
    walk: Walks,
    columns: int,
    ways: Ways,
    below: int | None = None,
    seats: Seats = ANYWHERE,
    *,
    every_order: bool = False,
) -> WeighedRow | None:
    """Return the lightest order of so many columns, or a good one; None where none was found below `below`.

    With `every_order` it is the lightest also where both columns of a pair lie in one half (see `exact_with_pairs`).
    """
    if columns <= MOST_COLUMNS:
        return Halves(walk, columns, ways, seats, every_order=every_order).best(below)
    found = improved_row(walk, columns, ways, seats)
    return found if found is not None and (below is None or found.cost < below) else None


class Halves:
    """The halves of one set of columns with one way for each target."""

    def __init__(
        self,
        walk: Walks,
        columns: int,
        ways: Ways,
        seats: Seats = ANYWHERE,
        *,
        strides: bool = True,
        every_order: bool = False,
    ) -> None:
        self._whole = walk
        self._seats = seats
        self._every = every_order
        self._walk = walk.shortened(MOST_STEPS)
        self._strides = STRIDE if strides else 0
        self._n, self._ways = columns, tuple(ways)
        self._inexact = self._walk is not walk
        self._extra = sum(BOTH_FEET * c for way, c in zip(ways, walk.picks, strict=True) if len(way) == 2)
        self._goings: Goings
        """What the feet of all halves do, once bounds were asked for."""
        self._outermost = np.zeros(columns, dtype=np.bool_)
        self._outermost[list(seats.outermost)] = True
        self._of_half: dict[int, tuple[int, tuple[int, ...]]] = {0: (0, ())}

    def best(self, below: int | None = None) -> WeighedRow | None:
        """Return the lightest order; None where the bound shows that none is below `below`, or none was found there."""
        every = first_bits(self._n)
        masks = self._divisions()
        bounds = self._bounds(masks)
        by_bound = np.argsort(bounds, kind="stable")
        pairs = any(len(way) == 2 for way in self._ways)
        most = MOST_DIVISIONS_INEXACT if pairs and self._n > SMALL else MOST_DIVISIONS
        best: WeighedRow | None = None
        limit = NEVER if below is None else below
        at_least = NEVER
        at = work = turn = 0
        while at < len(by_bound):
            chunk_size = CHUNKS[min(turn, len(CHUNKS) - 1)]
            some = by_bound[at : at + chunk_size]
            rest = int(bounds[some[0]])
            if rest >= limit or at >= most or work > MOST_WORK:
                at_least = min(at_least, rest)
                break
            some = some[bounds[some] < limit]
            at, turn = at + chunk_size, turn + 1
            chunk = masks[some].tolist()
            work += self._work_out([*chunk, *(every & ~mask for mask in chunk)])
            across = self._across(chunk)
            low = [
                self._of_half[mask][0] + self._of_half[every & ~mask][0] + paid + self._extra
                for mask, paid in zip(chunk, across, strict=True)
            ]
            for division in self._weighed_divisions(chunk, low, across, limit):
                at_least = min(at_least, division.at_least)
                if division.cost < limit:
                    best, limit = division, division.cost
            at_least = min(at_least, limit)
        if best is None:
            return None
        return replace(best, at_least=min(best.cost, at_least))

    def floor(self) -> int:
        """Return what no order is below, by the bounds of the divisions alone."""
        return int(self._bounds(self._divisions()).min(initial=NEVER))

    def _divisions(self) -> Ints:
        """Return the sets of columns that may be the left foot's; of two mirrored ones that cost the same only one."""
        if self._seats != ANYWHERE:
            masks = np.arange(2**self._n, dtype=np.int64)
            return masks[self._seats.allows(masks)]
        return np.arange(2 ** max(0, self._n - 1), dtype=np.int64) * 2 + bool(self._n)

    def _weighed_divisions(
        self, masks: Sequence[int], low: Sequence[int], across: Sequence[int], limit: int
    ) -> list[WeighedRow]:
        """Return the best order found of each division that may be below the limit."""
        found = []
        guessed = []
        for mask, least, paid in zip(masks, low, across, strict=True):
            if least >= limit:
                continue
            if self._inexact or paid:
                guessed.append((mask, least))
            else:
                found.append(WeighedRow(self._row(mask), mask.bit_count(), least, least))
        guessed.sort(key=lambda one: one[1])
        every_order = self._every and not self._inexact
        at_once = 1 if every_order else max(1, ROWS_AT_ONCE // max(1, len(self._whole.steps)))
        for at in range(0, len(guessed), at_once):
            if guessed[at][1] >= min((division.cost for division in found), default=limit):
                # Nothing of this division is below what is found by now, nor of those after it.
                break
            some = guessed[at : at + at_once]
            if every_order:
                found += [self._best_order(mask) for mask, _ in some]
            else:
                found += self._as_they_are(some)
        return found

    def _best_order(self, mask: int) -> WeighedRow:
        """Return the lightest of all orders of a division."""
        split, orders = mask.bit_count(), self._every_order(mask)
        costs = weighed(self._whole, self._ways, np.array(orders), np.full(len(orders), split))
        at = min(range(len(costs)), key=costs.__getitem__)
        return WeighedRow(orders[at], split, costs[at], costs[at])

    def _as_they_are(self, some: Sequence[tuple[int, int]]) -> Iterable[WeighedRow]:
        """Weigh the orders found for divisions, each with what is the least there."""
        rows, splits = [self._row(mask) for mask, _ in some], [mask.bit_count() for mask, _ in some]
        costs = weighed(self._whole, self._ways, np.array(rows), np.array(splits))
        for row, split, cost, (_, least) in zip(rows, splits, costs, some, strict=True):
            yield WeighedRow(row, split, cost, least)

    def _row(self, mask: int) -> tuple[int, ...]:
        """Return the order of a division, columns that are outermost at the ends."""
        left, right = self._of_half[mask][1], self._of_half[first_bits(self._n) & ~mask][1]
        return (*left, *(right[::-1] if self._seats.outermost else right))

    def _every_order(self, mask: int) -> list[tuple[int, ...]]:
        left, right = (tuple(bits_of(half)) for half in (mask, first_bits(self._n) & ~mask))
        ends = [{*self._seats.outermost} & {*half} for half in (left, right)]
        return [
            (*one, *other[::-1])
            for one in permutations(left)
            if {*one[: len(ends[0])]} == ends[0]
            for other in permutations(right)
            if {*other[: len(ends[1])]} == ends[1]
        ]

    def _across(self, masks: Sequence[int]) -> list[int]:
        """Return what each division pays for pairs with both columns in one half."""
        paid = np.zeros(len(masks), dtype=np.int64)
        held = np.array(masks, dtype=np.int64)
        for way, picks in zip(self._ways, self._walk.picks, strict=True):
            if len(way) == 2:
                one, other = ((held & bit(column)) != 0 for column in way)
                paid += ACROSS * picks * (one == other)
        costs: list[int] = paid.tolist()
        return costs

    def _bounds(self, masks: Ints) -> Ints:
        """Return what each division costs at least; what its two feet do is counted here, once."""
        self._goings = goings(self._walk, self._n, self._ways)
        bounds = self._bounds_of_halves()
        both: Ints = self._extra + bounds[masks] + bounds[first_bits(self._n) & ~masks]
        return both

    def _bounds_of_halves(self) -> Ints:
        """Return what each half costs at least, by its mask."""
        n, counted = self._n, self._goings
        heavy = np.sort(counted.pairs, axis=1)[:, ::-1]
        apart = np.zeros((n + 1, heavy.shape[1]), dtype=np.int64)
        for m in range(2, n + 1):
            near = [WIDTH * d for d in range(1, m) for _ in range(m - d)]
            apart[m, : len(near)] = near
        bound: Ints = SAME_FOOT * counted.hurried
        sizes = counts(np.arange(2**n))
        for m in range(2, n + 1):
            bound[sizes == m] += heavy[sizes == m] @ apart[m]
        return bound

    def _work_out(self, masks: Sequence[int]) -> int:
        """Work out these halves; return how many steps that took."""
        work = 0
        new = sorted({mask for mask in masks if mask not in self._of_half}, key=lambda mask: (mask.bit_count(), mask))
        hurried, skipped = self._goings.hurried[new].tolist(), self._goings.skipped[new]
        full = np.zeros((len(new), self._n, self._n), dtype=np.int64)
        one, other = np.triu_indices(self._n, 1)
        full[:, one, other] = full[:, other, one] = self._goings.pairs[new]
        for size, group in groupby(range(len(new)), key=lambda at: new[at].bit_count()):
            some = list(group)
            work += len(some) * 2**size * size * size
            members = np.array([members_of(new[at]) for at in some], dtype=np.int64)
            inner = full[np.array(some)[:, None, None], members[:, :, None], members[:, None, :]]
            costs, orders = arranged(inner, np.where(skipped[some], 0, self._strides), self._outermost[members])
            for at, cost, order, member in zip(some, costs, orders, members.tolist(), strict=True):
                self._of_half[new[at]] = cost + SAME_FOOT * hurried[at], tuple(member[k] for k in order)
        return work
