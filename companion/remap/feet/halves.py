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

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import permutations
from math import factorial

import numpy as np

from companion.draft.masks import bit, bits_of, first_bits, has_bit
from companion.remap.feet.walking import ACROSS, BOTH_FEET, FREE, SAME_FOOT, STRIDE, WIDTH, walked
from companion.remap.feet.walks import Walks
from companion.remap.loom.feet_wish import FirstFoot, TabbyPlace
from companion.remap.loom.wished import WishedFeet
from companion.remap.search.choices import Bools, Ints

MOST_COLUMNS = 14
"""Beyond these there are too many divisions; an order is then improved move by move (see `order_found`)."""
SMALL = 7
"""Up to so many columns nothing is cut short."""
MOST_CELLS = 3_000_000
"""How many steps of divisions are looked at for the bounds."""
CHUNKS = (6, 12, 24, 48)
"""How many divisions are worked out at once: few at first, for their bounds are often enough to end it."""
MOST_DIVISIONS = 1500
MOST_DIVISIONS_INEXACT = 48
"""How many divisions are worked out before the rest is left to the bound."""
MOST_WORK = 6_000_000
"""How many steps of the dynamic programming these may take together: some tenths of a second."""
MOST_STEPS_OF_ORDERS = 250_000
"""How many steps are weighed at most to see every order of a division: of 6 columns those of 347 picks."""
MOST_ROUNDS = 40
NEVER = 2**50

Ways = Sequence[tuple[int, ...]]
"""For each target the numbers of the columns that open it: none, one or two."""


@dataclass(frozen=True, slots=True)
class ArrangedHalves:
    """Columns from the left, how many of them are the left foot's, the cost, and what no order can be below."""

    order: tuple[int, ...]
    split: int
    cost: int
    at_least: int


@dataclass(frozen=True, slots=True)
class Seats:
    """Where columns are to lie: `left_end` are outermost on the left; one of `both_ends` is outermost on either side.

    `first` is a column and whether it is to be the right foot's.
    """

    left_end: tuple[int, ...] = ()
    both_ends: tuple[int, ...] = ()
    first: tuple[int, bool] | None = None

    @property
    def outermost(self) -> tuple[int, ...]:
        """The columns that have a place at an end."""
        return self.left_end or self.both_ends

    def allows(self, masks: Ints) -> Bools:
        """Tell of each set of columns whether it may be the left foot's (masks, bool)."""
        good = np.ones(len(masks), dtype=np.bool_)
        for column in self.left_end:
            good &= (masks & bit(column)) != 0
        if self.both_ends:
            one, other = self.both_ends
            good &= ((masks & bit(one)) != 0) != ((masks & bit(other)) != 0)
        if self.first is not None:
            good &= ((masks & bit(self.first[0])) == 0) == self.first[1]
        return good


ANYWHERE = Seats()


def exact_with_pairs(walk: Walks, columns: int) -> bool:
    """Tell whether that is little enough to weigh every order of a division with both columns of a pair in one half."""
    return columns <= SMALL and len(walk.steps) * factorial(columns) <= MOST_STEPS_OF_ORDERS


def seats_of(wished: WishedFeet, ways: Ways) -> Seats | None:
    """Return where columns are to lie as is wished; None where tabby has no columns of its own. Never for the right."""
    tabby = [ways[k] for k in wished.tabby or ()]
    if any(len(way) != 1 for way in tabby):
        return None
    ends = tuple(way[0] for way in tabby)
    start = () if wished.first is None else ways[wished.first]
    first = (start[0], wished.foot is FirstFoot.RIGHT) if len(start) == 1 else None
    return Seats((), ends, first) if wished.place is TabbyPlace.OUTSIDE else Seats(ends, (), first)


def order_found(
    walk: Walks,
    columns: int,
    ways: Ways,
    below: int | None = None,
    seats: Seats = ANYWHERE,
    *,
    every_order: bool = False,
) -> ArrangedHalves | None:
    """Return the lightest order of so many columns, or a good one; None where none was found below `below`.

    With `every_order` it is the lightest also where both columns of a pair lie in one half (see `exact_with_pairs`).
    """
    if columns <= MOST_COLUMNS:
        return Halves(walk, columns, ways, seats, every_order=every_order).best(below)
    found = _improved(walk, columns, ways, seats)
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
        self._walk = walk.shortened(max(1, MOST_CELLS // 2 ** max(0, columns - 1)))
        self._strides = STRIDE if strides else 0
        self._n, self._ways = columns, tuple(ways)
        self._inexact = self._walk is not walk
        self._extra = sum(BOTH_FEET * c for way, c in zip(ways, walk.picks, strict=True) if len(way) == 2)
        self._of_half: dict[int, tuple[int, tuple[int, ...]]] = {0: (0, ())}

    def best(self, below: int | None = None) -> ArrangedHalves | None:
        """Return the lightest order; None where the bound shows that none is below `below`, or none was found there."""
        every = first_bits(self._n)
        masks = self._divisions()
        bounds = self._extra + self._bound(masks) + self._bound(every & ~masks)
        by_bound = np.argsort(bounds, kind="stable")
        pairs = any(len(way) == 2 for way in self._ways)
        most = MOST_DIVISIONS_INEXACT if pairs and self._n > SMALL else MOST_DIVISIONS
        best: ArrangedHalves | None = None
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
            low = [self._of_half[m][0] + self._of_half[every & ~m][0] + self._across(m) + self._extra for m in chunk]
            for division in self._weighed_divisions(chunk, low, limit):
                at_least = min(at_least, division.at_least)
                if division.cost < limit:
                    best, limit = division, division.cost
            at_least = min(at_least, limit)
        if best is None:
            return None
        return replace(best, at_least=min(best.cost, at_least))

    def floor(self) -> int:
        """Return what no order is below, by the bounds of the divisions alone."""
        every = first_bits(self._n)
        masks = self._divisions()
        return int((self._extra + self._bound(masks) + self._bound(every & ~masks)).min(initial=NEVER))

    def _divisions(self) -> Ints:
        """Return the sets of columns that may be the left foot's; of two mirrored ones that cost the same only one."""
        if self._seats != ANYWHERE:
            masks = np.arange(2**self._n, dtype=np.int64)
            return masks[self._seats.allows(masks)]
        return np.arange(2 ** max(0, self._n - 1), dtype=np.int64) * 2 + bool(self._n)

    def _weighed_divisions(self, masks: Sequence[int], low: Sequence[int], limit: int) -> list[ArrangedHalves]:
        """Return the best order found of each division that may be below the limit."""
        found = []
        guessed = []
        for mask, least in zip(masks, low, strict=True):
            if least >= limit:
                continue
            if self._inexact or self._across(mask):
                guessed.append((mask, least))
            else:
                found.append(ArrangedHalves(self._row(mask), mask.bit_count(), least, least))
        every_order = self._every and not self._inexact
        for mask, least in sorted(guessed, key=lambda one: one[1]):
            if least >= min((division.cost for division in found), default=limit):
                # Nothing of this division is below what is found by now.
                break
            split = mask.bit_count()
            orders = self._every_order(mask) if every_order else [self._row(mask)]
            costs = weighed(self._whole, self._ways, np.array(orders), np.full(len(orders), split))
            at = min(range(len(costs)), key=costs.__getitem__)
            found.append(ArrangedHalves(orders[at], split, costs[at], costs[at] if every_order else least))
        return found

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

    def _across(self, mask: int) -> int:
        return sum(
            ACROSS * c
            for way, c in zip(self._ways, self._walk.picks, strict=True)
            if len(way) == 2 and has_bit(mask, way[0]) == has_bit(mask, way[1])
        )

    def _counts(self, masks: Ints) -> tuple[Ints, Ints, Bools]:
        """Return what the halves walk: masks x pairs (int64), hurried picks, and where a pair was left out (masks)."""
        n, steps = max(self._n, 1), self._walk.steps
        pressed = np.full((len(masks), len(self._ways)), FREE, dtype=np.int32)
        skipped = np.zeros(len(masks), dtype=np.bool_)
        for k, way in enumerate(self._ways):
            held = [(masks & bit(c)) != 0 for c in way]
            if len(way) == 1:
                pressed[held[0], k] = way[0]
            elif len(way) == 2:
                pressed[held[0] & ~held[1], k] = way[0]
                pressed[held[1] & ~held[0], k] = way[1]
                skipped |= held[0] & held[1]
        pairs = np.zeros((len(masks), n * n), dtype=np.int64)
        hurried = np.zeros(len(masks), dtype=np.int64)
        here = np.arange(len(steps), dtype=np.int32)
        at_once = max(1, 300_000 // max(1, len(steps)))
        for at in range(0, len(masks), at_once):
            now = pressed[at : at + at_once, steps]
            last = np.full_like(now, -1)
            if len(steps) > 1:
                last[:, 1:] = np.maximum.accumulate(np.where(now >= 0, here, -1), axis=1)[:, :-1]
            before = np.take_along_axis(now, np.maximum(last, 0), axis=1)
            goes = (now >= 0) & (last >= 0) & (now != before)
            hurried[at : at + at_once] = (goes & (last == here - 1)) @ self._walk.weight
            rows = np.broadcast_to(np.arange(len(now))[:, None], now.shape)
            keys = rows * n * n + np.minimum(now, before) * n + np.maximum(now, before)
            weights = np.broadcast_to(self._walk.weight, now.shape)
            counted = np.bincount(keys[goes], weights[goes], len(now) * n * n)
            pairs[at : at + at_once] = counted.reshape(-1, n * n)
        return pairs, hurried, skipped

    def _bound(self, masks: Ints) -> Ints:
        n = self._n
        if n == 0 or not len(self._walk.steps):
            return np.zeros(len(masks), dtype=np.int64)
        pairs, hurried, _ = self._counts(masks)
        upper = np.triu_indices(n, 1)
        heavy = -np.sort(-pairs.reshape(-1, n, n)[:, upper[0], upper[1]], axis=1)
        apart = np.zeros((n + 1, heavy.shape[1]), dtype=np.int64)
        for m in range(2, n + 1):
            near = [WIDTH * d for d in range(1, m) for _ in range(m - d)]
            apart[m, : len(near)] = near
        sizes = np.array([mask.bit_count() for mask in masks.tolist()], dtype=np.intp)
        bound: Ints = SAME_FOOT * hurried + (heavy * apart[sizes]).sum(axis=1)
        return bound

    def _work_out(self, masks: Sequence[int]) -> int:
        """Work out these halves; return how many steps that took."""
        work = 0
        by_size: dict[int, list[int]] = {}
        for mask in sorted({mask for mask in masks if mask not in self._of_half}):
            by_size.setdefault(mask.bit_count(), []).append(mask)
        for size, some in by_size.items():
            work += len(some) * 2**size * size * size
            pairs, hurried, skipped = self._counts(np.array(some, dtype=np.int64))
            full = pairs.reshape(-1, self._n, self._n)
            full = full + full.transpose(0, 2, 1)
            members = np.array([list(bits_of(mask)) for mask in some])
            inner = np.take_along_axis(np.take_along_axis(full, members[:, :, None], 1), members[:, None, :], 2)
            outermost = np.isin(members, self._seats.outermost)
            costs, orders = _arranged(inner, np.where(skipped, 0, self._strides), outermost)
            for mask, cost, order, hurry, member in zip(some, costs, orders, hurried.tolist(), members, strict=True):
                self._of_half[mask] = cost + SAME_FOOT * hurry, tuple(int(member[k]) for k in order)
        return work


def weighed(walk: Walks, ways: Ways, orders: Ints, splits: Ints) -> list[int]:
    """Return what each order with its split costs, one treadle under a foot.

    `orders` are the columns from the left: candidates x columns, int64; `splits` (candidates, int64).
    """
    place = np.argsort(orders, axis=1)
    left = np.full((len(orders), len(ways)), FREE, dtype=np.int64)
    right = np.full((len(orders), len(ways)), FREE, dtype=np.int64)
    extra = np.zeros(len(orders), dtype=np.int64)
    for k, (way, picks) in enumerate(zip(ways, walk.picks, strict=True)):
        if len(way) == 1:
            at = place[:, way[0]]
            left[:, k] = np.where(at < splits, WIDTH * at, FREE)
            right[:, k] = np.where(at < splits, FREE, WIDTH * at)
        elif len(way) == 2:
            low = np.minimum(place[:, way[0]], place[:, way[1]])
            high = np.maximum(place[:, way[0]], place[:, way[1]])
            left[:, k], right[:, k] = WIDTH * low, WIDTH * high
            extra += picks * (BOTH_FEET + ACROSS * ((low >= splits) | (high < splits)))
    costs: list[int] = (walked(walk, left, right) + extra).tolist()
    return costs


def _improved(walk: Walks, columns: int, ways: Ways, seats: Seats) -> ArrangedHalves | None:
    """Return an order that exchanging two, moving one along and moving the split do not better."""
    short = walk.shortened(max(1, MOST_CELLS // (columns * columns)))
    inner = [k for k in range(columns) if k not in seats.outermost]
    order = [*seats.left_end, *seats.both_ends[:1], *inner, *seats.both_ends[1:]]
    split = columns // 2
    cost = NEVER
    for _ in range(MOST_ROUNDS):
        near = [(order, at) for at in range(columns + 1)]
        for one in range(columns):
            for other in range(one + 1, columns):
                exchanged = order.copy()
                exchanged[one], exchanged[other] = order[other], order[one]
                moved = [*order[:one], *order[one + 1 : other + 1], order[one], *order[other + 1 :]]
                near += [(exchanged, split), (moved, split)]
        near = [(row, at) for row, at in near if _seated(row, at, seats)]
        if not near:
            return None
        costs = weighed(short, ways, np.array([row for row, _ in near]), np.array([at for _, at in near]))
        best = min(range(len(near)), key=costs.__getitem__)
        if costs[best] >= cost:
            break
        cost, (order, split) = costs[best], near[best]
    whole = weighed(walk, ways, np.array([order]), np.array([split]))[0]
    return ArrangedHalves(tuple(order), split, whole, 0)


def _seated(row: Sequence[int], split: int, seats: Seats) -> bool:
    ends = len(seats.left_end)
    if ends > split or {*row[:ends]} != {*seats.left_end}:
        return False
    if seats.both_ends and ({row[0], row[-1]} != {*seats.both_ends} or not 0 < split < len(row)):
        return False
    return seats.first is None or (row.index(seats.first[0]) >= split) is seats.first[1]


@cache
def _bits_of_subsets(m: int) -> Ints:
    """Return which of m things each subset holds: subsets x things, int64."""
    bits = (np.arange(2**m, dtype=np.int64)[:, None] & np.array([bit(k) for k in range(m)], dtype=np.int64)) != 0
    found: Ints = bits.astype(np.int64)
    return found


def _arranged(weights: Ints, strides: Ints, outermost: Bools) -> tuple[list[int], list[list[int]]]:
    """Return least cost and order for each of a batch: weights are batch x m x m, strides (batch), all int64.

    Those that are `outermost` (batch x m, bool) come first.
    """
    batch, m, _ = weights.shape
    subsets, bits = np.arange(2**m), _bits_of_subsets(m)
    inside = np.einsum("kij,sj->ksi", weights, bits)
    cut = (weights.sum(axis=2)[:, None, :] * bits[None]).sum(axis=2) - (inside * bits[None]).sum(axis=2)
    least = np.full((batch, 2**m, m), NEVER, dtype=np.int64)
    came = np.zeros((batch, 2**m, m), dtype=np.int8)
    ends = outermost @ np.array([bit(v) for v in range(m)], dtype=np.int64)
    for v in range(m):
        least[:, bit(v), v] = np.where(outermost[:, v] | (ends == 0), 0, NEVER)
    size = bits.sum(axis=1)
    spared = weights * strides[:, None, None]
    for layer in range(2, m + 1):
        for v in range(m):
            holding = subsets[(size == layer) & (bits[:, v] == 1)]
            without = holding - bit(v)
            through = least[:, without, :] - spared[:, None, :, v]
            came[:, holding, v] = through.argmin(axis=2)
            least[:, holding, v] = through.min(axis=2) + WIDTH * cut[:, without]
            if ends.any():
                too_early = ~outermost[:, v, None] & ((ends[:, None] & ~without) != 0)
                least[:, holding, v] = np.where(too_early, NEVER, least[:, holding, v])
    total = least[:, 2**m - 1, :]
    costs: list[int] = (total.min(axis=1) + strides * weights.sum(axis=(1, 2)) // 2).tolist()
    return costs, [_traced(came[k], int(total[k].argmin()), first_bits(m)) for k in range(batch)]


def _traced(came: np.ndarray[tuple[int, ...], np.dtype[np.int8]], last: int, subset: int) -> list[int]:
    order = [last]
    while subset != bit(last):
        before = int(came[subset, last])
        subset -= bit(last)
        last = before
        order.append(last)
    return order[::-1]
