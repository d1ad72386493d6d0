"""How two feet can stand, by trying everything, in sets of numbers: no bit masks, nothing of the product."""

from __future__ import annotations

from itertools import combinations


def stances(treadles, reach):
    """Every (left, right) that two feet can stand on `treadles` treadles (from 0); a free foot is ()."""
    feet = [()] + [
        tuple(range(first, first + width)) for width in range(1, reach + 1) for first in range(treadles - width + 1)
    ]
    return [(left, right) for left in feet for right in feet if not left or not right or max(left) < min(right)]


def stances_that_open(shed, tieup, reach):
    """The stances whose ties together are exactly `shed` (sets of numbers), no treadle pressed in vain."""
    found = set()
    for left, right in stances(len(tieup), reach):
        pressed = left + right
        if set().union(*(tieup[treadle] for treadle in pressed)) != shed:
            continue
        needless = any(
            set().union(*(tieup[treadle] for treadle in fewer)) == shed
            for size in range(len(pressed))
            for fewer in combinations(pressed, size)
        )
        if not needless:
            found.add((left, right))
    return found
