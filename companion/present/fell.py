"""The cloth as it lies at the fell, as a picture: newest pick on top, because the weaver sits below it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from companion.draft.cloth import Surface
from companion.draft.facing import Facing
from companion.draft.masks import Shed, shafts_of
from companion.draft.model import Draft
from companion.weaving.pick_view import PickView, rows_at_fell
from companion.weaving.progress import Progress
from companion.weaving.warp import Piece, Warp

TEXELS = 6
"""Texels along one side of a crossing: enough for a shaded edge on either side of the thread."""
MOST_ROWS_DRAWN = 200
"""No screen shows more rows of the cloth than this."""
_BARE_SHADE = 0.45
_SHADES = np.array([160, 220, 256, 256, 220, 160], dtype=np.uint16)
"""Across a thread from edge to edge, in 256ths of its colour: a thread is round."""
_WARP_TILE = np.tile(_SHADES, (TEXELS, 1))
_TILES = np.stack([_WARP_TILE.T, _WARP_TILE])


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Picture:
    """An image: `pixels` are height x width x 3, uint8, top row first, read-only. Compared by identity."""

    pixels: NDArray[np.uint8]


def crossings_picture(up: NDArray[np.bool_], colours: NDArray[np.uint8]) -> Picture:
    """Draw crossings so that the upper thread of each shows which way it runs, even in one colour.

    `up` (rows x ends, bool, True = warp up) and `colours` (rows x ends x 3, uint8, the upper thread's) give an image
    of (rows * TEXELS) x (ends * TEXELS).
    """
    rows, ends = up.shape
    tiles = _TILES[up.astype(np.intp)].swapaxes(1, 2)
    shaded = tiles[..., None] * colours[:, None, :, None, :].astype(np.uint16) // 256
    pixels = shaded.astype(np.uint8).reshape(rows * TEXELS, ends * TEXELS, 3)
    pixels.flags.writeable = False
    return Picture(pixels)


def fell_picture(
    warp: Warp,
    progress: Progress,
    view: PickView | None,
    rows: int,
    ends: int,
    facing: Facing,
    surface: Surface = Surface.FACE,
) -> Picture:
    """Draw the next pick, `view`, and, below it, the newest picks in the cloth: `rows` rows of the first `ends` ends.

    Rows that are not woven yet show the bare warp. FACE is what lies up on the loom, also where the piece is woven face
    down; what lies below is read through the cloth: end 1 stays where it is, at its side of `facing`.
    """
    woven = [row.pick for row in rows_at_fell(warp, progress, rows - 1)]
    return _picture(warp.pieces[progress.now.piece], [view.pick if view else None, *woven], rows, ends, facing, surface)


def turned_words(surface: Surface, face_down: bool = False) -> str:
    """Return which surface is drawn, by its true name; nothing for the face of a cloth woven face up.

    `surface` counts from the weaver's seat: FACE is what lies up on the loom. Of a piece woven `face_down` that is
    the back.
    """
    if face_down:
        return "Face down: the back lies up" if surface is Surface.FACE else "Face of the cloth, below on the loom"
    return "" if surface is Surface.FACE else "Back of the cloth"


def rows_picture(piece: Piece, picks: Sequence[int], rows: int, ends: int, facing: Facing) -> Picture:
    """Draw cloth of these picks (indices, newest first): `rows` rows of the first `ends` ends."""
    return _picture(piece, list(picks[:rows]), rows, ends, facing)


def _picture(
    piece: Piece,
    picks: Sequence[int | None],
    rows: int,
    ends: int,
    facing: Facing,
    surface: Surface = Surface.FACE,
) -> Picture:
    draft = piece.draft
    ends = min(ends, draft.ends)
    up = np.ones((rows, ends), dtype=np.bool_)
    yarn_colours = np.array([yarn.colour for yarn in draft.yarns], dtype=np.float64).reshape(-1, 3)
    warp_colours = yarn_colours[np.array(draft.warp[:ends], dtype=np.intp)]
    colours = np.broadcast_to(warp_colours * _BARE_SHADE, (rows, ends, 3)).copy()
    for row, pick in enumerate(picks):
        if pick is not None:
            up[row] = _ends_up(draft, piece.sheds[pick], ends) == (surface is Surface.FACE)
            colours[row] = np.where(up[row][:, None], warp_colours, yarn_colours[draft.weft[pick]])
    laid = facing.from_left
    return crossings_picture(up[:, laid], colours.astype(np.uint8)[:, laid])


def fell_window(width: float, height: float, cell: float) -> tuple[int, int]:
    """Return how many rows and ends, each `cell` high and wide, a box shows: at least 4 of each."""
    return max(int(height // cell), 4), max(int(width // cell), 4)


def _ends_up(draft: Draft, shed: Shed, ends: int) -> NDArray[np.bool_]:
    # The last place stands for an unthreaded end, which no shaft raises.
    raised = np.zeros(draft.shafts + 1, dtype=np.bool_)
    raised[[shaft - 1 for shaft in shafts_of(shed)]] = True
    return raised[[draft.shafts if shaft is None else shaft for shaft in draft.threading[:ends]]]
