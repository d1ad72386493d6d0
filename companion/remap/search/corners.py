"""Reach 1: an answer made outright, with further columns as the corners of a complete graph.

Every two of k further columns can open one target, so k of them open up to k(k-1)/2: more than in any other way once k
is over five. Take the targets that the columns of a fooling set cannot open, put each on an edge between two corners,
and let a corner be all that the targets on its edges have in common. Where the two corners of every target join to it,
that is an answer. It is so for a double-faced twill on any number of shafts: a corner leaves out one shaft for each
of its edges, and two corners have only the shaft of their common edge left out together.

The targets are put on the first edge that suits them and those put before, without trying others: a start for the
searches and no more.
A search kernel: columns and targets are plain ints inside it, and their bits are worked on directly, for speed.

Lemmas and proofs: assets/mathematics.md, "Corners".
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations

from companion.remap.loom.targets import Column, Columns, Target
from companion.remap.search.engine import Found
from companion.remap.search.lower_bounds import Seed
from companion.remap.search.shares import beyond_fooling


class Corners:
    """The engine that makes one such answer, in its first turn, and has no other."""

    def __init__(self, targets: Sequence[Target], seeds: Sequence[Seed], corners: int) -> None:
        self._targets, self._seeds, self._corners = targets, seeds, corners
        self._made = False

    def work(self, known: Found, enough: int | None) -> Found:
        """Make the answer."""
        if self._made:
            return known
        self._made = True
        columns = answer_by_corners(self._targets, self._seeds, self._corners)
        return known if columns is None else known.opened_by(columns)


def answer_by_corners(targets: Sequence[Target], seeds: Sequence[Seed], corners: int) -> Columns | None:
    """Return the columns of the fooling set and so many corners, if they open every target: 21 for 15 shafts both ways.

    None when the first edges that suit do not lead to an answer.
    """
    everything = 0
    for target in targets:
        everything |= target
    corner = [everything] * corners
    edges: dict[tuple[int, int], Target] = {}
    for target in beyond_fooling(targets, seeds):
        free = (edge for edge in combinations(range(corners), 2) if edge not in edges)
        edge = next((edge for edge in free if _suits(target, edge, corner, edges)), None)
        if edge is None:
            return None
        edges[edge] = target
        for end in edge:
            corner[end] &= target
    columns = tuple(map(Column, (*(seed.target for seed in seeds), *corner)))
    return columns if all(_opened(target, columns) for target in targets) else None


def _suits(target: int, edge: tuple[int, int], corner: Sequence[int], edges: Mapping[tuple[int, int], int]) -> bool:
    """Tell whether a target can be put on this edge, so that it and all on the edges beside it still open."""
    after = list(corner)
    for end in edge:
        after[end] &= target
    return after[edge[0]] | after[edge[1]] == target and all(
        after[one] | after[other] == put for (one, other), put in edges.items() if one in edge or other in edge
    )


def _opened(target: int, columns: Columns) -> bool:
    inside = [column for column in columns if not column & ~target]
    return any(one | other == target for one in inside for other in inside)
