"""In which order to weave the pieces of a warp so that fewest cords change between them, when only tie-ups differ.

Up to `MOST_EXACT` pieces exactly, by dynamic programming over the sets of pieces woven so far and the last of them
(M. Held and R.M. Karp, "A Dynamic Programming Approach to Sequencing Problems", J. SIAM 10, 1962, 196-210). Beyond,
the best that turning stretches round finds from the order "nearest next".

Lemmas and proofs: assets/mathematics.md, "Order of pieces".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from companion.remap.loom.cords import cords_between
from companion.remap.loom.loom import TieUp

MOST_EXACT = 12


@dataclass(frozen=True, slots=True)
class PieceOrder:
    """`pieces` are indices in weaving order, `cords` how many change in all; `proven`: no order changes fewer."""

    pieces: tuple[int, ...]
    cords: int
    proven: bool


def best_piece_order(tieups: Sequence[TieUp], present: TieUp | None = None) -> PieceOrder:
    """Order pieces that have these tie-ups; with `present` the cords of tying the first one count too.

    Of equal orders the one that comes first in the order given.
    """
    between = [[cords_between(one, other) for other in tieups] for one in tieups]
    start = [0 if present is None else cords_between(present, tieup) for tieup in tieups]
    if not tieups:
        return PieceOrder((), 0, True)
    if len(tieups) <= MOST_EXACT:
        cords, pieces = _exact(between, start)
        return PieceOrder(pieces, cords, True)
    pieces = _improved(_nearest_next(between, start), between, start)
    return PieceOrder(pieces, _cords(pieces, between, start), False)


_Best = dict[tuple[frozenset[int], int], tuple[int, tuple[int, ...]]]


def _exact(between: list[list[int]], start: list[int]) -> tuple[int, tuple[int, ...]]:
    """Return the cheapest order, growing backwards: for each last stretch the cheapest way to weave it to the end."""
    every = range(len(start))
    best: _Best = {(frozenset((piece,)), piece): (0, (piece,)) for piece in every}
    for size in range(2, len(start) + 1):
        grown: _Best = {}
        for pieces in map(frozenset, combinations(every, size)):
            for first in sorted(pieces):
                rest = pieces - {first}
                ways = ((best[rest, second], second) for second in sorted(rest))
                grown[pieces, first] = min(
                    (cords + between[first][second], (first, *order)) for (cords, order), second in ways
                )
        best = grown
    return min((cords + start[first], order) for (_, first), (cords, order) in best.items())


def _nearest_next(between: list[list[int]], start: list[int]) -> tuple[int, ...]:
    left = list(range(len(start)))
    order = [min(left, key=lambda piece: start[piece])]
    left.remove(order[0])
    while left:
        nearest = min(left, key=lambda piece: between[order[-1]][piece])
        order.append(nearest)
        left.remove(nearest)
    return tuple(order)


def _improved(order: tuple[int, ...], between: list[list[int]], start: list[int]) -> tuple[int, ...]:
    best = _cords(order, between, start)
    improved = True
    while improved:
        improved = False
        for left, right in combinations(range(len(order) + 1), 2):
            turned = order[:left] + order[left:right][::-1] + order[right:]
            cords = _cords(turned, between, start)
            if cords < best:
                order, best, improved = turned, cords, True
    return order


def _cords(order: tuple[int, ...], between: list[list[int]], start: list[int]) -> int:
    return start[order[0]] + sum(between[one][other] for one, other in pairwise(order))
