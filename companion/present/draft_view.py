"""The quarters of a draft as pictures: marks for threads, ties and treadles, and the cloth in its yarns' colours."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from companion.draft.cloth import Surface, crossings
from companion.draft.masks import Shed, is_raised
from companion.draft.model import Colour, Draft, Lifted
from companion.draft.selvedge import floating_ends
from companion.present.draft_sheet import Grid, Quarter
from companion.present.fell import Picture

TENS = 10
"""A stronger line stands after every ten threads, to count by."""
_SMALLEST_WITH_LINES = 5
_INSET = 5
"""A mark leaves a fifth of its square free on each side."""
_EDGE_SHADE = 0.62
"""How light a thread is at its edges: a thread is round."""


@dataclass(frozen=True, slots=True)
class Inks:
    """The colours that a draft is drawn in, besides its yarns': `tens` for the line after every ten threads.

    A long float is marked by a stroke of `float_mark` with an edge of `float_edge`, so that it shows on every yarn.
    """

    ground: Colour
    mark: Colour
    line: Colour
    tens: Colour
    float_mark: Colour
    float_edge: Colour


@dataclass(frozen=True, slots=True, eq=False)
class DraftView:
    """A draft and how it is looked at; floats longer than `floats_over` are marked, if any. Compared by identity."""

    draft: Draft
    sheds: tuple[Shed, ...]
    surface: Surface = Surface.FACE
    floats_over: int | None = None


def view_of(draft: Draft, surface: Surface = Surface.FACE, floats_over: int | None = None) -> DraftView:
    """Return a draft to be drawn; its sheds are worked out once, not at each scrolling."""
    return DraftView(draft, draft.sheds(), surface, floats_over)


def quarter_picture(view: DraftView, quarter: Quarter, grid: Grid, cell: int, inks: Inks) -> Picture:
    """Draw the squares of one quarter that are shown, each of `cell` x `cell` pixels."""
    if quarter is Quarter.CLOTH:
        image = _cloth(view, grid, cell, inks)
    elif quarter is Quarter.WARP_COLOURS:
        image = (
            _yarns(view.draft, _laid(view.draft.warp[_columns(grid)], not grid.leftwards), cell).swapaxes(0, 1).copy()
        )
    elif quarter is Quarter.WEFT_COLOURS:
        image = _yarns(view.draft, _laid(view.draft.weft[_rows(grid)], grid.downwards), cell)
    else:
        image = _tiled(_mark_tiles(cell, inks), _marks(view.draft, quarter, grid).astype(np.intp), grid)
    if cell >= _SMALLEST_WITH_LINES:
        _rule(image, quarter, grid, cell, inks)
    image.flags.writeable = False
    return Picture(image)


def marked_floats(up: NDArray[np.bool_], longer_than: int) -> NDArray[np.bool_]:
    """Return which crossings along the first axis belong to runs of True longer than `longer_than`.

    `up` is picks x ends, bool, and so is what is returned.
    """
    length = longer_than + 1
    if len(up) < length:
        return np.zeros_like(up)
    sums = np.cumsum(np.pad(up, ((1, 0), (0, 0))), axis=0)
    whole: NDArray[np.bool_] = sums[length:] - sums[:-length] == length
    begins = np.cumsum(np.pad(whole, ((length, length - 1), (0, 0))), axis=0)
    marked: NDArray[np.bool_] = begins[length:] > begins[:-length]
    return marked


def _columns(grid: Grid) -> slice:
    return slice(grid.first_column, grid.first_column + grid.columns)


def _rows(grid: Grid) -> slice:
    return slice(grid.first_row, grid.first_row + grid.rows)


def _marks(draft: Draft, quarter: Quarter, grid: Grid) -> NDArray[np.bool_]:
    """Return rows x columns in the order of the draft, True where there is a mark."""
    columns, rows = _columns(grid), _rows(grid)
    if quarter is Quarter.THREADING:
        shafts = range(rows.start, rows.stop)
        return np.array([[shaft == row for shaft in draft.threading[columns]] for row in shafts], dtype=np.bool_)
    # A set of treadles is asked as a set of shafts is.
    moved: tuple[int, ...]
    if isinstance(draft.lifting, Lifted):
        moved = draft.lifting.plan[rows]
    elif quarter is Quarter.TREADLING:
        moved = draft.lifting.treadling[rows]
    else:
        return _sets(draft.lifting.tieup[columns], rows).T
    return _sets(moved, columns)


def _sets(sets: tuple[int, ...], members: slice) -> NDArray[np.bool_]:
    """Return sets x members, True where the set holds the member."""
    wanted = range(members.start, members.stop)
    return np.array([[is_raised(Shed(one), member) for member in wanted] for one in sets], dtype=np.bool_)


def _laid(threads: tuple[int, ...], in_order: bool) -> tuple[int, ...]:
    """Return threads as they lie from the left, or from the top."""
    return threads if in_order else threads[::-1]


def _tiled(tiles: NDArray[np.uint8], kinds: NDArray[np.intp], grid: Grid) -> NDArray[np.uint8]:
    """Put tiles (kinds x cell x cell x 3) side by side; `kinds` (rows x columns) are in the order of the draft."""
    as_it_lies = kinds[:: 1 if grid.downwards else -1, :: -1 if grid.leftwards else 1]
    rows, columns, cell = *kinds.shape, tiles.shape[1]
    image: NDArray[np.uint8] = tiles[as_it_lies].swapaxes(1, 2).reshape(rows * cell, columns * cell, 3)
    return image


@lru_cache(maxsize=32)
def _mark_tiles(cell: int, inks: Inks) -> NDArray[np.uint8]:
    """Return an empty and a marked square: 2 x cell x cell x 3."""
    tiles = np.empty((2, cell, cell, 3), dtype=np.uint8)
    tiles[:] = inks.ground
    inset = cell // _INSET
    tiles[1, inset : cell - inset, inset : cell - inset] = inks.mark
    return tiles


def _yarns(draft: Draft, threads: tuple[int, ...], cell: int) -> NDArray[np.uint8]:
    """Return the colours of threads lying across, one below the other: (threads * cell) x cell x 3."""
    colours = np.array([draft.yarns[yarn].colour for yarn in threads], dtype=np.float64)
    shaded = colours[:, None, :] * _shades(cell)[None, :, None]
    return np.repeat(shaded.reshape(-1, 1, 3), cell, axis=1).astype(np.uint8)


@lru_cache(maxsize=32)
def _shades(cell: int) -> NDArray[np.float64]:
    """Return how light a thread is from edge to edge, 0..1."""
    off_middle = np.abs((np.arange(cell) + 0.5) * 2 / cell - 1)
    return 1 - (1 - _EDGE_SHADE) * off_middle**2


def _cloth(view: DraftView, grid: Grid, cell: int, inks: Inks) -> NDArray[np.uint8]:
    draft = view.draft
    on_top, float_of_warp, float_of_weft = _crossings(view, grid)
    # One number for each kind of square there is in the window; every kind is drawn once.
    yarns, yarn = np.unique((*draft.warp[_columns(grid)], *draft.weft[_rows(grid)]), return_inverse=True)
    yarn_on_top = np.where(on_top, yarn[None, : grid.columns], yarn[grid.columns :, None])
    marked = np.where(on_top, float_of_warp, float_of_weft)
    kinds = (yarn_on_top * 2 + on_top) * 2 + marked
    tiles = np.empty((len(yarns), 2, 2, cell, cell, 3), dtype=np.uint8)
    shades = _shades(cell)[:, None]
    for index, known in enumerate(yarns.tolist()):
        shaded = shades * np.array(draft.yarns[known].colour, dtype=np.float64)
        tiles[index, 0] = shaded[:, None]
        tiles[index, 1] = shaded[None, :]
    tiles[:, 0, 1] = _with_stroke(tiles[:, 0, 1], cell, inks)
    tiles[:, 1, 1] = _with_stroke(tiles[:, 1, 1].swapaxes(1, 2), cell, inks).swapaxes(1, 2)
    return _tiled(tiles.reshape(-1, cell, cell, 3), kinds, grid)


def _with_stroke(tiles: NDArray[np.uint8], cell: int, inks: Inks) -> NDArray[np.uint8]:
    """Return squares (n x cell x cell x 3) with a stroke across their middle."""
    stroked = tiles.copy()
    half = max(cell // 8, 1)
    middle = cell // 2
    stroked[:, max(middle - 2 * half, 0) : middle + 2 * half] = inks.float_edge
    stroked[:, max(middle - half, 0) : middle + half] = inks.float_mark
    return stroked


def _crossings(view: DraftView, grid: Grid) -> tuple[NDArray[np.bool_], NDArray[np.bool_], NDArray[np.bool_]]:
    """Return where warp is on top in the window, and where warp or weft there belongs to a float that is marked.

    Whether a float is too long can be told from as many threads around the window as it may be long.
    """
    around = view.floats_over or 0
    first_row, first_column = max(grid.first_row - around, 0), max(grid.first_column - around, 0)
    sheds = view.sheds[first_row : grid.first_row + grid.rows + around]
    threading = view.draft.threading[first_column : grid.first_column + grid.columns + around]
    on_top = crossings(threading, sheds).matrix() == (view.surface is Surface.FACE)
    top, left = grid.first_row - first_row, grid.first_column - first_column
    inner = (slice(top, top + grid.rows), slice(left, left + grid.columns))
    if view.floats_over is None:
        none = np.zeros((grid.rows, grid.columns), dtype=np.bool_)
        return on_top[inner], none, none
    # A floating selvedge is passed over and under by hand, whatever its shaft would say.
    held = np.ones(on_top.shape[1], dtype=np.bool_)
    held[[end - first_column for end in floating_ends(view.draft) if 0 <= end - first_column < len(held)]] = False
    warp = marked_floats(on_top & held, view.floats_over)
    weft = marked_floats((~on_top & held).T, view.floats_over).T
    return on_top[inner], warp[inner], weft[inner]


def _rule(image: NDArray[np.uint8], quarter: Quarter, grid: Grid, cell: int, inks: Inks) -> None:
    """Draw lines between squares that hold marks, and a stronger one after every ten ends and every ten picks."""
    if quarter in (Quarter.THREADING, Quarter.TIE_UP, Quarter.TREADLING):
        image[::cell] = image[:, ::cell] = inks.line
        image[-1] = image[:, -1] = inks.line
    if quarter in (Quarter.THREADING, Quarter.CLOTH):
        for ends in _ten_ends(grid.first_column, grid.columns):
            image[:, image.shape[1] - ends * cell if grid.leftwards else ends * cell] = inks.tens
    if quarter in (Quarter.TREADLING, Quarter.CLOTH):
        for picks in _ten_ends(grid.first_row, grid.rows):
            image[picks * cell if grid.downwards else image.shape[0] - picks * cell] = inks.tens


def _ten_ends(first: int, number: int) -> range:
    """Return how many threads of the window lie before each of its ten-lines: `_ten_ends(7, 20)` is 3, 13."""
    return range(TENS - first % TENS, number, TENS)
