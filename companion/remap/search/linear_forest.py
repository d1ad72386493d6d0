"""Which treadles must be neighbours: pairs that can still be laid out in one row.

Pairs fit into a row as long as no treadle has three neighbours and no ring closes: the graph of the pairs is a
*linear forest*, some paths and some single treadles. Laid end to end they give the order of the treadles.

Lemmas and proofs: assets/mathematics.md, "From below: runs".
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

Pair = tuple[int, int]
"""Two columns, by index, the smaller first."""


@dataclass(frozen=True, slots=True)
class LinearForest:
    """Neighbour pairs among columns. `free_end[i]` is the far end of the path that i ends, or -1 inside a path."""

    pairs: frozenset[Pair] = frozenset()
    free_end: tuple[int, ...] = ()

    def grown(self) -> LinearForest:
        """Return the forest with one more column, which is nobody's neighbour yet."""
        return LinearForest(self.pairs, (*self.free_end, len(self.free_end)))

    def allows(self, one: int, other: int) -> bool:
        """Tell whether these two columns are neighbours or can still become so."""
        ends = self.free_end
        if ends[one] >= 0 and ends[other] >= 0 and ends[one] != other:
            return True
        return ((one, other) if one < other else (other, one)) in self.pairs

    def joined(self, new: Iterable[Pair]) -> LinearForest | None:
        """Return the forest with these pairs too, or None when they do not fit into a row together."""
        pairs, ends = set(self.pairs), list(self.free_end)
        for one, other in new:
            if (one, other) in pairs:
                continue
            far_one, far_other = ends[one], ends[other]
            if far_one < 0 or far_other < 0 or far_one == other:
                return None
            pairs.add((one, other))
            ends[one] = ends[other] = -1
            ends[far_one], ends[far_other] = far_other, far_one
        return LinearForest(frozenset(pairs), tuple(ends))

    def row(self) -> list[int]:
        """Return all columns in an order that keeps every pair together; the path with the lowest end comes first."""
        beside: dict[int, list[int]] = {i: [] for i in range(len(self.free_end))}
        for one, other in sorted(self.pairs):
            beside[one].append(other)
            beside[other].append(one)
        order: list[int] = []
        for i, end in enumerate(self.free_end):
            if end < i:
                continue
            previous, here = -1, i
            while True:
                order.append(here)
                onward = [other for other in beside[here] if other != previous]
                if not onward:
                    break
                previous, here = here, onward[0]
        return order
