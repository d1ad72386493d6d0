"""Which sheds get a treadle of their own where treadles are short: the weighted choice, one treadle under each foot.

An answer is a set of columns that opens every shed, by one column or two; a shed that is not itself a column loses its
picks to both feet. Least picks lost is sought, branch and bound: the shed with the fewest ways left is opened in each
of them, and treadles that are then left go to the sheds with most picks. However they go, r treadles save no more than
the r heaviest sheds without one: the bound. The columns worth a look are those of `choices`: what the sheds that use a
column have in common may as well be all of it, and a shed's own column is listed beside it, however small. Where these
are too many only what two sheds have in common, and the columns of the seeds, are looked at. What the search has not
done by then goes on by exchanges (`own_exchanged`).

Lemmas and proofs: assets/mathematics.md, "Feet first".
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

from companion.draft.masks import Shed, bit, bits_of, union
from companion.remap.feet.own_exchanged import exchanged
from companion.remap.loom.targets import Column, Target
from companion.remap.search.choices import choices_of, pairs_that_join

MOST_NODES = 300
MOST_WORK = 120_000
"""How many ways to open a shed are looked at, in all nodes together."""
MOST_KEPT = 24
MOST_IN_COMMON = 300
"""How many columns that two sheds have in common are looked at where all that several have are too many."""


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
    return _OwnSearch(targets, picks, treadles, seeds, frozenset(must)).run()


class _OwnSearch:
    def __init__(
        self,
        targets: Sequence[int],
        picks: Sequence[int],
        treadles: int,
        seeds: Sequence[Sequence[int]],
        must: frozenset[int],
    ) -> None:
        self._must = must
        self._picks = {target: number for target, number in zip(targets, picks, strict=True) if target}
        self._heavy = sorted(self._picks, key=lambda target: (-self._picks[target], target))
        self._treadles = treadles
        self._seeds = [grown(seed, [*self._picks]) for seed in seeds]
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

    def run(self) -> OwnTreadles:
        floor = self._bound(self._set_of(self._must))
        for seed in self._seeds:
            columns = self._must.union(seed)
            if len(columns) <= self._treadles:
                self._top_up(columns)
        if len(self._picks) <= self._treadles:
            self._top_up(frozenset(self._picks))
        elif len(self._must) <= self._treadles:
            self._search(self._set_of(self._must))
        done = self._complete and self._nodes <= self._most
        if not done and self._kept and min(self._kept.values()) > floor:
            self._exchange()
        kept = tuple(sorted((lost, columns) for columns, lost in self._kept.items())[:MOST_KEPT])
        return OwnTreadles(kept, kept[0][0] if done and kept else floor)

    def _set_of(self, columns: Iterable[int]) -> int:
        return union(Shed(bit(self._number[column])) for column in columns)

    def _written_out(self) -> tuple[dict[int, list[frozenset[int]]], bool]:
        """Return the ways to open each target, and whether these are all worth a look."""
        ways: dict[int, list[frozenset[int]]] = {target: [frozenset({target})] for target in self._picks}
        if len(self._picks) <= self._treadles:
            return ways, True
        targets = tuple(self._picks)
        pairs = _pairs_that_open(targets)
        complete = pairs is not None
        if pairs is None:
            pairs = _some_pairs_that_open(targets, tuple(sorted({c for seed in self._seeds for c in seed})))
        for target, pair in pairs:
            ways[target].append(pair)
        return ways, complete

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

    def _exchange(self) -> None:
        """Improve the best set that is known by exchanges of one column."""
        best = min(self._kept, key=lambda columns: (self._kept[columns], columns))
        if len(best) < self._treadles or not self._opens_all(set(best)):
            return
        ways = {
            target: [[self._number[column] for column in way] for way in ways] for target, ways in self._ways.items()
        }
        picks = {self._number[target]: number for target, number in self._picks.items()}
        start = [self._number[column] for column in best]
        for better in exchanged(start, ways, picks, len(self._columns), self._set_of(self._must)):
            self._top_up(frozenset(self._columns[k] for k in bits_of(better)))

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


def grown(columns: Sequence[int], targets: Sequence[int]) -> tuple[int, ...]:
    """Return the columns, each grown to all that the targets have in common that are opened by it first.

    Of 1, 2, 4 and 8 for the targets 3 and 5 they are 1, 3 and 5; what nothing needs is left out.
    """
    users: dict[int, int] = {}
    for target in targets:
        inside = [column for column in columns if column and not column & ~target]
        for column in _first_way(target, inside):
            users[column] = users.get(column, target) & target
    return tuple(dict.fromkeys(users.values()))


def _first_way(target: int, inside: Sequence[int]) -> tuple[int, ...]:
    if target in inside:
        return (target,)
    return next((pair for pair in combinations(inside, 2) if pair[0] | pair[1] == target), ())


@lru_cache(maxsize=4)
def _some_pairs_that_open(targets: tuple[int, ...], columns: tuple[int, ...]) -> tuple[tuple[int, frozenset[int]], ...]:
    """Return each target with the pairs that join to it of these columns and of what two targets have in common."""
    worth = {one & other for one in targets for other in targets} - {0}
    if len(worth) > MOST_IN_COMMON:
        worth = {*targets}
    both = sorted(worth.union(columns))
    return tuple((target, frozenset(pair)) for target in targets for pair in pairs_that_join(target, both) if pair[1])


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
