"""Feet and footwork by trying everything, in sets of numbers: no bit masks, no tables, nothing of the product.

The weights are written down again as the help page tells them, so that a slip in the product's table shows.
"""

from __future__ import annotations

from itertools import combinations, pairwise, permutations, product


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


def effort(before, now, treadles):
    """Quarters of a treadle's width: the model of the help page, sentence by sentence."""
    total = 0
    for side, (old, new) in enumerate(zip(before, now, strict=True)):
        if not new:
            continue
        middle = 4 * sum(new) / len(new)
        if len(new) == 2:
            total += 10
        bench = 4 * (treadles - 1) / 2
        if (side == 0 and middle > bench) or (side == 1 and middle < bench):
            total += 14
        if old == new:
            continue
        if old:
            total += 8 + abs(middle - 4 * sum(old) / len(old))
        else:
            total += abs(middle - bench * (0.5 if side == 0 else 1.5))
    if now[0] and now[1]:
        total += 6
    return total


def effort_of(walk, treadles):
    """The effort of a whole sequence of stances, beginning with both feet at home."""
    return sum(effort(before, now, treadles) for before, now in pairwise([((), ()), *walk]))


def least_effort(sheds, tieup, reach):
    """The least effort of a sequence of sheds on a tie-up, over all choices of feet; None where one does not open."""
    choices = [sorted(stances_that_open(shed, tieup, reach)) for shed in sheds]
    if not all(choices):
        return None
    return min(effort_of(walk, len(tieup)) for walk in product(*choices))


def least_effort_of_any_order(sheds, columns, treadles, reach):
    """The least effort over all ways to place the columns (sets) on the treadles."""
    padded = [frozenset(column) for column in columns] + [frozenset()] * (treadles - len(columns))
    efforts = [least_effort(sheds, order, reach) for order in set(permutations(padded))]
    return min(found for found in efforts if found is not None)
