"""The cloth of a warp drawn for the boxes that show it: at the fell, beside a question, and to be pointed at."""

from __future__ import annotations

from companion.draft.cloth import Surface
from companion.draft.facing import Facing
from companion.present.ends_that_tell import end_that_tells, window_words
from companion.present.fell import (
    HIGHEST_ROW,
    Picture,
    ends_drawn,
    fell_picture,
    fell_window,
    first_shown,
    pick_height,
    row_picture,
    rows_picture,
)
from companion.present.fell_words import ends_words, turned_words
from companion.screens.ask import AskScreen
from companion.screens.weave import WeaveScreen
from companion.weaving.pick_view import PickView, rows_at_fell
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp


class FellDrawn:
    """Draws the cloth of a warp as large as its boxes are; FACE is the surface that lies up on the loom."""

    def __init__(self, warp: Warp, facing: Facing, surface: Surface) -> None:
        self._warp, self._facing = warp, facing
        self.surface = surface

    def turn_over(self) -> None:
        """Draw the other surface at the fell from now on; beside a question stands what lies up."""
        self.surface = Surface.BACK if self.surface is Surface.FACE else Surface.FACE

    def name_surface(self, weave: WeaveScreen, progress: Progress) -> None:
        """Say on the weave screen which surface is drawn."""
        weave.surface = turned_words(self.surface, self._warp.pieces[progress.now.piece].face_down)

    def at_fell(self, weave: WeaveScreen, progress: Progress, view: PickView | None) -> None:
        """Draw the next pick, `view`, and those below it on the weave screen."""
        rows, ends = self._rows_and_ends(weave, progress)
        weave.cloth = fell_picture(self._warp, progress, view, rows, ends, self._facing, self.surface)
        weave.cloth_marked_share = 1 / rows
        drafted = self._warp.pieces[progress.now.piece].draft.ends
        weave.ends_shown = ends_words(ends_drawn(self._warp, progress, ends), drafted)

    def beside(self, ask: AskScreen, progress: Progress) -> None:
        """Draw the rows that a question is about."""
        rows, ends = self._rows_and_ends(ask, progress)
        asked, marked = ask.asked.rows, ask.asked.marked
        woven = rows_at_fell(self._warp, progress, len(asked) or rows)
        there = tuple(row.pick for row in woven)
        # From where the shuttle came is known of what lies at the fell, not of cloth that only may lie there.
        came_from = [row.came_from for row in woven] if asked in ((), there) else []
        above = first_shown(marked, rows)
        ask.cloth = rows_picture(
            self._warp,
            progress,
            (asked or there)[above:],
            rows,
            ends,
            self._facing,
            came_from=came_from[above:],
        )
        ask.cloth_rows = range(above, above + rows)
        ask.cloth_marked = (0.0, 0.0) if marked is None else ((marked - above) / rows, 1 / rows)

    def to_point_at(
        self,
        progress: Progress,
        picks: tuple[int, ...],
        beside: list[tuple[int, ...]],
        width: float,
        height: float,
        cell: float,
    ) -> tuple[Picture, str]:
        """Draw cloth to point at, and say which ends it shows; a single row stands alone, larger."""
        warp, facing = self._warp, self._facing
        piece = warp.pieces[progress.now.piece]
        rows, ends = fell_window(width, height, cell, pick_height(warp, progress))
        first = end_that_tells(piece, [lying[:rows] for lying in beside], ends)
        words = window_words(first, min(ends, piece.draft.ends - first), facing)
        if len(picks) == 1:
            high = max(min(int(height // cell), HIGHEST_ROW), 1)
            return row_picture(piece, picks[0], ends, high, facing, first), words
        return rows_picture(warp, progress, picks, rows, ends, facing, first), words

    def _rows_and_ends(self, screen: WeaveScreen | AskScreen, progress: Progress) -> tuple[int, int]:
        box = screen.ids.cloth
        return fell_window(box.width, box.height, screen.sizes.crossing, pick_height(self._warp, progress))
