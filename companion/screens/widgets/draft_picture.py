"""A draft in its quarters: dragged along with a finger, or edited square by square."""

from __future__ import annotations

from typing import Any

from kivy.clock import Clock
from kivy.graphics import Color, Line, Rectangle
from kivy.graphics.texture import Texture
from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty
from kivy.uix.widget import Widget

from companion.draft.model import Colour
from companion.present.contrast import from_hex
from companion.present.draft_sheet import DraftSheet, Grid, Quarter, Square, draft_sheet
from companion.present.draft_touch import can_change, can_edit
from companion.present.draft_view import DraftView, Inks, quarter_picture
from companion.present.harness import Box
from companion.screens.look import rgba
from companion.screens.theme import Theme
from companion.screens.widgets.glyphs import glyph_texture

_SMALLEST_NUMERAL = 9
_SLOWING_PER_S = 4.0
_SLOWEST_SQUARES_PER_S = 2.0
_REST_S = 0.1
"""A finger that has lain still for so long before it is lifted wants the draft to stay."""
_SHORTEST_MOVE_S = 0.005
_WHEEL = {"scrollup": (0, 3), "scrolldown": (0, -3), "scrollright": (3, 0), "scrollleft": (-3, 0)}
"""Ends and picks that one step of a mouse wheel moves on; Kivy says "scrollup" when a wheel turns towards the hand."""


class DraftPicture(Widget):  # type: ignore[misc]
    """Draws `view`, a DraftView, from `first_end` and `first_pick` on, and says `on_square` for a square touched.

    A finger drags the draft along, and it glides on when let go. While `editing`, a finger on a square that can be
    changed aims instead (`aimed`): it may slide to another square, and the square under it when it is lifted counts.
    """

    view = ObjectProperty(None, allownone=True)
    theme = ObjectProperty(None, allownone=True)
    cell = NumericProperty(16)
    first_end = NumericProperty(0)
    first_pick = NumericProperty(0)
    editing = BooleanProperty(False)
    aimed = ObjectProperty(None, allownone=True)
    sheet = ObjectProperty(None, allownone=True)

    __events__ = ("on_square",)

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        self._drawn: dict[Quarter, tuple[DraftView, Theme, Grid, Texture]] = {}
        self._redraw = Clock.create_trigger(self._draw, -1)
        self._gliding = Clock.create_trigger(self._glide, 0, interval=True)
        self._speed = (0.0, 0.0)
        self._at = (0.0, 0.0)
        self._moved_at_s = 0.0
        for name in ("view", "theme", "cell", "first_end", "first_pick", "size", "pos", "aimed"):
            self.fbind(name, self._redraw)

    def on_square(self, square: Square) -> None:
        """The weaver lifted a finger from this square."""

    @property
    def gliding(self) -> bool:
        """Whether the draft still moves although no finger does."""
        return bool(self._gliding.is_triggered)

    @property
    def _fast(self) -> bool:
        return max(map(abs, self._speed)) > _SLOWEST_SQUARES_PER_S

    def texture_of(self, quarter: Quarter) -> Texture:
        """Return what is drawn of a quarter; KeyError where nothing is."""
        return self._drawn[quarter][3]

    def scroll_to(self, end: float, pick: float) -> None:
        """Show the draft from this end and this pick on, or from the last that fill the window."""
        if self.view is None:
            return
        # To the nearest square: sums of small moves come out a little below whole numbers.
        nearest_end, nearest_pick = round(end), round(pick)
        sheet = self._laid_out(nearest_end, nearest_pick)
        self._at = (
            end if nearest_end == sheet.first_end else float(sheet.first_end),
            pick if nearest_pick == sheet.first_pick else float(sheet.first_pick),
        )
        self.first_end, self.first_pick = sheet.first_end, sheet.first_pick

    def on_touch_down(self, touch: Any) -> bool:
        """Begin to aim, or to drag."""
        if not self.collide_point(*touch.pos) or self.sheet is None:
            return False
        self._gliding.cancel()
        self._speed = (0.0, 0.0)
        if touch.is_mouse_scrolling:
            ends, picks = _WHEEL[touch.button]
            self.scroll_to(self.first_end + ends, self.first_pick + picks)
            return True
        self._at = (self.first_end, self.first_pick)
        self._moved_at_s = touch.time_start
        touch.grab(self)
        square = self.sheet.square_at(*touch.pos)
        if self.editing and can_edit(self.sheet) and square is not None and can_change(square, self.view.draft):
            self.aimed = square
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """Aim at the square under the finger, or take the draft along."""
        if touch.grab_current is not self:
            return False
        if self.aimed is not None:
            # Beyond the quarter there is nothing to aim at; the last square aimed at there stands until the end.
            square = self.sheet.square_at(*touch.pos)
            if square is not None and square.quarter is self.aimed.quarter:
                self.aimed = square
        else:
            cell = self.sheet.cell
            across, up = touch.dx / cell, touch.dy / cell
            passed_s = max(touch.time_update - self._moved_at_s, _SHORTEST_MOVE_S)
            self._moved_at_s = touch.time_update
            self._speed = (across / passed_s, up / passed_s)
            self.scroll_to(self._at[0] + across, self._at[1] + up)
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """Tell of the square aimed at, or let the draft glide on."""
        if touch.grab_current is not self:
            return False
        touch.ungrab(self)
        aimed, self.aimed = self.aimed, None
        if aimed is not None:
            if self.sheet.square_at(*touch.pos) == aimed:
                self.dispatch("on_square", aimed)
        elif touch.time_end - self._moved_at_s < _REST_S and self._fast:
            self._gliding()
        return True

    def _glide(self, seconds: float) -> None:
        before = self._at
        self.scroll_to(self._at[0] + self._speed[0] * seconds, self._at[1] + self._speed[1] * seconds)
        slower = max(1.0 - _SLOWING_PER_S * seconds, 0.0)
        self._speed = (self._speed[0] * slower, self._speed[1] * slower)
        if not self._fast or self._at == before:
            self._gliding.cancel()

    def _laid_out(self, end: int, pick: int) -> DraftSheet:
        area = Box(int(self.x), int(self.y), int(self.width), int(self.height))
        return draft_sheet(self.view.draft, area, self.cell, end, pick)

    def _draw(self, *_: Any) -> None:
        self.canvas.clear()
        if self.view is None or self.theme is None or self.height < 2:
            return
        sheet = self._laid_out(self.first_end, self.first_pick)
        self.first_end, self.first_pick = sheet.first_end, sheet.first_pick
        with self.canvas:
            Color(1, 1, 1, 1)
            for quarter, grid in sheet.grids.items():
                Rectangle(texture=self._texture(quarter, grid, sheet.cell), pos=grid.box[:2], size=grid.box[2:])
            self._number(sheet)
            if self.aimed is not None:
                self._draw_aim(sheet, self.aimed)
        self.sheet = sheet

    def _texture(self, quarter: Quarter, grid: Grid, cell: int) -> Texture:
        known = self._drawn.get(quarter)
        if known is not None and known[:3] == (self.view, self.theme, grid):
            return known[3]
        pixels = quarter_picture(self.view, quarter, grid, cell, inks_of(self.theme)).pixels
        height, width, _ = pixels.shape
        if known is not None and known[3].size == (width, height):
            texture = known[3]
        else:
            texture = Texture.create(size=(width, height), colorfmt="rgb")
            texture.mag_filter = texture.min_filter = "nearest"
            texture.flip_vertical()
        texture.blit_buffer(pixels.tobytes(), colorfmt="rgb", bufferfmt="ubyte")
        self._drawn[quarter] = (self.view, self.theme, grid, texture)
        return texture

    def _number(self, sheet: DraftSheet) -> None:
        """Number the treadles above the tie-up (above a lift plan its shafts) and the shafts beside the threading."""
        size = int(sheet.cell * 0.8)
        if size < _SMALLEST_NUMERAL:
            return
        Color(*rgba(self.theme.quiet_text))
        beside = sheet.grids.get(Quarter.TIE_UP, sheet.grids.get(Quarter.TREADLING))
        if beside is not None:
            top = beside.box.y + beside.box.height + max(sheet.cell // 3, 1)
            for column in range(beside.columns):
                box = beside.box_of(column, beside.first_row)
                _numeral(column + 1, size, Box(box.x, top, box.width, box.height))
        threading = sheet.grids.get(Quarter.THREADING)
        corner = sheet.grids.get(Quarter.TIE_UP, threading)
        if corner is not None:
            left = corner.box.x + corner.box.width + max(sheet.cell // 3, 1)
            for row in range(corner.rows):
                box = corner.box_of(corner.first_column, row)
                _numeral(row + 1, size, Box(left, box.y, box.width, box.height))

    def _draw_aim(self, sheet: DraftSheet, square: Square) -> None:
        """Draw lines along the column and the row of a square: the finger hides the square itself."""
        box = sheet.box_of(square)
        if box is None:
            return
        quarter = sheet.grids[square.quarter].box
        Color(*rgba(self.theme.left_foot))
        Line(rectangle=(box.x, quarter.y, box.width, quarter.height), width=2)
        Line(rectangle=(quarter.x, box.y, quarter.width, box.height), width=2)


def inks_of(theme: Theme) -> Inks:
    """Return the colours that a theme draws drafts in."""

    def ink(code: str) -> Colour:
        return Colour(*from_hex(code))

    return Inks(
        ground=ink(theme.panel),
        mark=ink(theme.text),
        line=ink(theme.grid),
        tens=ink(theme.line),
        float_mark=ink(theme.warning),
        float_edge=ink(theme.on_warning),
    )


def _numeral(number: int, size: int, box: Box) -> None:
    texture = glyph_texture(str(number), size)
    shrink = min(1.0, box.width / texture.width)
    width, height = texture.width * shrink, texture.height * shrink
    left, bottom = box.x + (box.width - width) / 2, box.y + (box.height - height) / 2
    Rectangle(texture=texture, pos=(int(left), int(bottom)), size=(width, height))
