"""Reach 2: can n columns in a row open every target, each foot pressing one column or two neighbours?

As `pairs`, with the order of the treadles decided late. A state is the bag of upper bounds together with
the pairs of columns that must be *neighbours* because one foot already needs both: a linear forest. A block is
one column or one such pair; a target is open when no two blocks inside it join to it. In an answer below the state
the target is pressed either

- by at most four columns of the bag: shrink them to it, and when there are three or four, make one pair or two pairs
  of them neighbours, if they are not;
- or by at least one column that is not in the bag: put in a new one, equal to the target.

Repairs that shrink fewer columns and tie down fewer pairs are better; only the least are tried. As with reach 1 a
failed repair is a nogood for the branches after it, and dead states are remembered up to renumbering.
A search kernel: columns and targets are plain ints inside it, and their bits are worked on directly, for speed.

Lemmas and proofs: assets/mathematics.md, "From below: runs".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from companion.draft.masks import bit, bits_of
from companion.remap.loom.targets import Column, Columns, Target
from companion.remap.search.depth_first import DepthFirst
from companion.remap.search.linear_forest import LinearForest, Pair
from companion.remap.search.lower_bounds import Seed
from companion.remap.search.pairs import Bag
from companion.remap.search.watch import Watch

OPENED, DEAD = -1, -2
"""Instead of the index of an open target: there is none; there is one that can no longer be opened."""
CLOSE_LOOKS = 6
"""Of how many open targets all repairs are worked out before the search branches on one."""


class RunRepair(NamedTuple):
    """Columns to shrink, as a set of indices in a mask, and pairs of columns to make neighbours."""

    shrunk: int
    pairs: tuple[Pair, ...]


class _RunNogood(NamedTuple):
    """No answer has each of these columns inside its bound and all of these pairs as neighbours."""

    bounds: tuple[tuple[int, int], ...]
    pairs: tuple[Pair, ...]


class _RunNode(NamedTuple):
    columns: Bag
    forest: LinearForest
    opened: list[bool]
    """For each target whether the blocks inside it join to it."""
    nogoods: tuple[_RunNogood, ...]


class RunSearch(DepthFirst[_RunNode]):
    """Decides for one set of targets and one number of columns; goes on where it was when it is paused.

    `order` gives the targets in the order in which ties are broken. Bag come in their order from left to right.
    """

    def __init__(self, order: Sequence[Target], seeds: Sequence[Seed], treadles: int, watch: Watch) -> None:
        self._targets = tuple(order)
        self._treadles = treadles
        self._must = tuple(seed.pull for seed in seeds) + (0,) * (treadles - len(seeds))
        columns = tuple(seed.target for seed in seeds)
        opened = [_opens(target, columns, frozenset()) for target in self._targets]
        super().__init__(_RunNode(columns, LinearForest(frozenset(), tuple(range(len(columns)))), opened, ()), watch)

    def _key(self, node: _RunNode) -> object:
        held = list(zip(node.columns, self._must, strict=False))
        order = sorted(range(len(held)), key=held.__getitem__)
        place = {i: at for at, i in enumerate(order)}
        pairs = sorted((min(place[i], place[j]), max(place[i], place[j])) for i, j in node.forest.pairs)
        return tuple(held[i] for i in order), tuple(pairs)

    def _expanded(self, node: _RunNode) -> tuple[Columns | None, Iterator[_RunNode] | None]:
        at, repairs = self._tightest(node)
        if at == DEAD:
            return None, None
        if at == OPENED:
            return tuple(Column(node.columns[i]) for i in node.forest.row()), None
        return None, self._below(node, at, repairs)

    def _tightest(self, node: _RunNode) -> tuple[int, list[RunRepair]]:
        """Return the index of an open target with few repairs, and these; or OPENED, or DEAD.

        Only the targets that fewest columns can help are looked at closely.
        """
        helped: list[tuple[int, int]] = []
        helpless: list[tuple[int, int]] = []
        for at, target in enumerate(self._targets):
            if not node.opened[at]:
                joined = helpers = 0
                for c, must in zip(node.columns, self._must, strict=False):
                    if c & target and not must & ~target:
                        joined |= c
                        helpers += 1
                if target & ~joined:
                    helpless.append((at, target & ~joined))
                else:
                    helped.append((helpers, at))
        if helpless:
            missing = [(self._targets[at], pulls) for at, pulls in helpless]
            room = self._treadles - len(node.columns)
            return (DEAD if _apart(missing, room) > room else helpless[0][0]), []
        helped.sort()
        chosen, fewest, least = OPENED, [], 2**30
        for _, at in helped[:CLOSE_LOOKS]:
            target = self._targets[at]
            repairs = _repairs(target, node.columns, self._must, node.forest)
            if node.nogoods:
                repairs = [r for r in repairs if not _refuted(r, target, node)]
            if len(repairs) < least:
                chosen, fewest, least = at, repairs, len(repairs)
                if not least:
                    break
        return chosen, fewest

    def _below(self, node: _RunNode, at: int, repairs: list[RunRepair]) -> Iterator[_RunNode]:
        columns, forest, opened, nogoods = node
        target = self._targets[at]
        for repair in repairs:
            joined = forest.joined(repair.pairs)
            if joined is None:
                continue
            shrunk = _shrink(columns, repair.shrunk, target)
            changed = [c & ~s for c, s in zip(columns, shrunk, strict=True)]
            lost = 0
            for c in changed:
                lost |= c
            after = [
                _opens(t, shrunk, joined.pairs) if not was or t & lost else True
                for t, was in zip(self._targets, opened, strict=True)
            ]
            yield _RunNode(shrunk, joined, after, nogoods)
            bounds = tuple((i, shrunk[i]) for i in bits_of(repair.shrunk))
            nogoods = (*nogoods, _RunNogood(bounds, repair.pairs))
        if len(columns) < self._treadles:
            grown, joined = (*columns, target), forest.grown()
            after = [
                was or (not target & ~t and _opens(t, grown, joined.pairs))
                for t, was in zip(self._targets, opened, strict=True)
            ]
            yield _RunNode(grown, joined, after, nogoods)


def _apart(missing: Sequence[tuple[int, int]], room: int) -> int:
    """Return how many new columns these targets need at least for the pulls that no column brings them.

    Greedily a fooling set among (target, missing pull); it is enough to know that it is larger than `room`.
    """
    chosen: list[tuple[int, int]] = []
    for target, pulls in missing:
        if len(chosen) > room:
            break
        left = pulls
        for other, pull in chosen:
            if target & pull:
                left &= ~other
        if left:
            chosen.append((target, left & -left))
    return len(chosen)


def _opens(target: int, columns: Bag, pairs: frozenset[Pair]) -> bool:
    """Tell whether one or two blocks inside the target join to it."""
    inside = [c if not c & ~target else 0 for c in columns]
    union = 0
    for column in inside:
        union |= column
    if union != target:
        return False
    blocks = [c for c in inside if c] + [inside[i] | inside[j] for i, j in pairs if inside[i] and inside[j]]
    for k, block in enumerate(blocks):
        rest = target & ~block
        for other in blocks[k:]:
            if not rest & ~other:
                return True
    return False


def _repairs(target: int, columns: Bag, must: Bag, forest: LinearForest) -> list[RunRepair]:
    """Return the least repairs of a target."""
    usable = [(i, c & target) for i, c in enumerate(columns) if c & target and not must[i] & ~target]
    outside = 0
    for i, c in enumerate(columns):
        if c & ~target:
            outside |= bit(i)
    found: list[RunRepair] = []
    for k, (i, a) in enumerate(usable):
        rest_a = target & ~a
        if not rest_a:
            found.append(RunRepair(bit(i) & outside, ()))
            continue
        for m, (j, b) in enumerate(usable[k + 1 :], k + 1):
            if b == target:
                continue
            rest_b = rest_a & ~b
            if not rest_b:
                found.append(RunRepair((bit(i) | bit(j)) & outside, ()))
                continue
            if rest_b == rest_a:
                continue
            for n, (h, c) in enumerate(usable[m + 1 :], m + 1):
                rest_c = rest_b & ~c
                if rest_c == rest_b or (a | c) == target or (b | c) == target or c == target:
                    continue
                if not rest_c:
                    if a & ~(b | c):
                        _add_three(found, (i, j, h), outside, forest)
                    continue
                for o, d in usable[n + 1 :]:
                    if not rest_c & ~d and a & ~(b | c | d) and b & ~(a | c | d) and c & ~(a | b | d):
                        _add_four(found, (i, j, h, o), outside, forest)
    return _least(found)


def _add_three(found: list[RunRepair], used: tuple[int, int, int], outside: int, forest: LinearForest) -> None:
    i, j, k = used
    shrunk = (bit(i) | bit(j) | bit(k)) & outside
    for pair in ((i, j), (i, k), (j, k)):
        if forest.allows(*pair):
            found.append(RunRepair(shrunk, () if pair in forest.pairs else (pair,)))


def _add_four(found: list[RunRepair], used: tuple[int, int, int, int], outside: int, forest: LinearForest) -> None:
    i, j, k, m = used
    shrunk = (bit(i) | bit(j) | bit(k) | bit(m)) & outside
    for pair, other in (((i, j), (k, m)), ((i, k), (j, m)), ((i, m), (j, k))):
        if forest.allows(*pair) and forest.allows(*other):
            new = tuple(p for p in (pair, other) if p not in forest.pairs)
            if len(new) < 2 or forest.joined(new) is not None:
                found.append(RunRepair(shrunk, new))


def _least(repairs: list[RunRepair]) -> list[RunRepair]:
    """Drop every repair that does no less than another one; the gentlest come first."""
    ordered = sorted(set(repairs), key=lambda r: (r.shrunk.bit_count() + len(r.pairs), len(r.pairs), r))
    least: list[RunRepair] = []
    kept: dict[tuple[Pair, ...], list[int]] = {}
    for repair in ordered:
        shrunk, pairs = repair
        parts = [(), pairs] if len(pairs) < 2 else [(), pairs[:1], pairs[1:], pairs]
        for part in parts:
            if any(not better & ~shrunk for better in kept.get(part, ())):
                break
        else:
            least.append(repair)
            kept.setdefault(pairs, []).append(shrunk)
    return least


def _shrink(columns: Bag, shrunk: int, target: int) -> Bag:
    """Return the columns with those of the set `shrunk` kept inside the target."""
    changed = list(columns)
    for i in bits_of(shrunk):
        changed[i] &= target
    return tuple(changed)


def _refuted(repair: RunRepair, target: int, node: _RunNode) -> bool:
    columns, forest = _shrink(node.columns, repair.shrunk, target), node.forest
    for bounds, pairs in node.nogoods:
        for i, bound in bounds:
            if columns[i] & ~bound:
                break
        else:
            if not pairs or all(pair in repair.pairs or pair in forest.pairs for pair in pairs):
                return True
    return False
