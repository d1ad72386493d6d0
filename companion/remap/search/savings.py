"""Reach 1, from above: starting with one treadle per target, can s treadles be saved?

The picture: columns are vertices, and a target pressed by columns a and b is an edge between them (a loop when one
column is the target itself). Treadles saved = sum over the connected components of (edges - vertices). Only
components with at least two independent cycles save anything, and in them a column used once can be dropped; call
what is left the *cores*. Outside the cores every target has its own treadle.

In a core every vertex can be given an edge of its own, its *maker*; the edges left over are the *saved* targets.
Which ones are left over is a base of a matroid (the dual of the bicircular matroid of the graph; J.M.S.
Simões-Pereira, On subgraphs as matroid cells, Math. Z. 127, 1972, from memory), so any one target of a core can be
among them. Hence the strong step of this search: take a target d and look for an answer in which d is saved. If there
is none, then d is in no core at all, and it is *struck out for good*; then targets that have lost their last
partners go too (`core_candidates`). Few are left after a few failures.

In the state every target that is not saved has its own column, an upper bound as in `pairs`. A saved target
must be joined from two columns, which shrink to it; a target whose own column has shrunk must be joined from that and
one other. Each choice is fixed for its branch and is another one in the branches after it.
A search kernel: columns and targets are plain ints inside it, and their bits are worked on directly, for speed.

Lemmas and proofs: assets/mathematics.md, "From above: savings".
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from companion.remap.loom.targets import Column, Columns, Target
from companion.remap.search.engine import Found
from companion.remap.search.symmetry import Symmetry
from companion.remap.search.watch import SearchPausedError, Watch

Makers = tuple[int, ...]
"""Targets, each standing for the column that it made: two that join to a saved target, or one that helps a maker."""
NODES_WORTH_SYMMETRY = 100
"""After a failure that took this many nodes it pays to look for targets that are alike."""


class _State(NamedTuple):
    column: Mapping[int, int]
    """The upper bound of the column made by each target that is not saved."""
    saved: frozenset[int]
    makers: frozenset[int]
    """Targets whose column was chosen by another one: these can no longer be saved."""
    kept: frozenset[int]
    """Targets that were tried as the next saved one and failed, or cannot be saved."""
    joined: Mapping[int, Makers]
    """What each target was decided to be joined from."""


class SavingsSearch:
    """Looks for more and more saved treadles among the targets; goes on where it was when it is paused."""

    def __init__(self, targets: Sequence[Target], turn: int, watch: Watch) -> None:
        """Take so many nodes in a turn."""
        self._targets = len(targets)
        self._turn = turn
        self._watch = watch
        self._savings = 1
        self._struck: list[int] = []
        self._alive: list[int] = list(targets)
        self._path: list[Iterator[_State]] = []
        self._nodes_before = 0

    def work(self, known: Found, enough: int | None) -> Found:
        """Go on to save one treadle more than is known to be possible, whatever would be enough."""
        treadles = known.best - 1
        self._watch.allow(self._turn)
        try:
            columns = self.columns(self._targets - treadles)
        except SearchPausedError:
            return known
        return known.answered(treadles, columns)

    def columns(self, savings: int) -> Columns | None:
        """Return columns, `savings` fewer than targets, that open every target, or None when there are none.

        Ask for rising numbers of savings: what is struck out for one number is out for the greater ones. Raises
        SearchPausedError.
        """
        if savings != self._savings:
            self._savings, self._path = savings, []
        while True:
            if not self._path:
                left = core_candidates(self._alive)
                self._struck += [target for target in self._alive if target not in left]
                self._alive = left
                if len(left) < self._savings + 2:
                    return None
                self._nodes_before = self._watch.nodes
                self._path = [iter([_saving(_hardest(left), left)])]
            found = self._search()
            if found is not None:
                return tuple(map(Column, (*found, *self._struck)))
            self._strike_out(_hardest(self._alive))

    def _strike_out(self, first: int) -> None:
        """Take out a target that is in no core, and all that are like it."""
        nodes = self._watch.nodes - self._nodes_before
        out = Symmetry(self._alive).orbit_of(first) if nodes >= NODES_WORTH_SYMMETRY else [first]
        self._struck += out
        self._alive = [target for target in self._alive if target not in out]

    def _search(self) -> tuple[int, ...] | None:
        while self._path:
            self._watch.node()
            state = next(self._path[-1], None)
            if state is None:
                self._path.pop()
                continue
            tightest = _tightest(state)
            if tightest is None:
                continue
            target, choices = tightest
            if target:
                self._path.append(_joining(state, target, choices))
            elif len(state.saved) < self._savings:
                self._path.append(self._saving_another(state))
            else:
                return tuple(state.column.values())
        return None

    def _saving_another(self, state: _State) -> Iterator[_State]:
        candidates = []
        kept = set(state.kept)
        for target in state.column:
            if target not in state.makers and target not in kept:
                partners = _partners(target, [c for made_by, c in state.column.items() if made_by != target])
                if partners:
                    candidates.append((partners, target))
                else:
                    kept.add(target)
        candidates.sort()
        missing = self._savings - len(state.saved)
        for tried in range(len(candidates) - missing + 1):
            target = candidates[tried][1]
            column = dict(state.column)
            del column[target]
            yield _State(column, state.saved | {target}, state.makers, frozenset(kept), state.joined)
            kept.add(target)


def _saving(first: int, targets: Sequence[int]) -> _State:
    """Return the state in which only `first` is saved, and it is not yet joined from anything."""
    column = {target: target for target in targets if target != first}
    return _State(column, frozenset({first}), frozenset(), frozenset(), {})


def _hardest(targets: Sequence[int]) -> int:
    """Return the target that can be saved in the fewest ways."""
    return min(targets, key=lambda target: (_partners(target, [t for t in targets if t != target]), target))


def _joining(state: _State, target: int, choices: Sequence[Makers]) -> Iterator[_State]:
    """Yield a state for each choice of what the target is joined from."""
    maker = frozenset({target}) - state.saved
    for choice in choices:
        column = dict(state.column)
        for made_by in choice:
            column[made_by] &= target
        joined = {**state.joined, target: choice}
        yield _State(column, state.saved, state.makers.union(choice, maker), state.kept, joined)


def core_candidates(targets: Sequence[int]) -> list[int]:
    """Return the targets that may be in a core: each lies inside the union of two others, over and over.

    An edge of a core meets another edge at either end, and these two contain the columns at its ends.
    """
    left = list(targets)
    while True:
        keep = [target for target in left if _has_partners(target, left)]
        if len(keep) == len(left):
            return left
        left = keep


def _has_partners(target: int, targets: Sequence[int]) -> bool:
    others = [other for other in targets if other != target and other & target]
    for k, first in enumerate(others):
        rest = target & ~first
        for second in others[k:]:
            if not rest & ~second:
                return True
    return False


def _partners(target: int, columns: Sequence[int]) -> int:
    """Return in how many ways two of these columns (or one) contain the target."""
    ways = 0
    for k, first in enumerate(columns):
        rest = target & ~first
        if rest != target:
            for second in columns[k:]:
                if not rest & ~second:
                    ways += 1
    return ways


def _tightest(state: _State) -> tuple[int, list[Makers]] | None:
    """Return the open target with the fewest choices, and these; 0: nothing is open; None: the state is dead."""
    column = state.column
    chosen, fewest, least = 0, [], 2**30
    for target, own in column.items():
        if own == target:
            continue
        rest = target & ~own
        if target in state.joined:
            if rest & ~column[state.joined[target][0]]:
                return None
            continue
        choices = _helpers(target, rest, column)
        if choices is not None and len(choices) < least:
            chosen, fewest, least = target, choices, len(choices)
            if not least:
                return None
    for target in state.saved:
        if target in state.joined:
            first, second = state.joined[target]
            if target & ~(column[first] | column[second]):
                return None
            continue
        choices = _joints(target, column)
        if choices is not None and len(choices) < least:
            chosen, fewest, least = target, choices, len(choices)
            if not least:
                return None
    return chosen, fewest


def _helpers(target: int, rest: int, column: Mapping[int, int]) -> list[Makers] | None:
    """Return the columns that can bring the rest of a target; None when one inside it does already."""
    choices: list[Makers] = []
    for made_by, c in column.items():
        if not rest & ~c and made_by != target:
            if not c & ~target:
                return None
            choices.append((made_by,))
    return choices


def _joints(target: int, column: Mapping[int, int]) -> list[Makers] | None:
    """Return the pairs of columns that can join to a saved target; None when two inside it do already."""
    touching = [(made_by, c) for made_by, c in column.items() if c & target]
    choices: list[Makers] = []
    for k, (first, c) in enumerate(touching):
        rest = target & ~c
        for second, other in touching[k:]:
            if not rest & ~other:
                if not (c | other) & ~target:
                    return None
                choices.append((first, second))
    return choices
