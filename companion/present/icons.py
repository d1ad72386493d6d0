"""Four small drawings of things of the trade, to stand beside words and never alone. Drawn by us.

Coordinates go from 0 to 100, the floor at the bottom.
"""

from __future__ import annotations

from companion.present.loom_drawing import Disc, Shape, Stroke

_LINE, _THICK = 8.0, 14.0

SHUTTLE: tuple[Shape, ...] = (
    Stroke(((4, 50), (26, 68), (74, 68), (96, 50), (74, 32), (26, 32), (4, 50)), _LINE),
    Stroke(((36, 50), (64, 50)), _THICK),
)
"""A boat with its bobbin."""
TREADLE: tuple[Shape, ...] = (
    Stroke(((8, 16), (92, 34)), _THICK),
    Disc((10, 16), 8),
    Stroke(((66, 30), (66, 92)), _LINE),
    Stroke(((50, 92), (82, 92)), _LINE),
)
"""A treadle on its pivot, tied to a lamm."""
CLOTH: tuple[Shape, ...] = tuple(
    Stroke(points, _LINE)
    for points in (
        # Plain weave, each thread broken where another lies over it.
        *(((14 + 24 * column, 6), (14 + 24 * column, 94)) for column in (0, 2)),
        *(((14 + 24 * column, 6), (14 + 24 * column, 20)) for column in (1, 3)),
        *(((14 + 24 * column, 36), (14 + 24 * column, 64)) for column in (1, 3)),
        *(((14 + 24 * column, 80), (14 + 24 * column, 94)) for column in (1, 3)),
        ((26, 28), (74, 28)),
        ((26, 72), (74, 72)),
        ((2, 50), (4, 50)),
        ((24, 50), (52, 50)),
        ((72, 50), (98, 50)),
    )
)
"""Threads over and under one another."""
NOTE: tuple[Shape, ...] = (
    Stroke(((18, 6), (18, 94), (64, 94), (84, 74), (84, 6), (18, 6)), _LINE),
    Stroke(((34, 66), (68, 66)), _LINE),
    Stroke(((34, 46), (68, 46)), _LINE),
    Stroke(((34, 26), (54, 26)), _LINE),
)
"""A sheet with a few lines on it."""
