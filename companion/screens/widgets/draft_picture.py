"""A draft in its quarters: dragged along with a finger, or edited square by square."""

from __future__ import annotations

from typing import Any

from kivy.clock import Clock
from kivy.graphics import Color, Line, Rectangle
from kivy.graphics.texture import Texture
from kivy.properties import NumericProperty, ObjectProperty
from kivy.uix.widget import Widget

from companion.draft.facing import FROM_LEFT
from companion.draft.floats import Threads
from companion.draft.model import Colour
from companion.draft.stretches import Stretch
from companion.present.draft_sheet import FIRST, Corner, DraftSheet, Grid, Quarter, Square, draft_sheet
from companion.present.draft_touch import can_change, can_edit, is_number
from companion.present.draft_view import DraftView, Inks, quarter_picture
from companion.present.harness import Box
from companion.screens.look import rgba
from companion.screens.theme import Theme, from_hex
from companion.screens.widgets.draft_numbers import draw_numbers, draw_thread_numbers

_SLOWING_PER_S = 4.0
_SLOWEST_SQUARES_PER_S = 2.0
_REST_S = 0.1
"""A finger that has lain still for so long before it is lifted wants the draft to stay."""
_SHORTEST_MOVE_S = 0.005
_WHEEL = {"scrollup": (0, 3), "scrolldown": (0, -3), "scrollright": (3, 0), "scrollleft": (-3, 0)}
"""Squares that one step of a mouse wheel moves on; Kivy says "scrollup" when a wheel turns towards the hand."""
_MARKED_BESIDE = {
    Threads.WARP: (Quarter.WARP_COLOURS, Quarter.THREADING, Quarter.CLOTH),
    Threads.WEFT: (Quarter.CLOTH, Quarter.TREADLING, Quarter.WEFT_COLOURS),
}
"""Where a marked stretch is seen besides at its numbers."""

_Place = tuple[float, float, float, float]


class DraftPicture(Widget):  # type: ignore[misc]
    """Draws `view`, a DraftView, from `corner` on, and says `on_square` for a square touched.

    A finger drags the draft along, and it glides on when let go. While a `part` is changed, a finger on a square that
    can be changed aims instead (`aimed`): it may slide to another square, and the square under it when it is lifted
    counts. The number of a thread is touched where the finger does not drag; `stretch` is what is marked.
    """

    view = ObjectProperty(None, allownone=True)
    theme = ObjectProperty(None, allownone=True)
    cell = NumericProperty(16)
    facing = ObjectProperty(FROM_LEFT)
    corner = ObjectProperty(FIRST)
    part = ObjectProperty(None, allownone=True)
    stretch = ObjectProperty(None, allownone=True)
    aimed = ObjectProperty(None, allownone=True)
    sheet = ObjectProperty(None, allownone=True)

    __events__ = ("on_square",)

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        self._drawn: dict[Quarter, tuple[DraftView, Theme, Grid, Texture]] = {}
        self._redraw = Clock.create_trigger(self._draw, -1)
        self._gliding = Clock.create_trigger(self._glide, 0, interval=True)
        self._speed: _Place = (0.0, 0.0, 0.0, 0.0)
        self._at: _Place = FIRST
        self._moved_at_s = 0.0
        self._touched: Square | None = None
        for name in ("view", "theme", "cell", "facing", "corner", "size", "pos", "part", "stretch", "aimed"):
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

    def scroll_to(self, place: _Place) -> None:
        """Show the draft from this end, pick, shaft and treadle on, or from the last that fill the window."""
        if self.view is None:
            return
        # To the nearest square: sums of small moves come out a little below whole numbers.
        nearest = Corner(*map(round, place))
        corner = self._laid_out(nearest).corner
        wanted = zip(place, nearest, corner, strict=True)
        end, pick, shaft, treadle = (exact if near == there else float(there) for exact, near, there in wanted)
        self._at = (end, pick, shaft, treadle)
        self.corner = corner

    def show(self, stretch: Stretch) -> None:
        """Scroll to the first thread of a stretch, unless some of it is in the window."""
        sheet = self._laid_out(self.corner)
        shown = sheet.ends if stretch.threads is Threads.WARP else sheet.picks
        if shown.first < stretch.last and stretch.first < shown.first + shown.number:
            return
        self._gliding.cancel()
        end, pick, shaft, treadle = sheet.corner
        if stretch.threads is Threads.WARP:
            self.scroll_to((stretch.first, pick, shaft, treadle))
        else:
            self.scroll_to((end, stretch.first, shaft, treadle))

    def on_touch_down(self, touch: Any) -> bool:
        """Begin to aim, or to drag."""
        if not self.collide_point(*touch.pos) or self.sheet is None:
            return False
        self._gliding.cancel()
        self._speed = (0.0, 0.0, 0.0, 0.0)
        self._at = self.corner
        if touch.is_mouse_scrolling:
            self._drag(touch, *_WHEEL[touch.button])
            return True
        self._moved_at_s = touch.time_start
        touch.grab(self)
        square = self.sheet.square_at(*touch.pos)
        if self.part is not None and can_edit(self.sheet) and square is not None:
            if can_change(square, self.view.draft):
                self.aimed = square
            elif is_number(square):
                self._touched = square
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
            return True
        if self._touched is not None:
            # A finger trembles: it drags only once it is half a square away, and then takes the draft along from there.
            if max(abs(touch.x - touch.ox), abs(touch.y - touch.oy)) < self.sheet.cell / 2:
                return True
            self._touched = None
        before, cell = self._at, self.sheet.cell
        self._drag(touch, touch.dx / cell, touch.dy / cell)
        passed_s = max(touch.time_update - self._moved_at_s, _SHORTEST_MOVE_S)
        self._moved_at_s = touch.time_update
        end, pick, shaft, treadle = ((now - then) / passed_s for now, then in zip(self._at, before, strict=True))
        self._speed = (end, pick, shaft, treadle)
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """Tell of the square aimed at or the number touched, or let the draft glide on."""
        if touch.grab_current is not self:
            return False
        touch.ungrab(self)
        wanted, self.aimed, self._touched = self.aimed or self._touched, None, None
        if wanted is not None:
            if self.sheet.square_at(*touch.pos) == wanted:
                self.dispatch("on_square", wanted)
        elif touch.time_end - self._moved_at_s < _REST_S and self._fast:
            self._gliding()
        return True

    def _drag(self, touch: Any, across: float, up: float) -> None:
        moved = self.sheet.drag(touch.ox, touch.oy, across, up)
        end, pick, shaft, treadle = (at + by for at, by in zip(self._at, moved, strict=True))
        self.scroll_to((end, pick, shaft, treadle))

    def _glide(self, seconds: float) -> None:
        before = self._at
        end, pick, shaft, treadle = (at + by * seconds for at, by in zip(self._at, self._speed, strict=True))
        self.scroll_to((end, pick, shaft, treadle))
        slower = max(1.0 - _SLOWING_PER_S * seconds, 0.0)
        end, pick, shaft, treadle = (by * slower for by in self._speed)
        self._speed = (end, pick, shaft, treadle)
        if not self._fast or self._at == before:
            self._gliding.cancel()

    def _laid_out(self, corner: Corner) -> DraftSheet:
        area = Box(int(self.x), int(self.y), int(self.width), int(self.height))
        return draft_sheet(self.view.draft, area, self.cell, self.facing, corner, self.part)

    def _draw(self, *_: Any) -> None:
        self.canvas.clear()
        if self.view is None or self.theme is None or self.height < 2:
            return
        sheet = self._laid_out(self.corner)
        self.corner = sheet.corner
        with self.canvas:
            Color(1, 1, 1, 1)
            for quarter, grid in sheet.grids.items():
                if quarter in (Quarter.END_NUMBERS, Quarter.PICK_NUMBERS):
                    continue
                Rectangle(texture=self._texture(quarter, grid, sheet.cell), pos=grid.box[:2], size=grid.box[2:])
            draw_numbers(sheet, self.theme)
            draw_thread_numbers(sheet, self.theme, self.stretch)
            if self.stretch is not None:
                self._draw_stretch(sheet, self.stretch)
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

    def _draw_stretch(self, sheet: DraftSheet, stretch: Stretch) -> None:
        Color(*rgba(self.theme.accent_line))
        for quarter in _MARKED_BESIDE[stretch.threads]:
            box = sheet.span(stretch, quarter)
            if box is not None:
                Line(rectangle=box, width=3)

    def _draw_aim(self, sheet: DraftSheet, square: Square) -> None:
        """Draw lines along the column and the row of a square: the finger hides the square itself."""
        box = sheet.box_of(square)
        if box is None:
            return
        quarter = sheet.grids[square.quarter].box
        Color(*rgba(self.theme.accent_line))
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
