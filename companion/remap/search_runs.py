"""Reach 2: can n columns in a row open every target, each by two runs of at most two neighbours?"""

from __future__ import annotations

from companion.remap.pressing import feet_for
from companion.remap.search_watch import Watch


def columns_for_runs(targets: tuple[int, ...], treadles: int, watch: Watch) -> list[int] | None:
    """Return at most `treadles` columns in an order that opens every target by two runs of two, or None."""
    dead: set[tuple[int, ...]] = set()

    def grow(columns: tuple[int, ...]) -> list[int] | None:
        if columns in dead or columns[::-1] in dead:
            return None
        watch.node()
        uncovered = [t for t in targets if feet_for(t, columns, 2) is None]
        if not uncovered:
            return [c for c in columns]
        chosen = uncovered[0]
        room = treadles - len(columns)
        for shrunk in _shrinks(chosen, columns):
            found = grow(tuple(c & chosen if i in shrunk else c for i, c in enumerate(columns)))
            if found is not None:
                return found
        if room:
            for place in range(len(columns) + 1):
                found = grow((*columns[:place], chosen, *columns[place:]))
                if found is not None:
                    return found
        dead.add(columns)
        return None

    return grow(())


def _shrinks(target: int, columns: tuple[int, ...]) -> list[tuple[int, ...]]:
    clipped = [c & target for c in columns]
    found = set()
    blocks = [(i,) for i in range(len(columns))] + [(i, i + 1) for i in range(len(columns) - 1)]
    for a in blocks:
        for b in blocks:
            used = set(a) | set(b)
            joined = 0
            for i in used:
                joined |= clipped[i]
            if joined == target:
                found.add(tuple(sorted(i for i in used if columns[i] != clipped[i])))
    return sorted(found)
