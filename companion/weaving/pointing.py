"""Where a weaver points in a picture of the whole piece: how near the truth that is, and what it makes of each place.

A finger and an eye err, so what was pointed at speaks for the picks near it and rules none out.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

COLUMNS = 3
"""The picture of a long piece lies in so many columns side by side."""
LEAST_IN_COLUMN = 12
MOST_PICKS, FEWEST_PICKS = 1_200, 8
"""Of more picks than this the rows are no longer seen in such a picture, of fewer none is worth while."""
EYE_PICKS = 2.0
"""How many picks off a weaver is who looks for her fell in a picture (standard deviation; our own choice)."""
FINGER_SHARE = 1 / 37.5
"""How far off a finger is, in heights of the picture (standard deviation): 1.5 mm of 56 mm on a 7-inch panel.

From memory: studies of touch screens find that a finger strikes some 1.5 mm round what it is meant for.
"""
AS_FAR_AS = 2.07
"""So many standard deviations either way tell as much as the whole bell does: sqrt(2 pi e) / 2."""
HARDLY = 0.005
"""Picks that are so much less likely than the one pointed at are not asked about; they are shown last."""


def columns_of(picks: int) -> int:
    """Return in how many columns a picture of so many picks lies."""
    return max(1, min(COLUMNS, picks // LEAST_IN_COLUMN))


def error_picks(picks: int) -> float:
    """Return how many picks off a touch is in a picture of so many picks (standard deviation)."""
    return float(np.hypot(EYE_PICKS, FINGER_SHARE * picks / columns_of(picks)))


def nearness(pick: NDArray[np.int64], pointed_at: int, error: float) -> NDArray[np.float64]:
    """Return how much a touch at a pick (index) speaks for each of these picks (float64): 1 for itself, less beside."""
    return np.asarray(np.exp(-0.5 * ((pick - pointed_at) / error) ** 2), dtype=np.float64)
