"""The cloth as it lies at the fell, as a picture: newest pick on top, because the weaver sits below it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

TEXELS = 6
"""Texels along one side of a crossing: enough for a shaded edge on either side of the thread."""
_EDGE_SHADE = 0.62
_ROUND_SHADE = 0.86


def crossings_picture(up: NDArray[np.bool_], colours: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Draw crossings so that the upper thread of each shows which way it runs, even in one colour.

    `up` (rows x ends, True = warp up) and `colours` (rows x ends x 3, the upper thread's) give an image of
    (rows * TEXELS) x (ends * TEXELS) x 3, uint8.
    """
    shade_line = np.ones(TEXELS)
    shade_line[[0, -1]] = _EDGE_SHADE
    shade_line[[1, -2]] = _ROUND_SHADE
    warp_tile = np.tile(shade_line, (TEXELS, 1))
    tiles = np.where(up[:, :, None, None], warp_tile, warp_tile.T)
    shaded = colours[:, :, None, None, :] * tiles[..., None]
    rows, ends = up.shape
    return shaded.swapaxes(1, 2).reshape(rows * TEXELS, ends * TEXELS, 3).astype(np.uint8)
