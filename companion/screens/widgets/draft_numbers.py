"""The numbers of shafts, treadles, ends and picks beside the quarters of a draft, on the canvas that is open."""

from __future__ import annotations

from kivy.graphics import Color, Rectangle

from companion.draft.facing import FirstPick
from companion.draft.stretches import Stretch
from companion.present.draft_sheet import DraftSheet, Quarter
from companion.present.harness import Box
from companion.screens.look import rgba
from companion.screens.theme import Theme
from companion.screens.widgets.glyphs import glyph_texture

_SMALLEST_NUMERAL = 9
_LARGEST_NUMERAL = 28


def draw_numbers(sheet: DraftSheet, theme: Theme) -> None:
    """Number the treadles beyond the tie-up (beyond a lift plan its shafts) and the shafts beside the threading."""
    size = min(int(sheet.cell * 0.8), _LARGEST_NUMERAL)
    if size < _SMALLEST_NUMERAL:
        return
    Color(*rgba(theme.quiet_text))
    beside = sheet.grids.get(Quarter.TIE_UP, sheet.grids.get(Quarter.TREADLING))
    if beside is not None:
        above = sheet.facing.first_pick is FirstPick.ON_TOP
        top = beside.box.y + (beside.box.height + sheet.gap if above else -sheet.gap - sheet.cell)
        for column in range(beside.first_column, beside.first_column + beside.columns):
            box = beside.box_of(column, beside.first_row)
            _numeral(column + 1, size, Box(box.x, top, box.width, box.height))
    corner = sheet.grids.get(Quarter.TIE_UP, sheet.grids.get(Quarter.THREADING))
    if corner is not None:
        left = corner.box.x + corner.box.width + sheet.gap
        for row in range(corner.first_row, corner.first_row + corner.rows):
            box = corner.box_of(corner.first_column, row)
            _numeral(row + 1, size, Box(left, box.y, box.width, box.height))


def draw_thread_numbers(sheet: DraftSheet, theme: Theme, stretch: Stretch | None) -> None:
    """Draw the numbers of the ends or picks as what can be touched, those of the marked stretch lit."""
    size = min(int(sheet.cell * 0.5), _LARGEST_NUMERAL)
    for quarter in (Quarter.END_NUMBERS, Quarter.PICK_NUMBERS):
        grid = sheet.grids.get(quarter)
        if grid is None:
            continue
        for step in range(max(grid.columns, grid.rows)):
            ends = quarter is Quarter.END_NUMBERS
            thread = step + (grid.first_column if ends else grid.first_row)
            box = grid.box_of(thread, 0) if ends else grid.box_of(0, thread)
            lit = stretch is not None and stretch.first <= thread < stretch.last
            Color(*rgba(theme.accent if lit else theme.button))
            Rectangle(pos=(box.x + 1, box.y + 1), size=(box.width - 2, box.height - 2))
            Color(*rgba(theme.on_accent if lit else theme.text))
            _numeral(thread + 1, size, box)


def _numeral(number: int, size: int, box: Box) -> None:
    texture = glyph_texture(str(number), size)
    shrink = min(1.0, box.width / texture.width)
    width, height = texture.width * shrink, texture.height * shrink
    left, bottom = box.x + (box.width - width) / 2, box.y + (box.height - height) / 2
    Rectangle(texture=texture, pos=(int(left), int(bottom)), size=(width, height))
