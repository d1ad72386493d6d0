"""Fewest treadles by trying every tie-up: slow, obvious, and sharing no code with the product.

For a few shafts all tie-ups can be listed. A tie-up is a row of treadles; a treadle is a set of (shaft, way) pulls
with no shaft pulled both ways. `sheds_opened` presses every footing in turn and looks which shed opens.
"""

from __future__ import annotations

from itertools import combinations, product


def treadles_possible(shafts, action):
    """List every treadle that pulls something."""
    ways = {"rising": ("up", None), "sinking": ("down", None), "countermarche": ("up", "down", None)}[action]
    every = (
        frozenset((shaft, way) for shaft, way in enumerate(choice, 1) if way) for choice in product(ways, repeat=shafts)
    )
    return [treadle for treadle in every if treadle]


def shed_of(pulled, shafts, action):
    """Return the raised shafts when these pulls act together, or None when no shed opens."""
    up = {shaft for shaft, way in pulled if way == "up"}
    down = {shaft for shaft, way in pulled if way == "down"}
    if action == "rising":
        return frozenset(up)
    if action == "sinking":
        return frozenset(set(range(1, shafts + 1)) - down)
    return frozenset(up) if not up & down and len(up) + len(down) == shafts else None


def footings(treadles, reach):
    """List the sets of treadles that two feet can press, pressing nothing among them."""
    runs = [()] + [tuple(range(p, p + n)) for n in range(1, reach + 1) for p in range(treadles - n + 1)]
    return {
        frozenset(left + right) for left in runs for right in runs if not left or not right or max(left) < min(right)
    }


def sheds_opened(tieup, shafts, action, reach):
    """Return the sheds that a tie-up opens."""
    opened = set()
    for pressed in footings(len(tieup), reach):
        opened.add(shed_of(frozenset().union(*(tieup[p] for p in pressed)), shafts, action))
    return opened - {None}


def best_collections(shafts, action, reach, treadles, wanted):
    """Return every collection of the `wanted` sheds that some tie-up with so many treadles opens, largest ones only.

    At reach 1 the order of the treadles does not matter and a second equal treadle opens nothing new.
    """
    possible = treadles_possible(shafts, action)
    rows = combinations(possible, treadles) if reach == 1 else product(possible, repeat=treadles)
    found = {frozenset(sheds_opened(row, shafts, action, reach) & wanted) for row in rows}
    return [one for one in found if not any(one < other for other in found)]
