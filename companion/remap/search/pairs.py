"""Reach 1, from below: can n columns open every target, each by one column or by two of them?

The state of the search is only a bag of columns, each an *upper bound*: the column that it stands for in
some answer lies inside it. A target is open when no column and no two columns inside it join to it. Take
the open target with the fewest repairs. In an answer below this state the target is pressed either

- by columns that are all in the bag: then they lie inside the target, so shrink them to it; or
- by at least one column that is not: then put a new column equal to the target into the bag. If it turns out
  to be smaller, a later repair shrinks it, and the target may open again.

When nothing is open, the upper bounds themselves are an answer. So a state is solvable or not whatever way led
to it, and any state that lies below a dead one is dead:

- a repair that shrinks fewer columns leaves a state above one that shrinks more: keep only the least repairs;
- once the repair that shrank columns i and j to F and G has failed, any later state with columns i and j inside F and
  G fails as well (`_PairNogood`);
- states met before are remembered, however their columns are ordered, each with the pull that it must keep.

What is known of each target (`_Known`) is handed down and looked at again only where a shrunk column matters to it.

The search starts from columns that every answer has (`lower_bounds.fooling_set`), and each of these must keep the pull
that it is there for: it helps no target without that pull.

Small targets first: their columns are the ones that cannot be shrunk much, and large ones come out as their
unions. With large ones first the same search is hundreds of times slower (measured on tie x block drafts).
A search kernel: columns and targets are plain ints inside it, and their bits are worked on directly, for speed.

Lemmas and proofs: assets/mathematics.md, "From below: pairs".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from companion.remap.loom.targets import Column, Columns, Target
from companion.remap.search.depth_first import DepthFirst
from companion.remap.search.lower_bounds import Seed
from companion.remap.search.watch import Watch

Bag = tuple[int, ...]
"""The upper bounds of the columns."""
_PairRepair = tuple[int, ...]
"""The indices of the one or two columns that are shrunk to a target."""
_PairNogood = tuple[int, int, int, int]
"""i, F, j, G: no answer has column i inside F and column j inside G."""
_Known = tuple[bool, Sequence[_PairRepair]]
"""Of one target: whether it is open; then its least repairs, or the one pair of columns that opens it."""


class _PairNode(NamedTuple):
    columns: Bag
    known: list[_Known]
    nogoods: tuple[_PairNogood, ...]


class PairSearch(DepthFirst[_PairNode]):
    """Decides for one set of targets and one number of columns; goes on where it was when it is paused."""

    def __init__(self, targets: Sequence[Target], seeds: Sequence[Seed], treadles: int, watch: Watch) -> None:
        self._targets = sorted(targets, key=lambda target: (target.bit_count(), target))
        self._treadles = treadles
        self._must = tuple(seed.pull for seed in seeds) + (0,) * (treadles - len(seeds))
        columns = tuple(seed.target for seed in seeds)
        super().__init__(
            _PairNode(columns, [_look(target, columns, self._must) for target in self._targets], ()), watch
        )

    def _key(self, node: _PairNode) -> object:
        # The pulls that must stay belong to the state: of two columns alike in all else only one may be held to one.
        return tuple(sorted(zip(node.columns, self._must, strict=False)))

    def _expanded(self, node: _PairNode) -> tuple[Columns | None, Iterator[_PairNode] | None]:
        tightest = self._tightest(node)
        if tightest < 0:
            return tuple(map(Column, node.columns)), None
        return None, self._below(node, tightest)

    def _tightest(self, node: _PairNode) -> int:
        """Return the index of the open target with the fewest repairs, after striking out the refuted ones; or -1."""
        chosen, least = -1, 2**30
        for at, (is_open, repairs) in enumerate(node.known):
            if is_open and len(repairs) < least:
                if repairs and node.nogoods:
                    target = self._targets[at]
                    left = [r for r in repairs if not _refuted(r, target, node.columns, node.nogoods)]
                    node.known[at] = (True, left)
                chosen, least = at, len(node.known[at][1])
                if not least:
                    break
        return chosen

    def _below(self, node: _PairNode, at: int) -> Iterator[_PairNode]:
        columns, known, nogoods = node
        target = self._targets[at]
        for repair in known[at][1]:
            shrunk = list(columns)
            for i in repair:
                shrunk[i] &= target
            yield _PairNode(tuple(shrunk), self._after_shrinking(columns, tuple(shrunk), repair, known), nogoods)
            i, j = repair[0], repair[-1]
            nogoods = (*nogoods, (i, shrunk[i], j, shrunk[j]))
        if len(columns) < self._treadles:
            grown = (*columns, target)
            yield _PairNode(grown, self._after_growing(grown, known), nogoods)

    def _after_shrinking(self, old: Bag, new: Bag, repair: _PairRepair, known: list[_Known]) -> list[_Known]:
        after = list(known)
        for at, target in enumerate(self._targets):
            is_open, ways = known[at]
            for i in repair:
                if (is_open and not new[i] & ~target) or (target & old[i] & ~new[i] and (is_open or i in ways[0])):
                    after[at] = _look(target, new, self._must)
                    break
        return after

    def _after_growing(self, columns: Bag, known: list[_Known]) -> list[_Known]:
        last = len(columns) - 1
        made = columns[last]
        after = list(known)
        for at, target in enumerate(self._targets):
            is_open, repairs = known[at]
            if is_open and target & made:
                after[at] = (
                    _look(target, columns, self._must)
                    if not made & ~target
                    else _with_last(target, columns, self._must, repairs)
                )
        return after


def _with_last(target: int, columns: Bag, must: Bag, repairs: Sequence[_PairRepair]) -> _Known:
    """Add to the repairs of a target those of the last column, which is not inside it."""
    last = len(columns) - 1
    rest = target & ~columns[last]
    if not rest:
        return True, [*repairs, (last,)]
    alone = {repair[0] for repair in repairs if len(repair) == 1}
    more: list[_PairRepair] = []
    for i in range(last):
        if not rest & ~columns[i] and i not in alone and not must[i] & ~target:
            if not columns[i] & ~target:
                return True, [*repairs, (last,)]
            more.append((i, last))
    return True, [*repairs, *more]


def _look(target: int, columns: Bag, must: Bag) -> _Known:
    """Find out what can be known of a target from the columns alone."""
    inside: list[tuple[int, int]] = []
    outside: list[tuple[int, int]] = []
    alone: list[_PairRepair] = []
    for i, column in enumerate(columns):
        if must[i] & ~target:
            continue
        rest = target & ~column
        if not column & ~target:
            if not rest:
                return False, ((i,),)
            for j, other in inside:
                if not rest & ~other:
                    return False, ((j, i),)
            inside.append((i, column))
        elif not rest:
            alone.append((i,))
        elif rest != target:
            outside.append((i, rest))
    pairing: list[tuple[int, int]] = []
    for i, rest in outside:
        for _, other in inside:
            if not rest & ~other:
                alone.append((i,))
                break
        else:
            pairing.append((i, rest))
    pairs = [(i, j) for k, (i, rest) in enumerate(pairing) for j, _ in pairing[k + 1 :] if not rest & ~columns[j]]
    return True, [*alone, *pairs]


def _refuted(repair: _PairRepair, target: int, columns: Bag, nogoods: tuple[_PairNogood, ...]) -> bool:
    for i, f, j, g in nogoods:
        if (
            not (columns[i] & target if i in repair else columns[i]) & ~f
            and not (columns[j] & target if j in repair else columns[j]) & ~g
        ):
            return True
    return False
