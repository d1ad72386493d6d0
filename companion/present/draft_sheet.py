"""A draft laid out as printed drafts are: threading on top, tie-up in the corner, treadling beside the cloth.

Geometry only. End 1 and treadle 1 meet at the tie-up, as do shaft 1 and pick 1, so the draft is read away from that
corner (common practice, no source). It is the cloth before the weaver turned by half a turn; a twill runs as it does
there. Beyond the threading and the treadling lie the colours of the yarns. Only a window of the ends and picks is laid
out; y grows upwards.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from companion.draft.model import Draft, Lifted
from companion.present.harness import Box

_MOST_SHARE = 0.5
"""The share of the height that the threading may take, and of the width that the treadling may."""


class Quarter(Enum):
    """One part of the sheet."""

    THREADING = "threading"
    TIE_UP = "tie-up"
    TREADLING = "treadling"
    CLOTH = "cloth"
    WARP_COLOURS = "colours of the ends"
    WEFT_COLOURS = "colours of the picks"


@dataclass(frozen=True, slots=True)
class Square:
    """One square of a quarter: `column` is the end or treadle, `row` the shaft or pick (indices; 0 for colours).

    Beside a lift plan a `column` of the treadling is a shaft.
    """

    quarter: Quarter
    column: int
    row: int


@dataclass(frozen=True, slots=True)
class Grid:
    """The squares of one quarter that are shown: `columns` x `rows` of them, from `first_column` and `first_row` on.

    Columns count to the left where `leftwards`, else to the right; rows down where `downwards`, else up.
    """

    box: Box
    columns: int
    rows: int
    first_column: int = 0
    first_row: int = 0
    leftwards: bool = False
    downwards: bool = False

    def box_of(self, column: int, row: int) -> Box:
        """Return the box of a square that is shown."""
        width, height = self.box.width / self.columns, self.box.height / self.rows
        across, up = column - self.first_column, row - self.first_row
        if self.leftwards:
            across = self.columns - 1 - across
        if self.downwards:
            up = self.rows - 1 - up
        return Box(self.box.x + across * width, self.box.y + up * height, width, height)

    def column_and_row(self, x: float, y: float) -> tuple[int, int] | None:
        """Return the column and the row at a point; None beside the grid."""
        if not (0 <= x - self.box.x < self.box.width and 0 <= y - self.box.y < self.box.height):
            return None
        across = int((x - self.box.x) * self.columns / self.box.width)
        up = int((y - self.box.y) * self.rows / self.box.height)
        if self.leftwards:
            across = self.columns - 1 - across
        if self.downwards:
            up = self.rows - 1 - up
        return self.first_column + across, self.first_row + up


@dataclass(frozen=True, slots=True)
class DraftSheet:
    """The quarters as they lie in the window, in squares of `cell` x `cell`; a quarter without squares is left out."""

    cell: int
    grids: Mapping[Quarter, Grid]
    first_end: int
    ends: int
    first_pick: int
    picks: int

    def square_at(self, x: float, y: float) -> Square | None:
        """Return the square at a point, or None where there is none."""
        for quarter, grid in self.grids.items():
            found = grid.column_and_row(x, y)
            if found is not None:
                return Square(quarter, *found)
        return None

    def box_of(self, square: Square) -> Box | None:
        """Return the box of a square, or None where it is not shown."""
        grid = self.grids.get(square.quarter)
        if grid is None:
            return None
        across, up = square.column - grid.first_column, square.row - grid.first_row
        shown = 0 <= across < grid.columns and 0 <= up < grid.rows
        return grid.box_of(square.column, square.row) if shown else None


def columns_beside(draft: Draft) -> int:
    """Return how many columns stand beside the cloth: the treadles, or the shafts of a lift plan."""
    return draft.shafts if isinstance(draft.lifting, Lifted) else draft.treadles


def draft_sheet(draft: Draft, area: Box, wanted_cell: float, first_end: int = 0, first_pick: int = 0) -> DraftSheet:
    """Lay a draft out in `area` from this end and this pick on, or from the last that fill the window.

    Squares are of whole pixels and as large as wanted, or smaller where threading or treadling would take more than
    half of the area.
    """
    beside = columns_beside(draft)
    cell = max(
        int(min(wanted_cell, area.width * _MOST_SHARE / (beside + 2), area.height * _MOST_SHARE / (draft.shafts + 2))),
        1,
    )
    gap = max(cell // 3, 1)
    head, side = (draft.shafts + 1) * cell + 2 * gap, (beside + 1) * cell + 2 * gap
    ends = max(min(draft.ends, int(area.width - side) // cell), 0)
    picks = max(min(draft.picks, int(area.height - head) // cell), 0)
    first_end = max(min(first_end, draft.ends - ends), 0)
    first_pick = max(min(first_pick, draft.picks - picks), 0)
    left = area.x + (area.width - side - ends * cell) // 2
    top = area.y + area.height
    beside_x, weft_x = left + ends * cell + gap, left + ends * cell + 2 * gap + beside * cell
    shafts_y, cloth_y = top - cell - gap - draft.shafts * cell, top - head - picks * cell

    def box(x: float, y: float, columns: int, rows: int) -> Box:
        return Box(x, y, columns * cell, rows * cell)

    grids = {
        Quarter.THREADING: Grid(
            box(left, shafts_y, ends, draft.shafts), ends, draft.shafts, first_column=first_end, leftwards=True
        ),
        Quarter.TREADLING: Grid(
            box(beside_x, cloth_y, beside, picks), beside, picks, first_row=first_pick, downwards=True
        ),
        Quarter.CLOTH: Grid(box(left, cloth_y, ends, picks), ends, picks, first_end, first_pick, True, True),
        Quarter.WARP_COLOURS: Grid(box(left, top - cell, ends, 1), ends, 1, first_column=first_end, leftwards=True),
        Quarter.WEFT_COLOURS: Grid(box(weft_x, cloth_y, 1, picks), 1, picks, first_row=first_pick, downwards=True),
    }
    if not isinstance(draft.lifting, Lifted):
        grids[Quarter.TIE_UP] = Grid(box(beside_x, shafts_y, beside, draft.shafts), beside, draft.shafts)
    shown = {quarter: grid for quarter, grid in grids.items() if grid.columns and grid.rows}
    return DraftSheet(cell, shown, first_end, ends, first_pick, picks)
