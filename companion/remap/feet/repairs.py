"""The aim `cords`: fewest cords changed among all tie-ups on these treadles, then least footwork.

From the present tie-up cord after cord is changed, never one twice. Take a shed that does not open. In the tie-up we
look for some press opens it; on those treadles the cords outside the shed come off and each missing pull goes on under
one of them. So one of the shed's repairs leads towards every answer that the changes so far lead to, and trying all
repairs of one shed misses none. No answer costs less than the dearest of the cheapest repairs of each shed that does
not open: the bound. Deepened by one cord at a time (R.E. Korf, Artificial Intelligence 27, 1985, 97-109, from memory),
so the first depth with an answer is the fewest, and all answers of that depth are met.

Lemmas and proofs: assets/mathematics.md, "Fewest cords of all".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from companion.draft.masks import bit as pull_of
from companion.draft.masks import bits_of
from companion.remap.feet.presses import BOTH_FEET, TWO_UNDER_ONE
from companion.remap.feet.repair_prices import NEVER, RepairPrices
from companion.remap.feet.walking import FixedFeet, all_ways_weighed, best_feet_on
from companion.remap.feet.walks import Walks, walks_of
from companion.remap.loom.pressing import Run, runs
from companion.remap.loom.targets import Columns
from companion.remap.loom.wished import AS_IT_COMES, WishedFeet
from companion.remap.search.alike import names_with_cords
from companion.remap.search.answers import ShouldStop, never_stop
from companion.remap.search.choices import Ints

MOST_CELLS = 3_000_000
CELLS_OF_NODE = 1_000
"""How many presses are priced, those of each shed, in all nodes together, and what a node takes beside: some tenths of
a second."""
CLOSE_LOOKS = 3
"""Of how many shut sheds the repairs are written out, to go on with the one that has fewest."""
MOST_PRICED = 64
WHOLE = 2**20
"""The price of one cord, in parts."""

TreadleRow = tuple[int, ...]
"""A column for every treadle, from the left."""


@dataclass(frozen=True, slots=True)
class Repaired:
    """Columns treadle by treadle, the cords changed, and how many every answer changes at least.

    `lightest`: the feet are the lightest of all answers that change so few cords and keep as much of what is wished.
    """

    columns: Columns
    cords: int
    cords_at_least: int
    feet: FixedFeet
    lightest: bool


def fewest_cords(
    picks: Sequence[int],
    present: Sequence[int],
    reach: int,
    seeds: Sequence[Sequence[int]] = (),
    should_stop: ShouldStop = never_stop,
    wished: WishedFeet = AS_IT_COMES,
) -> Repaired | None:
    """Return the tie-up with fewest cords changed, then as is wished, then lightest for the feet.

    `present` has a column for every treadle; `seeds` likewise.

    None where no answer is known: the search was stopped, or its budget ended, and no seed opens the sheds.
    """
    names = names_with_cords(picks, [*present, *(column for seed in seeds for column in seed)])
    walk = walks_of([names.named(pick) for pick in picks])
    now = tuple(map(names.named, present))
    search = _CordSearch([target for target in walk.targets if target], now, reach, should_stop)
    known: list[TreadleRow] = [tuple(map(names.named, seed)) for seed in seeds]
    known = [row for row in known if best_feet_on(walk, row, reach) is not None]
    dived = search.dive()
    if dived is not None:
        known.append(dived)
    all_of_it = sum(map(int.bit_count, now)) + 2 * sum(map(int.bit_count, walk.targets))
    most = min((cords_between_rows(now, row) for row in known), default=all_of_it)
    depth = search.least()
    found: list[TreadleRow] = []
    while depth <= most and not found and not search.stopped:
        found = sorted(search.at_depth(depth))
        depth += not found and not search.stopped
    complete = bool(found) and not search.stopped
    at_least = min(depth, most)
    # Below what the dive or a seed has the search was complete up to `at_least`.
    rows = found or [row for row in known if cords_between_rows(now, row) == most]
    for some in wished.less():
        priced = _lightest_row(walk, rows, reach, some)
        if priced is not None:
            row, feet, all_priced = priced
            lightest = complete and all_priced
            return Repaired(names.unnamed(row), cords_between_rows(now, row), at_least, feet, lightest)
    return None


def _lightest_row(
    walk: Walks, rows: Sequence[TreadleRow], reach: int, wished: WishedFeet
) -> tuple[TreadleRow, FixedFeet, bool] | None:
    """Return the lightest of these rows with its feet, and whether none can be lighter; None where none is as wished.

    Those that open the most picks by a treadle of their own come first. What the others pay for their picks alone
    may be too much; of the rest `MOST_PRICED` are priced.
    """
    price = BOTH_FEET if reach == 1 else TWO_UNDER_ONE
    often = [(target, picks) for target, picks in zip(walk.targets, walk.picks, strict=True) if target]
    best: tuple[TreadleRow, FixedFeet] | None = None
    complete = True
    paying = sorted((price * sum(picks for target, picks in often if target not in row), row) for row in rows)
    for looked, (paid, row) in enumerate(paying):
        if best is not None and paid >= best[1].cost:
            break
        if looked == MOST_PRICED:
            complete = False
            break
        feet = best_feet_on(walk, row, reach, below=None if best is None else best[1].cost, wished=wished)
        if feet is None:
            complete = complete and (not wished.anything or all_ways_weighed(walk, row, reach))
            continue
        complete = complete and feet.complete
        if best is None or feet.cost < best[1].cost:
            best = row, feet
    return None if best is None else (*best, complete)


def cords_between_rows(one: Sequence[int], other: Sequence[int]) -> int:
    """Return how many cords two rows of columns differ by: 3 between (0b01, 0b11) and (0b11, 0b00)."""
    return sum((a ^ b).bit_count() for a, b in zip(one, other, strict=True))


class _CordSearch:
    def __init__(self, targets: Sequence[int], present: TreadleRow, reach: int, should_stop: ShouldStop) -> None:
        self._targets = sorted(targets)
        self._present = present
        self._untouched = (0,) * len(present)
        self._presses = _all_presses(len(present), reach)
        pulls = max(mask.bit_length() for mask in (1, *targets, *present))
        self._prices = RepairPrices(self._targets, self._presses, len(present), pulls)
        self._should_stop = should_stop
        self._node_cells = CELLS_OF_NODE + len(self._targets) * len(self._presses)
        self._nodes = 0
        self.stopped = False

    def dive(self) -> TreadleRow | None:
        """Return an answer by repairing the shed that costs most, again and again; None where stuck."""
        row, changed = self._present, self._untouched
        while True:
            prices = self._prices.of(row, changed)
            cheapest = prices.min(axis=1, initial=NEVER).tolist()
            dearest = max(cheapest, default=0)
            if not dearest:
                return row
            if dearest == NEVER:
                return None
            at = cheapest.index(dearest)
            _, row, flips = self._repairs_of(at, prices[at], row, changed, dearest)[0]
            changed = tuple(a | b for a, b in zip(changed, flips, strict=True))

    def least(self) -> int:
        """Return the dearest of the cheapest repairs; 0 where some shed cannot be repaired at all."""
        cheapest = self._prices.of(self._present, self._untouched).min(axis=1, initial=NEVER).tolist()
        return max((price for price in cheapest if price != NEVER), default=0)

    def at_depth(self, depth: int) -> set[TreadleRow]:
        """Return every answer that changes exactly so many cords, given that none changes fewer."""
        found: set[TreadleRow] = set()
        self._deepen(self._present, self._untouched, depth, found, set())
        return found

    def _deepen(
        self, row: TreadleRow, changed: TreadleRow, left: int, found: set[TreadleRow], seen: set[TreadleRow]
    ) -> None:
        if row in seen or self.stopped:
            return
        seen.add(row)
        self._nodes += 1
        if self._nodes * self._node_cells > MOST_CELLS or (not self._nodes % 64 and self._should_stop()):
            self.stopped = True
            return
        prices = self._prices.of(row, changed)
        cheapest = prices.min(axis=1, initial=NEVER)
        if cheapest.max(initial=0) > left:
            return
        shut = np.flatnonzero(cheapest)
        if not len(shut):
            found.add(row)
        elif self._shared(shut, row, changed) <= left:
            presses = (prices[shut] <= left).sum(axis=1)
            close = shut[np.argsort(presses, kind="stable")[:CLOSE_LOOKS]].tolist()
            repairs = min((self._repairs_of(at, prices[at], row, changed, left) for at in close), key=len)
            for cost, now, flips in repairs:
                self._deepen(now, tuple(a | b for a, b in zip(changed, flips, strict=True)), left - cost, found, seen)

    def _shared(self, shut: Ints, row: TreadleRow, changed: TreadleRow) -> int:
        """Return a second bound: the sheds that do not open share the price of each cord, so their repairs add up.

        A cord put on serves the sheds that have its shaft, one taken off those that have it not; each pays its part,
        rounded down, so that the parts of one cord never come to more than the cord.
        """
        if len(shut) < 2:
            return 0
        having = self._prices.having[shut].sum(axis=0)
        on, off = (WHOLE // np.maximum(number, 1) for number in (having, len(shut) - having))
        total = int(self._prices.of(row, changed, on, off)[shut].min(axis=1).sum())
        return -(-total // WHOLE)

    def _repairs_of(
        self, at: int, prices: Ints, row: TreadleRow, changed: TreadleRow, most: int
    ) -> list[tuple[int, TreadleRow, TreadleRow]]:
        """Return the repairs of a target that cost at most so much: cost, the row after it, the cords changed by it.

        `prices` are those of its presses.
        """
        found: dict[TreadleRow, tuple[int, TreadleRow]] = {}
        for press in np.flatnonzero(prices <= most).tolist():
            for flips in _flips_of(self._targets[at], self._presses[press], row, changed):
                now = tuple(a ^ b for a, b in zip(row, flips, strict=True))
                found.setdefault(now, (sum(map(int.bit_count, flips)), flips))
        return sorted((cost, now, flips) for now, (cost, flips) in found.items())


def _flips_of(target: int, press: Run, row: TreadleRow, changed: TreadleRow) -> Iterator[TreadleRow]:
    """Yield the cords that are changed, treadle by treadle, in each way to make a press open a target that it can."""
    carried = 0
    for t in press:
        carried |= row[t]
    pulls = [pull_of(index) for index in bits_of(target & ~carried)]
    for chosen in product(*([t for t in press if not changed[t] & pull] for pull in pulls)):
        flips = [0] * len(row)
        for t in press:
            flips[t] = row[t] & ~target
        for pull, t in zip(pulls, chosen, strict=True):
            flips[t] |= pull
        yield tuple(flips)


def _all_presses(treadles: int, reach: int) -> tuple[Run, ...]:
    every = list(runs(treadles, reach))
    return tuple(dict.fromkeys([*every, *(one + other for one in every for other in every if one[-1] < other[0])]))
