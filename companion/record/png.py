"""A picture as a data address, for a page that needs no other file."""

from __future__ import annotations

import base64

import numpy as np
from numpy.typing import NDArray

from companion.draft.png import png

__all__ = ["data_address", "png"]


def data_address(image: NDArray[np.uint8]) -> str:
    """Return the picture (rows x columns x 3, uint8, sRGB, top row first) as `data:image/png;base64,…`."""
    return "data:image/png;base64," + base64.b64encode(png(image)).decode("ascii")
