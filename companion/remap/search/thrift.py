"""Reach 2, from below, by what is wasted: do n columns do, where the weights of `weights` all but rule it out?

The weights give every pull of every target its part, and no column brings more than one treadle's worth. So n columns
bring at most n, and what is not needed of that is the *waste* that an answer can afford: n less the sum of the weights.
Three things waste. A column that brings less than one, even if all pressed it that can. A target that does not press a
column inside it wastes what the column would bring it. A pull that two pressed columns bring is brought once too often.

Where little can be wasted few columns are left, and few ways to open each target. The search gives one target after
the other its way, the one with fewest ways left first, and counts the waste; columns may stand in the row more than
once. It is complete, and short as long as the affordable waste is less than one treadle.

A search kernel: columns and targets are plain ints inside it, and their bits are worked on directly, for speed.

Lemmas and proofs: assets/mathematics.md, "Thrift".
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from itertools import combinations, product
from typing import NamedTuple

from companion.remap.loom.targets import Column, Columns, Target
from companion.remap.search.engine import Found
from companion.remap.search.linear_forest import LinearForest, Pair
from companion.remap.search.watch import SearchPausedError, Watch
from companion.remap.search.weights import Weighed, Weights

TURN = 32
"""Nodes of one turn: each looks at the ways left to all targets."""

MOST_WAYS = 20_000
"""Beyond so many ways to open the targets nothing is searched."""

WAYS_OF_NODE = 30
"""So many ways that are begun take as long as a node."""

MOST_PRESSED = 4


class _ThriftWay(NamedTuple):
    """One way to open a target: the columns pressed, by index, and the waste of pulls brought more than once."""

    columns: tuple[int, ...]
    waste: int


class _ThriftNode(NamedTuple):
    row: tuple[int, ...]
    """The column on each treadle taken so far, by index."""
    forest: LinearForest
    left: Mapping[int, Sequence[_ThriftWay]]
    """The targets that have no way yet, each with those that it could afford above."""
    afford: int
    """What may still be wasted."""


class Thrift:
    """The engine that asks whether as few columns do as the weights leave open; it begins when there are weights."""

    def __init__(self, targets: Sequence[Target], weights: Weights, watch: Watch) -> None:
        self._targets = tuple(targets)
        self._weights = weights
        self._watch = watch
        self._asked = 0
        self._nodes: Iterator[Columns | None] | None = None

    def work(self, known: Found, enough: int | None) -> Found:
        """Go on for a turn; where there are no weights, or too many ways, nothing comes out."""
        weighed = self._weights.weighed
        if weighed is None or known.at_least > weighed.bound:
            # A whole treadle may be wasted: that takes long.
            return known
        self._watch.allow(TURN)
        try:
            if self._asked != known.at_least:
                self._asked = known.at_least
                self._nodes, begun = explored(self._targets, weighed, self._asked)
                self._watch.spent(begun // WAYS_OF_NODE)
            if self._nodes is None:
                return known
            for columns in self._nodes:
                if columns is not None:
                    return known.opened_by(columns)
                self._watch.node()
        except SearchPausedError:
            return known
        return known.needing(self._asked + 1)


def explored(targets: Sequence[Target], weighed: Weighed, treadles: int) -> tuple[Iterator[Columns | None] | None, int]:
    """Return what yields None after every node, then an answer with so many columns if there is one.

    It is None where it would be long. The second is how many ways to open a target were begun in listing them.
    """
    afford = treadles * weighed.treadle - weighed.all
    if afford < 0:
        return iter(()), 0
    search = _ThriftSearch(targets, weighed, treadles, afford)
    return search.below(search.root) if search.listed else None, search.begun


class _ThriftSearch:
    def __init__(self, targets: Sequence[int], weighed: Weighed, treadles: int, afford: int) -> None:
        self._treadles = treadles
        self._targets = targets
        brings = [weighed.brings(column) for column in weighed.columns]
        kept = [at for at, of in enumerate(brings) if weighed.treadle - sum(of.values()) <= afford]
        self._columns = [weighed.columns[at] for at in kept]
        self._brings = [brings[at] for at in kept]
        """What each column brings each of the targets that it lies in."""
        self._spare = [weighed.treadle - sum(of.values()) for of in self._brings]
        self._ways: list[list[_ThriftWay]] = []
        self.begun = 0
        """How many ways were begun to list them."""
        for target in targets:
            left = MOST_WAYS - sum(map(len, self._ways))
            ways = self._ways_to_open(target, weighed.asks(target), afford, left)
            if ways is None:
                break
            self._ways.append(ways)
        self.listed = len(self._ways) == len(targets)
        self.root = _ThriftNode((), LinearForest(), dict(enumerate(self._ways)), afford)
        self._dead: dict[object, int] = {}
        """States below which there is nothing, and how much waste they could afford."""

    def _ways_to_open(self, target: int, asks: int, afford: int, most: int) -> list[_ThriftWay] | None:
        """Return every way in which each column is needed; None where these are more than `most`."""
        inside = [at for at, column in enumerate(self._columns) if not column & ~target]
        found: dict[tuple[int, ...], int] = {}
        begun: list[tuple[tuple[int, ...], int, int]] = [((), 0, 0)]
        while begun:
            chosen, joined, brought = begun.pop()
            self.begun += 1
            if joined == target:
                found[tuple(sorted(chosen))] = brought - asks
                if len(found) > most:
                    return None
                continue
            if len(chosen) == MOST_PRESSED:
                continue
            missing = target & ~joined
            pull = missing & -missing
            for at in inside:
                more = brought + self._brings[at][target]
                if self._columns[at] & pull and more - asks <= afford and self._each_needed((*chosen, at)):
                    begun.append(((*chosen, at), joined | self._columns[at], more))
        return [_ThriftWay(columns, waste) for columns, waste in found.items() if waste >= 0]

    def _each_needed(self, chosen: tuple[int, ...]) -> bool:
        once = joined = 0
        for at in chosen:
            once = (once & ~self._columns[at]) | (self._columns[at] & ~joined)
            joined |= self._columns[at]
        return all(self._columns[at] & once for at in chosen)

    def below(self, state: _ThriftNode) -> Iterator[Columns | None]:
        """Yield the first answer below a state, and None after every node before."""
        key = self._key(state)
        if self._dead.get(key, -1) >= state.afford:
            return
        yield None
        if not state.left:
            yield tuple(Column(self._columns[state.row[at]]) for at in state.forest.row())
            return
        left: dict[int, list[_ThriftWay]] = {}
        chosen = -1
        fewest: list[tuple[_ThriftWay, int]] = []
        new: dict[int, int] = {}
        for target in state.left:
            ways = self._ways_left(target, state, new)
            if not ways:
                self._dead[key] = state.afford
                return
            left[target] = [way for way, _ in ways]
            if chosen < 0 or len(ways) < len(fewest):
                chosen, fewest = target, ways
        del left[chosen]
        for way, waste in sorted(fewest, key=lambda one: one[1]):
            for after in self._opened(way, state._replace(left=left, afford=state.afford - waste)):
                for found in self.below(after):
                    yield found
                    if found is not None:
                        return
        self._dead[key] = state.afford

    def _key(self, state: _ThriftNode) -> object:
        """Return what tells states apart: columns and pairs numbered anew by column, and the targets left."""
        order = sorted(range(len(state.row)), key=state.row.__getitem__)
        place = {at: k for k, at in enumerate(order)}
        pairs = sorted((min(place[i], place[j]), max(place[i], place[j])) for i, j in state.forest.pairs)
        return tuple(state.row[at] for at in order), tuple(pairs), tuple(state.left)

    def _ways_left(self, at: int, state: _ThriftNode, new: dict[int, int]) -> list[tuple[_ThriftWay, int]]:
        """Return the ways that can still be afforded, with what they waste at least.

        `new` remembers what columns waste that are put into this row.
        """
        target = self._targets[at]
        taken: set[int] = set(state.row)
        idle = sum(self._brings[column].get(target, 0) for column in state.row)
        room, afford = self._treadles - len(state.row), state.afford
        found = []
        for way in state.left[at]:
            waste = way.waste + idle
            more = 0
            for column in way.columns:
                if column in taken:
                    waste -= self._brings[column][target]
                else:
                    more += 1
                    if column not in new:
                        new[column] = self._wasted_by_new(column, state.left)
                    waste += new[column]
            if more <= room and waste <= afford:
                found.append((way, waste))
        return found

    def _wasted_by_new(self, column: int, left: Container[int]) -> int:
        """Return what a column wastes that is put into the row now: targets that have their ways do not press it."""
        brings = self._brings[column]
        return self._spare[column] + sum(
            brings[target] for at, target in enumerate(self._targets) if at not in left and target in brings
        )

    def _opened(self, way: _ThriftWay, state: _ThriftNode) -> Iterator[_ThriftNode]:
        """Yield the states in which a target is opened in this way; it is no longer left, its waste is paid for."""
        options = []
        for column in way.columns:
            there = [k for k, taken in enumerate(state.row) if taken == column]
            # A further one like it costs what it wastes; what the others would bring here is the same again.
            options.append([*there, -1])
        for places in product(*options):
            row, forest, afford = list(state.row), state.forest, state.afford
            pressed = []
            for column, place in zip(way.columns, places, strict=True):
                if place >= 0:
                    pressed.append(place)
                    continue
                if column in state.row:
                    afford -= self._wasted_by_new(column, state.left)
                pressed.append(len(row))
                row.append(column)
                forest = forest.grown()
            if len(row) > self._treadles or afford < 0:
                continue
            for pairs in _pairs_of(sorted(pressed)):
                joined = forest.joined(pairs)
                if joined is not None:
                    yield _ThriftNode(tuple(row), joined, state.left, afford)


def _pairs_of(pressed: Sequence[int]) -> list[tuple[Pair, ...]]:
    """Return the ways to make two feet of these columns: which of them must be neighbours."""
    if len(pressed) < 3:
        return [()]
    if len(pressed) == 3:
        return [((one, other),) for one, other in combinations(pressed, 2)]
    first, *rest = pressed
    ways: list[tuple[Pair, ...]] = []
    for other in rest:
        one, two = (at for at in rest if at != other)
        ways.append(((first, other), (one, two)))
    return ways
