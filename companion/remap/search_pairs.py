"""Reach 1: can n columns open every target, each by one column or by two of them?"""

from __future__ import annotations

from companion.remap.search_watch import Watch


def columns_for_pairs(targets: tuple[int, ...], treadles: int, watch: Watch) -> list[int] | None:
    """Return at most `treadles` columns such that every target is one of them or the union of two, or None."""
    dead: set[tuple[int, ...]] = set()

    def grow(columns: tuple[int, ...]) -> list[int] | None:
        key = tuple(sorted(columns))
        if key in dead:
            return None
        watch.node()
        fewest: list[tuple[int, ...]] | None = None
        chosen = 0
        for target in targets:
            repairs = _repairs(target, columns)
            if repairs is None:
                continue
            if fewest is None or len(repairs) < len(fewest):
                fewest, chosen = repairs, target
                if not repairs:
                    break
        if fewest is None:
            return list(columns)
        for shrunk in fewest:
            found = grow(tuple(c & chosen if i in shrunk else c for i, c in enumerate(columns)))
            if found is not None:
                return found
        if len(columns) < treadles:
            found = grow((*columns, chosen))
            if found is not None:
                return found
        dead.add(key)
        return None

    return grow(())


def _repairs(target: int, columns: tuple[int, ...]) -> list[tuple[int, ...]] | None:
    losses: set[tuple[int, ...]] = set()
    for i, first in enumerate(columns):
        for j in range(i, len(columns)):
            if target & ~(first | columns[j]):
                continue
            lost = tuple(k for k in {i, j} if columns[k] & ~target)
            if not lost:
                return None
            losses.add(lost)
    return sorted(
        (lost for lost in losses if len(lost) == 1 or not {(lost[0],), (lost[1],)} & losses), key=lambda x: (len(x), x)
    )
