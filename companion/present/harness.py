"""Where the shafts, ties and treadles of the loom stand in a picture: geometry only, in a unit-free box.

Seen from the bench: treadles in a row at the bottom, treadle 1 on the left; above each its ties, shaft 1 (nearest
the weaver) lowest; a bar at the end of each shaft's row stands up or down with the shed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple


class Box(NamedTuple):
    """A rectangle: left, bottom, width, height."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class HarnessLayout:
    """Boxes of the picture: `ties[treadle][shaft]`, `pedals[treadle]`, `shafts[shaft]` (the shed at the row's end)."""

    ties: tuple[tuple[Box, ...], ...]
    pedals: tuple[Box, ...]
    shafts: tuple[Box, ...]


_PEDAL_SHARE = 0.34
_PEDAL_LONGEST = 2.6
_PEDAL_BREADTH = 0.6
_SHED_COLUMNS = 1.6
_MARGIN = 0.14


def harness_layout(area: Box, shafts: int, treadles: int) -> HarnessLayout:
    """Fit the harness into `area`, cells as near to square as the area lets them be."""
    column = area.width / (max(treadles, 1) + _SHED_COLUMNS)
    pedal_height = min(area.height * _PEDAL_SHARE, column * _PEDAL_LONGEST)
    row = (area.height - pedal_height) / shafts
    cell = min(column, row)
    # Many shafts make flat cells: treadles are for reading, and as wide as these, then, they could not be read.
    column, row = min(column, max(cell * 2.2, pedal_height * _PEDAL_BREADTH)), min(row, cell * 1.6)
    left = area.x + (area.width - column * (treadles + _SHED_COLUMNS)) / 2
    bottom = area.y + (area.height - pedal_height - row * shafts) / 2
    tie_bottom = bottom + pedal_height

    def cell_box(index: float, shaft: int, columns: float = 1.0) -> Box:
        return Box(
            left + (index + _MARGIN) * column,
            tie_bottom + (shaft + _MARGIN) * row,
            column * (columns - 2 * _MARGIN),
            row * (1 - 2 * _MARGIN),
        )

    return HarnessLayout(
        ties=tuple(tuple(cell_box(treadle, shaft) for shaft in range(shafts)) for treadle in range(treadles)),
        pedals=tuple(
            Box(left + (treadle + _MARGIN) * column, bottom, column * (1 - 2 * _MARGIN), pedal_height * 0.9)
            for treadle in range(treadles)
        ),
        shafts=tuple(cell_box(treadles + 0.2, shaft, _SHED_COLUMNS - 0.4) for shaft in range(shafts)),
    )
