"""On which side each shuttle lies at a place, by parity: a pick carries its shuttle across, so does taking it out.

Along the treadling that counts from the start of the piece, and only while the journal has no jump; along the cloth of
the journal it counts what the journal has. Where a section is woven to a length and nobody knows how often, a shuttle
that crosses an odd number of times in it may lie on either side: then nothing is said.

Even what is said speaks only for a place or against it and never rules one out: a pick missed or woven twice, which is
how places are lost, turns the sides over from there on, and so does a fresh bobbin begun from the other side.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from companion.draft.facing import Side
from companion.weaving.pick_table import PickTable

AT_START = 0
OPPOSITE = 1
UNKNOWN = 2

ShuttleSides = tuple[tuple[int, Side], ...]
"""Yarns (indices) with the side on which the shuttle of each was seen to lie."""


def sides_at(table: PickTable, yarn: int, places: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return for each place (int64) AT_START, OPPOSITE or UNKNOWN: where the shuttle of this yarn (index) lies."""
    thrown = np.flatnonzero((table.weft == yarn) & table.thrown)
    listed = places < table.picks
    below = np.where(listed, 0, np.searchsorted(thrown, table.picks))
    sides: NDArray[np.int64] = (np.searchsorted(thrown, places, side="right") - below) % 2
    if not table.lying.in_order:
        sides[listed] = UNKNOWN
    for laps in table.lying.laps:
        of_lap = slice(laps.first_pick, laps.last_pick + 1)
        if np.count_nonzero((table.weft[of_lap] == yarn) & table.thrown[of_lap]) % 2:
            sides[(places >= laps.first) & (places < laps.stop)] = UNKNOWN
    return sides


def speak_against(table: PickTable, seen: ShuttleSides, places: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Return for each place (bool) whether some shuttle should lie on the other side than where it was seen."""
    against = np.zeros(len(places), dtype=np.bool_)
    for yarn, side in seen:
        against |= sides_at(table, yarn, places) == (OPPOSITE if side is table.starts[yarn] else AT_START)
    return against
