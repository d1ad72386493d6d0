"""Threads to be drawn: repeats drawn once under a bracket with a number, so that a long threading fits on a page.

Nothing is folded that fits as it is; then the repeat that saves most, again and again. What is still too long is cut.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

from companion.draft.repeat_search import read_repeats
from companion.draft.repeats import Back, Repeat, SequencePart, Series, SymbolRun, Turn


@dataclass(frozen=True, slots=True)
class Bracket:
    """Drawn threads `first` up to before `last` (places in `Folded.threads`) stand for `times` of them.

    `depth` counts the brackets round this one.
    """

    first: int
    last: int
    times: int
    depth: int = 0


@dataclass(frozen=True, slots=True)
class Folded:
    """The threads (indices) to be drawn, in order; `there` is how many threads all of it stands for in the draft."""

    threads: tuple[int, ...]
    brackets: tuple[Bracket, ...]
    there: int
    cut: bool = False

    @property
    def depth(self) -> int:
        """How many brackets lie in each other at most."""
        return max((bracket.depth + 1 for bracket in self.brackets), default=0)


def folded(stretches: Sequence[Sequence[Hashable]], most: int) -> Folded:
    """Return the threads of some stretches, one after the other, folded until at most `most` are to be drawn.

    No bracket goes over the edge of a stretch, such as a section.
    """
    there = sum(map(len, stretches))
    roots = [_node(read_repeats(stretch).part) for stretch in stretches if stretch] if there > most else []
    if not roots:
        return Folded(tuple(range(there)), (), there)
    repeats = list(chain.from_iterable(map(_repeats, roots)))
    while sum(root.drawn for root in roots) > most:
        best = max(repeats, key=lambda node: node.saves, default=None)
        if best is None or best.saves == 0:
            break
        best.folded = True
    drawn: list[int] = []
    brackets: list[Bracket] = []
    first = 0
    for root in roots:
        root.draw(first, drawn, brackets, 0)
        first += root.whole
    kept = tuple(bracket for bracket in brackets if bracket.last <= most)
    return Folded(tuple(drawn[:most]), kept, there, len(drawn) > most)


class _Node:
    """A part of a reading that may be drawn folded: a run, parts in order, or a repeat of one part."""

    def __init__(self, parts: Sequence[_Node], times: int, threads: int) -> None:
        self.parts = parts
        self.times = times
        self.folded = False
        self.whole: int = threads if not parts else times * sum(part.whole for part in parts)

    @property
    def _body_drawn(self) -> int:
        return sum(part.drawn for part in self.parts)

    @property
    def drawn(self) -> int:
        """How many threads are drawn of it."""
        if not self.parts:
            return self.whole
        return self._body_drawn * (1 if self.folded else self.times)

    @property
    def saves(self) -> int:
        """How many threads fewer are drawn of it once it is folded."""
        return 0 if self.folded else (self.times - 1) * self._body_drawn

    def draw(self, first: int, drawn: list[int], brackets: list[Bracket], depth: int) -> None:
        """Add the threads to be drawn, from thread `first` of the draft on, and the brackets over them."""
        if not self.parts:
            drawn += range(first, first + self.whole)
            return
        begin = len(drawn)
        for time in range(1 if self.folded else self.times):
            at = first + time * (self.whole // self.times)
            for part in self.parts:
                part.draw(at, drawn, brackets, depth + self.folded)
                at += part.whole
        if self.folded:
            brackets.append(Bracket(begin, len(drawn), self.times, depth))


def _node(part: SequencePart) -> _Node:
    match part:
        case Series(parts):
            return _Node([_node(inner) for inner in parts], 1, 0)
        case Repeat(body, times):
            return _Node([_node(body)], times, 0)
        case SymbolRun():
            return _Node([], 1, part.picks)
        case Back(body, turn):
            # What goes forth and back is drawn both ways, so that the eye sees the point.
            way_back = _symbols(body)[::-1][_TURNS[turn]]
            return _Node([_node(body), *([_node(read_repeats(way_back).part)] if way_back else [])], 1, 0)


_TURNS = {Turn.ONCE: slice(1, None), Turn.TWICE: slice(None), Turn.POINT: slice(1, -1)}
"""What of a way is woven on the way back, by how it turns."""


def _symbols(part: SequencePart) -> list[int]:
    match part:
        case SymbolRun(symbols):
            return list(symbols)
        case Series(parts):
            return [symbol for inner in parts for symbol in _symbols(inner)]
        case Repeat(body, times):
            return _symbols(body) * times
        case Back(body, turn):
            forth = _symbols(body)
            return [*forth, *forth[::-1][_TURNS[turn]]]


def _repeats(node: _Node) -> Iterator[_Node]:
    if node.times > 1:
        yield node
    for part in node.parts:
        yield from _repeats(part)
