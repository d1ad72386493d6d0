"""Every set of columns that may be lightest, where there are few enough to look at each: then the answer is proven.

One treadle under each foot. In some lightest answer each column is a target, or what the targets that use it have in
common; the same column may lie on two treadles. So first it is chosen which targets have a treadle of their own, by
rising picks of the others, for each of these pays for both feet; then what is tied on the treadles left. Each set that
opens all is given its lightest order in every way to open its sheds, unless what it pays beside the walk is too much.

Lemmas and proofs: assets/mathematics.md, "Feet first" (F11).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain, combinations, combinations_with_replacement, product
from math import comb, factorial

from companion.remap.feet.halves import exact_with_pairs, order_found
from companion.remap.feet.presses import BOTH_FEET
from companion.remap.feet.seats import seats_of
from companion.remap.feet.walks import Walks
from companion.remap.loom.wished import WishedFeet

MOST_TARGETS = 12
MOST_COLUMNS_TRIED = 40
MOST_SETS_LOOKED_AT = 6_000
MOST_WORK = 1_000_000
WORK_OF_ONE = 6_000
"""How many steps of the walk may be priced in all orders together, and what each arrangement costs beside."""


@dataclass(frozen=True, slots=True)
class EverySet:
    """The lightest row of columns found, None where none is below what was known; `complete`: nothing is lighter."""

    columns: tuple[int, ...] | None
    complete: bool


def every_set(walk: Walks, treadles: int, below: int, wished: WishedFeet) -> EverySet:
    """Return the lightest row of so many treadles that costs less than `below`."""
    if not sets_are_few(walk, treadles):
        return EverySet(None, False)
    return _Looking(walk, treadles, below, wished).run()


def sets_are_few(walk: Walks, treadles: int) -> bool:
    """Tell whether every set of columns may be looked at."""
    return exact_with_pairs(walk, treadles) and sum(map(bool, walk.targets)) <= MOST_TARGETS


class _Looking:
    def __init__(self, walk: Walks, treadles: int, below: int, wished: WishedFeet) -> None:
        self._walk = walk
        self._treadles = treadles
        self._below = below
        self._wished = wished
        self._picks = {target: picks for target, picks in zip(walk.targets, walk.picks, strict=True) if target}
        self._must = {walk.targets[k] for k in wished.tabby or ()}
        self._best: tuple[int, ...] | None = None
        self._looked = 0
        self._work_left = MOST_WORK

    def run(self) -> EverySet:
        shared = _shared_parts(self._picks)
        if shared is None:
            return EverySet(None, False)
        for lost, own in self._owners():
            if lost * BOTH_FEET >= self._below:
                break
            left = self._treadles - len(own) if lost else 0
            pool = [*own, *(column for column in shared if column not in self._picks)]
            self._looked += comb(len(pool) + left - 1, left) if pool else 1
            if self._looked > MOST_SETS_LOOKED_AT:
                return EverySet(self._best, False)
            for others in combinations_with_replacement(pool, left):
                self._arrange((*own, *others))
                if self._work_left < 0:
                    return EverySet(self._best, False)
        return EverySet(self._best, True)

    def _owners(self) -> list[tuple[int, tuple[int, ...]]]:
        """Return which targets have a treadle of their own, and the picks of the others, fewest first."""
        every = tuple(self._picks)
        sets = chain.from_iterable(combinations(every, size) for size in range(min(len(every), self._treadles) + 1))
        total = sum(self._picks.values())
        return sorted(
            (total - sum(self._picks[target] for target in own), own) for own in sets if self._must <= set(own)
        )

    def _arrange(self, columns: Sequence[int]) -> None:
        pulled = {one | other for one, other in combinations(columns, 2)}
        if not pulled.union(columns) >= self._picks.keys():
            return
        options = [_ways(target, columns) for target in self._walk.targets]
        for ways in product(*options):
            seats = seats_of(self._wished, ways)
            if seats is None:
                continue
            self._work_left -= WORK_OF_ONE + len(self._walk.steps) * factorial(len(columns))
            if self._work_left < 0:
                return
            found = order_found(self._walk, len(columns), ways, self._below, seats, every_order=True)
            if found is not None:
                self._below = found.cost
                self._best = tuple(columns[k] for k in found.order)


def _ways(target: int, columns: Sequence[int]) -> list[tuple[int, ...]]:
    """Return the columns, by number, that open a target: one of its own where there is one, else two."""
    if not target:
        return [()]
    own: list[tuple[int, ...]] = [(k,) for k, column in enumerate(columns) if column == target]
    inside = [k for k, column in enumerate(columns) if not column & ~target]
    return own or [pair for pair in combinations(inside, 2) if columns[pair[0]] | columns[pair[1]] == target]


def _shared_parts(targets: Iterable[int]) -> tuple[int, ...] | None:
    """Return the targets and all that some of them have in common, each once; None where these are too many."""
    parts: dict[int, None] = {}
    for target in targets:
        for part in [target, *(target & known for known in parts)]:
            if part:
                parts.setdefault(part)
        if len(parts) > MOST_COLUMNS_TRIED:
            return None
    return tuple(parts)
