"""Which sheds get a treadle of their own where treadles are short: the weighted choice, one treadle under each foot.

An answer is a set of columns that opens every shed, by one column or two; a shed that is not itself a column loses its
picks to both feet. Least picks lost is sought, branch and bound: the shed with the fewest ways left is opened in each
of them, and treadles that are then left go to the sheds with most picks. However they go, r treadles save no more than
the r heaviest sheds without one: the bound. The columns worth a look are those of `choices`: what the sheds that use a
column have in common may as well be all of it, and a shed's own column is listed beside it, however small.

Lemmas and proofs: assets/mathematics.md, "Feet first".
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from companion.draft.masks import Shed, bit, bits_of, union
from companion.remap.loom.targets import Column, Target
from companion.remap.search.choices import choices_of

MOST_NODES = 300
MOST_WORK = 120_000
"""How many ways to open a shed are looked at, in all nodes together."""
MOST_KEPT = 24


@dataclass(frozen=True, slots=True)
class OwnTreadles:
    """Sets of columns with the picks that each loses to both feet, least first, and what every set loses at least."""

    kept: tuple[tuple[int, tuple[int, ...]], ...]
    at_least: int


def own_treadles(
    targets: Sequence[int],
    picks: Sequence[int],
    treadles: int,
    seeds: Sequence[Sequence[int]] = (),
    must: Sequence[int] = (),
) -> OwnTreadles:
    """Return good sets of at most so many columns; `seeds` open every target, and are improved too.

    The targets that `must` have a treadle of their own are in every set.

    Targets 1, 2 and 3 with 5, 5 and 9 picks on two treadles give the one set {1, 2}, which loses 9 picks.
    """
    return _OwnSearch(targets, picks, treadles, frozenset(must)).run(seeds)


class _OwnSearch:
    def __init__(self, targets: Sequence[int], picks: Sequence[int], treadles: int, must: frozenset[int]) -> None:
        self._must = must
        self._picks = {target: number for target, number in zip(targets, picks, strict=True) if target}
        self._heavy = sorted(self._picks, key=lambda target: (-self._picks[target], target))
        self._treadles = treadles
        self._kept: dict[tuple[int, ...], int] = {}
        self._seen: set[int] = set()
        self._nodes = 0
        self._ways, self._complete = self._written_out()
        # In the search columns are numbered, and a set of them is a mask.
        self._columns = tuple(dict.fromkeys(column for ways in self._ways.values() for way in ways for column in way))
        self._number = {column: k for k, column in enumerate(self._columns)}
        self._heavy_first = [(bit(self._number[target]), self._picks[target]) for target in self._heavy]
        self._ways_of_heavy = [[self._set_of(way) for way in self._ways[target]] for target in self._heavy]
        self._most = min(MOST_NODES, MOST_WORK // max(1, sum(map(len, self._ways.values()))))

    def run(self, seeds: Sequence[Sequence[int]]) -> OwnTreadles:
        floor = self._bound(self._set_of(self._must))
        for seed in seeds:
            columns = self._must.union(seed)
            if len(columns) <= self._treadles:
                self._top_up(columns)
        if len(self._picks) <= self._treadles:
            self._top_up(frozenset(self._picks))
        elif len(self._must) <= self._treadles:
            self._search(self._set_of(self._must))
        kept = tuple(sorted((lost, columns) for columns, lost in self._kept.items())[:MOST_KEPT])
        done = self._complete and self._nodes <= self._most
        return OwnTreadles(kept, kept[0][0] if done and kept else floor)

    def _set_of(self, columns: Iterable[int]) -> int:
        return union(Shed(bit(self._number[column])) for column in columns)

    def _written_out(self) -> tuple[dict[int, list[frozenset[int]]], bool]:
        """Return the ways to open each target, and whether these are all worth a look."""
        ways: dict[int, list[frozenset[int]]] = {target: [frozenset({target})] for target in self._picks}
        if len(self._picks) <= self._treadles:
            return ways, True
        pairs = _pairs_that_open(tuple(self._picks))
        if pairs is None:
            return ways, False
        for target, pair in pairs:
            ways[target].append(pair)
        return ways, True

    def _bound(self, columns: int) -> int:
        left = self._treadles - columns.bit_count()
        without = [picks for own, picks in self._heavy_first if not own & columns]
        return sum(without[max(0, left) :])

    def _search(self, columns: int) -> None:
        if columns in self._seen or self._nodes > self._most:
            return
        self._seen.add(columns)
        self._nodes += 1
        if self._kept and self._bound(columns) > min(self._kept.values()):
            return
        left = self._treadles - columns.bit_count()
        fewest: list[int] | None = None
        for ways_here in self._ways_of_heavy:
            new_columns = [way & ~columns for way in ways_here]
            if not all(new_columns):
                continue
            ways = [new for new in new_columns if new.bit_count() <= left]
            if not ways:
                return
            if fewest is None or len(ways) < len(fewest):
                fewest = ways
        if fewest is None:
            self._top_up(frozenset(self._columns[k] for k in bits_of(columns)))
            return
        for new in sorted(fewest, key=lambda new: (new.bit_count(), self._bound(columns | new))):
            self._search(columns | new)

    def _top_up(self, columns: frozenset[int]) -> None:
        """Give the treadles left to the heaviest sheds without one; leave out columns that nothing needs then."""
        while True:
            grown = set(columns)
            for target in self._heavy:
                if len(grown) < self._treadles:
                    grown.add(target)
            for column in sorted(grown - self._picks.keys()):
                if self._opens_all(grown - {column}):
                    grown.discard(column)
            before, columns = columns, frozenset(grown)
            if columns == before or len(columns) == self._treadles:
                break
        lost = sum(number for target, number in self._picks.items() if target not in columns)
        self._kept[tuple(sorted(columns))] = lost

    def _opens_all(self, columns: set[int]) -> bool:
        return all(any(columns.issuperset(way) for way in ways) for ways in self._ways.values())


@lru_cache(maxsize=4)
def _pairs_that_open(targets: tuple[int, ...]) -> tuple[tuple[int, frozenset[int]], ...] | None:
    """Return each target with each two columns that join to it, None where these are too many.

    The same are asked for with every number of treadles.
    """
    choices = choices_of([Target(Column(target)) for target in targets])
    if choices is None:
        return None
    columns = choices.catalogue.columns
    return tuple(
        (targets[at], frozenset({columns[one], columns[other]}))
        for at, one, other in zip(choices.of.tolist(), choices.one.tolist(), choices.other.tolist(), strict=True)
        if columns[other]
    )
