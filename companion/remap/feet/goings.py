"""How often each foot goes from one of its treadles to another, for many sets of treadles at once.

Lemmas and proofs: assets/mathematics.md, "Feet first" (F3).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from companion.draft.masks import bit
from companion.remap.feet.presses import FREE
from companion.remap.feet.seats import Ways
from companion.remap.feet.walks import Walks
from companion.remap.search.choices import Bools, Ints

MOST_CELLS_AT_ONCE = 300_000


@dataclass(frozen=True, slots=True, eq=False)
class Goings:
    """What the foot of each set of columns does.

    `pairs` (sets x columns x columns, int64, above the diagonal) says how often it goes between two of them, `hurried`
    (sets, int64) how often from one pick to the next, `skipped` (sets, bool) whether picks were left out that press two
    columns of the set.
    """

    pairs: Ints
    hurried: Ints
    skipped: Bools


def goings(walk: Walks, columns: int, ways: Ways, masks: Ints) -> Goings:
    """Count for each of these sets of columns (masks, int64)."""
    n, steps = columns, walk.steps
    pressed = np.full((len(masks), len(ways)), FREE, dtype=np.int32)
    skipped = np.zeros(len(masks), dtype=np.bool_)
    for k, way in enumerate(ways):
        held = [(masks & bit(column)) != 0 for column in way]
        if len(way) == 1:
            pressed[held[0], k] = way[0]
        elif len(way) == 2:
            pressed[held[0] & ~held[1], k] = way[0]
            pressed[held[1] & ~held[0], k] = way[1]
            skipped |= held[0] & held[1]
    pairs = np.zeros((len(masks), n * n), dtype=np.int64)
    hurried = np.zeros(len(masks), dtype=np.int64)
    here = np.arange(len(steps), dtype=np.int32)
    at_once = max(1, MOST_CELLS_AT_ONCE // max(1, len(steps)))
    for at in range(0, len(masks) if n else 0, at_once):
        now = pressed[at : at + at_once, steps]
        last = np.full_like(now, -1)
        if len(steps) > 1:
            last[:, 1:] = np.maximum.accumulate(np.where(now >= 0, here, -1), axis=1)[:, :-1]
        before = np.take_along_axis(now, np.maximum(last, 0), axis=1)
        goes = (now >= 0) & (last >= 0) & (now != before)
        hurried[at : at + at_once] = (goes & (last == here - 1)) @ walk.weight
        keys = np.minimum(now, before).astype(np.int64) * n + np.maximum(now, before)
        keys = (keys + np.arange(len(now))[:, None] * (n * n)) * goes
        counted = np.bincount(keys.ravel(), (goes * walk.weight).ravel(), len(now) * n * n)
        pairs[at : at + at_once] = counted.reshape(-1, n * n)
    return Goings(pairs.reshape(len(masks), n, n), hurried, skipped)
