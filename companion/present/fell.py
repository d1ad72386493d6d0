"""The cloth as it lies at the fell, as a picture: newest pick on top, because the weaver sits below it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from companion.draft.masks import Shed, shafts_of
from companion.draft.model import Draft
from companion.weaving.pick_view import rows_at_fell, this_pick
from companion.weaving.progress import Progress
from companion.weaving.warp import Piece, Warp

TEXELS = 6
"""Texels along one side of a crossing: enough for a shaded edge on either side of the thread."""
_BARE_SHADE = 0.45
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


def fell_picture(warp: Warp, progress: Progress, rows: int, ends: int) -> NDArray[np.uint8]:
    """Draw the next pick and, below it, the newest picks in the cloth: `rows` rows of the first `ends` ends.

    Rows that are not woven yet show the bare warp. Image as from `crossings_picture`, read-only.
    """
    view = this_pick(warp, progress)
    woven = [row.pick for row in rows_at_fell(warp, progress, rows - 1)]
    return _picture(warp.pieces[progress.now.piece], [view.pick if view else None, *woven], rows, ends)


def cloth_below(piece: Piece, top_pick: int, rows: int, ends: int) -> NDArray[np.uint8]:
    """Draw the cloth that ends with `top_pick` (index), the picks below it in the order of the treadling."""
    return _picture(piece, list(range(top_pick, max(top_pick - rows, -1), -1)), rows, ends)


def _picture(piece: Piece, picks: Sequence[int | None], rows: int, ends: int) -> NDArray[np.uint8]:
    draft = piece.draft
    ends = min(ends, draft.ends)
    up = np.ones((rows, ends), dtype=np.bool_)
    yarn_colours = np.array([yarn.colour for yarn in draft.yarns], dtype=np.float64).reshape(-1, 3)
    warp_colours = yarn_colours[np.array(draft.warp[:ends], dtype=np.intp)]
    colours = np.broadcast_to(warp_colours * _BARE_SHADE, (rows, ends, 3)).copy()
    for row, pick in enumerate(picks):
        if pick is not None:
            up[row] = _ends_up(draft, piece.sheds[pick], ends)
            colours[row] = np.where(up[row][:, None], warp_colours, yarn_colours[draft.weft[pick]])
    picture = crossings_picture(up, colours.astype(np.uint8))
    picture.flags.writeable = False
    return picture


def fell_window(width: float, height: float, cell: float) -> tuple[int, int]:
    """Return how many rows and ends, each `cell` high and wide, a box shows: at least 4 of each."""
    return max(int(height // cell), 4), max(int(width // cell), 4)


def _ends_up(draft: Draft, shed: Shed, ends: int) -> NDArray[np.bool_]:
    # The last place stands for an unthreaded end, which no shaft raises.
    raised = np.zeros(draft.shafts + 1, dtype=np.bool_)
    raised[[shaft - 1 for shaft in shafts_of(shed)]] = True
    return raised[[draft.shafts if shaft is None else shaft for shaft in draft.threading[:ends]]]
