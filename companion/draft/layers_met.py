"""Cloths that lie one above the other nearly everywhere in a draft, though they change places and so hang together.

`layers` tells what a whole draft falls into. A double cloth whose layers change places is one piece by that; in a
window of a few ends and picks, which lies between two changes, it falls into its layers.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from companion.draft.cloth import Crossings
from companion.draft.layers import Layer, layers

_WINDOWS = (12, 8)
"""Ends and picks of a window: the larger tells three layers, the smaller fits between changes of eight threads."""
_LEAST = 3
"""Ends and picks, at least, of a cloth in a window: fewer are threads that float beside the others."""
_HELD = 0.75
"""Of the ends and of the picks of a window that falls into layers, the share that its cloths hold, at least."""
_MOST_ACROSS = 12
"""So many windows along each side of a draft, at most, and evenly: enough to tell what most of it is."""


def layers_met(woven: Crossings) -> tuple[tuple[Crossings, ...], ...]:
    """Return the cloths, the topmost first, of each window with as many layers as most have.

    Nothing for a draft of one layer: less than half of its windows fall into several.
    """
    for size in _WINDOWS:
        windows = [
            _cloths(woven, picks, ends) for picks in _places(woven.picks, size) for ends in _places(woven.ends, size)
        ]
        several = [cloths for cloths in windows if len(cloths) > 1]
        if several and 2 * len(several) >= len(windows):
            (usual, _), *_ = Counter(map(len, several)).most_common(1)
            return tuple(cloths for cloths in several if len(cloths) == usual)
    return ()


def _places(threads: int, size: int) -> list[range]:
    """Return the threads (indices) of windows side by side, of too many some; one window where all fit into it."""
    there = max(threads // size, 1)
    shown = min(there, _MOST_ACROSS)
    firsts = (at * there // shown * size for at in range(shown))
    return [range(first, min(first + size, threads)) for first in firsts]


def _cloths(woven: Crossings, picks: range, ends: range) -> tuple[Crossings, ...]:
    """Return the cloths in a window; none where more than a few of its threads lie in no cloth."""
    window = _part(woven, picks, ends)
    found = [layer for layer in layers(window) if _is_cloth(layer)]
    held_picks, held_ends = sum(len(layer.picks) for layer in found), sum(len(layer.ends) for layer in found)
    held = held_picks >= _HELD * len(picks) and held_ends >= _HELD * len(ends)
    return tuple(_part(window, layer.picks, layer.ends) for layer in found) if held else ()


def _is_cloth(layer: Layer) -> bool:
    return len(layer.picks) >= _LEAST and len(layer.ends) >= _LEAST


def _part(woven: Crossings, picks: Sequence[int], ends: Sequence[int]) -> Crossings:
    return Crossings(woven.raised, woven.shed_of_pick[list(picks)], woven.shaft_of_end[list(ends)])
