"""A draft laid out as printed drafts are: threading on top, tie-up in the corner, treadling beside the cloth.

Geometry only. The first end lies at its side of `facing`; treadle 1 is the leftmost, as on the loom; shaft 1 and pick 1
are next to each other. Where the first pick is at the bottom the sheet stands on its head. Beyond the threading and
the treadling lie the colours of the yarns. Only a window of the draft is laid out; y grows upwards.

While a part of the draft is changed its squares are large enough for a finger, so the other parts make room for it.
Beyond the colours then lie the numbers of the ends or of the picks, to be touched too.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import Enum
from typing import NamedTuple

from companion.draft.facing import Facing, FirstPick, Side
from companion.draft.floats import Threads
from companion.draft.model import Draft, Lifted
from companion.draft.stretches import Stretch
from companion.present.harness import Box

_MOST_SHARE = 0.5
"""The share of the height that the threading may take, and of the width that the treadling may, in a draft to read."""
_FEWEST_ACROSS, _FEWEST_UP = 8, 6.5
"""Squares to touch that there is at least room for: six ends and four shafts, with the rows and columns beside them."""


class DraftPart(Enum):
    """The part of a draft that is being changed."""

    THREADING = "threading"
    TIE_UP = "tie-up"
    TREADLING = "treadling"


class Quarter(Enum):
    """One part of the sheet."""

    THREADING = "threading"
    TIE_UP = "tie-up"
    TREADLING = "treadling"
    CLOTH = "cloth"
    WARP_COLOURS = "colours of the ends"
    WEFT_COLOURS = "colours of the picks"
    END_NUMBERS = "numbers of the ends"
    PICK_NUMBERS = "numbers of the picks"


@dataclass(frozen=True, slots=True)
class Square:
    """One square of a quarter: `column` is an end or treadle, `row` a shaft or pick (indices).

    0 where a quarter has but one column or row, for colours and numbers.
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


class Corner(NamedTuple):
    """The end, pick, shaft and treadle (indices) that stand nearest the corner where the quarters meet."""

    end: int = 0
    pick: int = 0
    shaft: int = 0
    treadle: int = 0


FIRST = Corner()


class Shown(NamedTuple):
    """Which of the ends, picks, shafts or treadles are in the window: from `first` (index) on `number` out of `all`."""

    first: int
    number: int
    all: int

    @property
    def whole(self) -> bool:
        """Whether all there are can be seen."""
        return self.number == self.all


@dataclass(frozen=True, slots=True)
class DraftSheet:
    """The quarters as they lie in the window, in squares of `cell` x `cell`, `gap` apart; empty ones are left out."""

    cell: int
    gap: int
    grids: Mapping[Quarter, Grid]
    ends: Shown
    picks: Shown
    shafts: Shown
    treadles: Shown
    facing: Facing

    @property
    def corner(self) -> Corner:
        """What stands nearest the corner where the quarters meet."""
        return Corner(self.ends.first, self.picks.first, self.shafts.first, self.treadles.first)

    def span(self, stretch: Stretch, quarter: Quarter) -> Box | None:
        """Return the box of what is shown of marked ends or picks in a quarter; None where nothing is."""
        shown = self.ends if stretch.threads is Threads.WARP else self.picks
        first, last = max(stretch.first, shown.first), min(stretch.last, shown.first + shown.number)
        grid = self.grids.get(quarter)
        if grid is None or first >= last:
            return None
        if stretch.threads is Threads.WARP:
            left = min((grid.box_of(end, grid.first_row) for end in (first, last - 1)), key=lambda box: box.x)
            return Box(left.x, grid.box.y, (last - first) * left.width, grid.box.height)
        low = min((grid.box_of(grid.first_column, pick) for pick in (first, last - 1)), key=lambda box: box.y)
        return Box(grid.box.x, low.y, grid.box.width, (last - first) * low.height)

    def drag(self, x: float, y: float, across: float, up: float) -> tuple[float, float, float, float]:
        """Return by how much end, pick, shaft and treadle of the corner move with a finger that began at a point.

        `across` and `up` are its way in squares. Shafts move where not all are shown and the finger began beside them,
        else picks; treadles and ends likewise.
        """
        shafts = not self.shafts.whole and self._beside(y, 1, Quarter.THREADING, Quarter.TIE_UP)
        treadles = not self.treadles.whole and self._beside(x, 0, Quarter.TIE_UP, Quarter.TREADLING)
        more_ends = across if self.facing.first_end is Side.RIGHT else -across
        more_picks = up if self.facing.first_pick is FirstPick.ON_TOP else -up
        return (
            0.0 if treadles else more_ends,
            0.0 if shafts else more_picks,
            -more_picks if shafts else 0.0,
            -across if treadles else 0.0,
        )

    def _beside(self, at: float, axis: int, *quarters: Quarter) -> bool:
        boxes = [self.grids[quarter].box for quarter in quarters if quarter in self.grids]
        return any(box[axis] <= at < box[axis] + box[axis + 2] for box in boxes)

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


def draft_sheet(
    draft: Draft, area: Box, wanted_cell: float, facing: Facing, corner: Corner = FIRST, part: DraftPart | None = None
) -> DraftSheet:
    """Lay a draft out in `area` from this corner on, or from the last that fills the window; `part` is being changed.

    Squares are of whole pixels and as large as wanted, or smaller: in a draft to read, where threading or treadling
    would take more than half of the area; in one to change, where there would not be room for a few ends and shafts.
    """
    cell = _cell(draft, area, wanted_cell, part)
    gap = max(cell // (3 if part is None else 8), 1)
    step = cell + gap
    end_numbers, pick_numbers = part is DraftPart.THREADING, part is DraftPart.TREADLING
    with_shafts, with_treadles = part is not DraftPart.TREADLING, part is not DraftPart.THREADING

    head, side = (1 + end_numbers) * step + with_shafts * gap, (1 + pick_numbers) * step + with_treadles * gap
    shafts = _window(draft.shafts * with_shafts, (area.height - head) // cell, corner.shaft)
    treadles = _window(columns_beside(draft) * with_treadles, (area.width - side) // cell, corner.treadle)
    picks = _window(draft.picks, (area.height - head) // cell - shafts.number, corner.pick)
    ends = _window(draft.ends, (area.width - side) // cell - treadles.number, corner.end)

    leftwards = facing.first_end is Side.RIGHT
    left = area.x + (area.width - side - (ends.number + treadles.number) * cell) // 2
    treadles_x = left + ends.number * cell + gap
    weft_x = treadles_x + treadles.number * cell + with_treadles * gap
    top = area.y + area.height
    warp_y = top - end_numbers * step - cell
    shafts_y = warp_y - gap - shafts.number * cell
    cloth_y = shafts_y - with_shafts * gap - picks.number * cell

    def box(x: float, y: float, columns: int, rows: int) -> Box:
        return Box(x, y, columns * cell, rows * cell)

    def over_ends(y: float) -> Grid:
        return Grid(box(left, y, ends.number, 1), ends.number, 1, first_column=ends.first, leftwards=leftwards)

    def beside_picks(x: float) -> Grid:
        return Grid(box(x, cloth_y, 1, picks.number), 1, picks.number, first_row=picks.first, downwards=True)

    def quarter(x: float, y: float, across: Shown, up: Shown, downwards: bool) -> Grid:
        lies = box(x, y, across.number, up.number)
        return Grid(lies, across.number, up.number, across.first, up.first, leftwards and across is ends, downwards)

    grids = {
        Quarter.THREADING: quarter(left, shafts_y, ends, shafts, False),
        Quarter.TREADLING: quarter(treadles_x, cloth_y, treadles, picks, True),
        Quarter.CLOTH: quarter(left, cloth_y, ends, picks, True),
        Quarter.WARP_COLOURS: over_ends(warp_y),
        Quarter.WEFT_COLOURS: beside_picks(weft_x),
    }
    if not isinstance(draft.lifting, Lifted):
        grids[Quarter.TIE_UP] = quarter(treadles_x, shafts_y, treadles, shafts, False)
    if end_numbers:
        grids[Quarter.END_NUMBERS] = over_ends(top - cell)
    if pick_numbers:
        grids[Quarter.PICK_NUMBERS] = beside_picks(weft_x + step)
    shown = {quarter: grid for quarter, grid in grids.items() if grid.columns and grid.rows}
    if facing.first_pick is FirstPick.AT_BOTTOM:
        shown = {quarter: _on_its_head(grid, area) for quarter, grid in shown.items()}
    return DraftSheet(cell, gap, shown, ends, picks, shafts, treadles, facing)


def _on_its_head(grid: Grid, area: Box) -> Grid:
    low = 2 * area.y + area.height - grid.box.y - grid.box.height
    return replace(grid, box=grid.box._replace(y=low), downwards=not grid.downwards)


def _cell(draft: Draft, area: Box, wanted: float, part: DraftPart | None) -> int:
    if part is None:
        across = area.width * _MOST_SHARE / (columns_beside(draft) + 2)
        up = area.height * _MOST_SHARE / (draft.shafts + 2)
    else:
        across, up = area.width / _FEWEST_ACROSS, area.height / _FEWEST_UP
    return max(int(min(wanted, across, up)), 1)


def _window(number: int, room: float, first: int) -> Shown:
    shown = max(min(number, int(room)), 0)
    return Shown(max(min(first, number - shown), 0), shown, number)
