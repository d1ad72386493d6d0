"""The cloth as it lies at the fell, as a picture: newest pick on top, because the weaver sits below it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import accumulate, pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from companion.draft.beaten import beaten_rows
from companion.draft.cloth import Surface
from companion.draft.facing import Facing, Side
from companion.draft.masks import Shed, shafts_of
from companion.draft.model import Draft, Layout
from companion.draft.rooms import rooms_of_ends
from companion.draft.selvedge import goes_under
from companion.draft.sley import Sley
from companion.weaving.dressing import plan_of_piece
from companion.weaving.pick_view import PickView, rows_at_fell
from companion.weaving.progress import Progress
from companion.weaving.state import picks_per_cm
from companion.weaving.warp import Piece, Warp

TEXELS = 6
"""Texels along one side of a crossing: enough for a shaded edge on either side of the thread."""
MOST_ROWS_DRAWN = 200
"""No screen shows more rows of the cloth than this."""
HIGHEST_ROW = 4
"""A row that stands alone is drawn at most so many times as high as an end is wide."""
_BARE_SHADE = 0.45
_BARE_GAP = (24, 24, 24)
"""What is seen between ends where no weft lies yet."""
_THINNEST = 2
"""Texels of an end, however many lie in its dent."""
_SHADES = (160, 220, 256, 256, 220, 160)
"""Across a thread from edge to edge, in 256ths of its colour: a thread is round."""
_ACROSS_WARP = np.array(_SHADES, dtype=np.uint16)
_FLATTEST, _STEEPEST = 0.5, 2.0
"""A pick is drawn at least and at most so many ends high, whatever the sett."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Picture:
    """An image: `pixels` are height x width x 3, uint8, top row first, read-only. Compared by identity."""

    pixels: NDArray[np.uint8]


def crossings_picture(up: NDArray[np.bool_], colours: NDArray[np.uint8], heights: tuple[int, ...] = ()) -> Picture:
    """Draw crossings so that the upper thread of each shows which way it runs, even in one colour.

    `up` (rows x ends, bool, True = warp up) and `colours` (rows x ends x 3, uint8, the upper thread's) give an image
    of ends * TEXELS wide; each row is as many texels high as `heights` says, TEXELS where it says nothing.
    """
    rows, ends = up.shape
    row, across_weft = _lines(heights or (TEXELS,) * rows)
    shade = np.where(up[row][:, :, None], _ACROSS_WARP, across_weft[:, None, None])
    pixels = (shade[..., None] * colours[row][:, :, None, :] // 256).astype(np.uint8).reshape(-1, ends * TEXELS, 3)
    pixels.flags.writeable = False
    return Picture(pixels)


@lru_cache(maxsize=64)
def _lines(heights: tuple[int, ...]) -> tuple[NDArray[np.intp], NDArray[np.uint16]]:
    """Return of each line of texels, top line first, in which row it lies, and its shade across the weft."""
    shades = [_across(height) for height in heights]
    return np.repeat(np.arange(len(heights)), heights), np.concatenate(shades)


@cache
def _across(height: int) -> NDArray[np.uint16]:
    """Return the shades across a thread so many texels wide."""
    at = (np.arange(height) + 0.5) * len(_SHADES) / height - 0.5
    return np.rint(np.interp(at, range(len(_SHADES)), _SHADES)).astype(np.uint16)


def fell_picture(
    warp: Warp,
    progress: Progress,
    view: PickView | None,
    rows: int,
    ends: int,
    facing: Facing,
    surface: Surface = Surface.FACE,
) -> Picture:
    """Draw the next pick, `view`, and, below it, the newest picks in the cloth, `rows` picks high, `ends` ends wide.

    The cloth is drawn as it is beaten: as far apart as its threads are, and without the picks that others cover. Rows
    that are not woven yet show the bare warp. FACE is what lies up on the loom, also where the piece is woven face
    down; what lies below is read through the cloth: end 1 stays where it is, at its side of `facing`.
    """
    piece = warp.pieces[progress.now.piece]
    woven = rows_at_fell(warp, progress, rows - 1)
    came_from = [row.came_from for row in woven]
    coming = _Row(None, 1) if view is None else _Row(view.pick, 1, view.comes_from if view.side_known else None)
    shown = [coming, *_beaten(piece, [row.pick for row in woven], surface, came_from)]
    lying = _lying_ends(warp, progress, ends)
    return _picture(piece, shown, rows, lying, facing, surface, _texels_each(warp, progress))


def pick_height(warp: Warp, progress: Progress) -> float:
    """Return how high a pick is in widths of an end, as far as the setts tell; 1 where they do not."""
    piece = warp.pieces[progress.now.piece]
    picks = picks_per_cm(piece, progress.now)
    sley, layout = plan_of_piece(warp, progress.now.dressing, progress.now.piece)
    width = sum(layout.spacing_cm) or sley.width_cm or warp.width_cm
    if not picks or not width or not piece.draft.ends:
        return 1.0
    return min(max(piece.draft.ends / width / picks, _FLATTEST), _STEEPEST)


def ends_drawn(warp: Warp, progress: Progress, ends: int) -> int:
    """Return how many ends are drawn where so many of the usual width find room: fewer where they are spaced."""
    return _lying_ends(warp, progress, ends).ends


def rows_picture(
    warp: Warp,
    progress: Progress,
    picks: Sequence[int],
    rows: int,
    ends: int,
    facing: Facing,
    first_end: int = 0,
    came_from: Sequence[Side | None] = (),
) -> Picture:
    """Draw cloth of these picks (indices, newest first), as beaten: `rows` picks high, `ends` ends from `first_end`.

    Ends that are not the first lie evenly, whatever the dents. `came_from` has the side from which each pick's shuttle
    was thrown, None where nobody knows; it is empty where none is known.
    """
    piece = warp.pieces[progress.now.piece]
    shown = _beaten(piece, picks[:rows], Surface.FACE, came_from)
    lying = _even_ends(piece, ends, first_end) if first_end else _lying_ends(warp, progress, ends)
    return _picture(piece, shown, rows, lying, facing, Surface.FACE, _texels_each(warp, progress))


def row_picture(piece: Piece, pick: int, ends: int, high: int, facing: Facing, first_end: int = 0) -> Picture:
    """Draw one pick (index) alone over ends that lie evenly, `high` times as high as an end is wide."""
    lying = _even_ends(piece, ends, first_end)
    return _picture(piece, [_Row(pick, 1)], 1, lying, facing, Surface.FACE, TEXELS * high)


def first_shown(marked: int | None, rows: int) -> int:
    """Return the first row to draw of so many, so that the row `marked` lies among them; 0 where none is."""
    return 0 if marked is None or marked < rows else marked - rows // 2


def _texels_each(warp: Warp, progress: Progress) -> int:
    return max(round(TEXELS * pick_height(warp, progress)), 2)


class _Row(NamedTuple):
    """A row to draw: its pick (index), None for bare warp; how many picks lie in it; from where its shuttle came."""

    pick: int | None
    picks: int
    came_from: Side | None = None


def _beaten(piece: Piece, picks: Sequence[int], surface: Surface, came_from: Sequence[Side | None] = ()) -> list[_Row]:
    """Return the rows that are seen of these picks, newest first."""
    if not picks:
        return []
    sheds = [piece.sheds[pick] for pick in picks]
    up_in = {shed: ends_up(piece.draft, shed) for shed in set(sheds)}
    up = np.stack([up_in[shed] for shed in sheds]) == (surface is Surface.FACE)
    sides = came_from or (None,) * len(picks)
    return [_Row(picks[row.pick], row.picks, sides[row.pick]) for row in beaten_rows(up)]


@dataclass(frozen=True, slots=True)
class _LyingEnds:
    """So many `ends` from `first` on, as they lie side by side. `texels` is empty where each is TEXELS wide.

    Otherwise it has the end (index) at each texel across, and -1 beside it where no end lies; `shades` (uint16) how
    light an end is there, in 256ths.
    """

    ends: int
    texels: tuple[int, ...] = ()
    shades: tuple[int, ...] = ()
    first: int = 0

    @property
    def drawn(self) -> slice:
        """Which ends of the draft these are."""
        return slice(self.first, self.first + self.ends)


def _even_ends(piece: Piece, ends: int, first: int) -> _LyingEnds:
    return _LyingEnds(min(ends, piece.draft.ends - first), first=first)


def _lying_ends(warp: Warp, progress: Progress, ends: int) -> _LyingEnds:
    sley, layout = plan_of_piece(warp, progress.now.dressing, progress.now.piece)
    drafted = warp.pieces[progress.now.piece].draft.ends
    if not layout.spacing_cm and not sley.dents:
        return _LyingEnds(min(ends, drafted))
    return _spaced_ends(sley, layout, drafted, ends)


@lru_cache(maxsize=16)
def _spaced_ends(sley: Sley, layout: Layout, drafted: int, ends: int) -> _LyingEnds:
    """Lay as many ends side by side as find the room of `ends` usual ones: crammed, spaced, with gaps."""
    rooms = rooms_of_ends(sley, layout, drafted)
    if rooms.even:
        return _LyingEnds(min(ends, drafted))
    scale = TEXELS * drafted / (sum(rooms.room_cm) or 1.0)
    texels: list[int] = []
    shades: list[int] = []
    lies, began = 0, 0.0
    places = zip(accumulate(rooms.room_cm), rooms.held_cm, rooms.thick_cm, strict=True)
    for end, (edge, held, thick) in enumerate(places):
        wide = min(thick, held)
        left = max(round((began + (held - wide) / 2) * scale), len(texels))
        right = max(round((began + (held + wide) / 2) * scale), left + _THINNEST)
        after = max(round(edge * scale), right)
        if end and after > ends * TEXELS:
            break
        before, behind = left - len(texels), after - right
        texels += [-1] * before + [end] * (right - left) + [-1] * behind
        shades += [0] * before + _across(right - left).tolist() + [0] * behind
        lies, began = end + 1, edge
    return _LyingEnds(lies, tuple(texels), tuple(shades))


def _picture(
    piece: Piece,
    shown: Sequence[_Row],
    rows: int,
    lying: _LyingEnds,
    facing: Facing,
    surface: Surface,
    texels: int,
) -> Picture:
    """Draw rows of picks, each so many picks high, a pick `texels` high, and the bare warp below them."""
    draft, ends = piece.draft, lying.ends
    yarn_colours = np.array([yarn.colour for yarn in draft.yarns], dtype=np.float64).reshape(-1, 3)
    warp_colours = yarn_colours[np.array(draft.warp[lying.drawn], dtype=np.intp)]
    left, lines = rows, []
    for pick, picks, came_from in (*shown, _Row(None, rows)):
        if left:
            high = min(picks, left)
            left -= high
            seen = None if pick is None else (piece.sheds[pick], draft.weft[pick], came_from)
            lines.append((seen, high * texels))
    # A cloth repeats itself: each of its lines is drawn once and laid wherever it lies.
    drawn = dict.fromkeys(lines)
    up, colours, gaps = [], [], []
    for seen, _ in drawn:
        if seen is None:
            up.append(np.ones(ends, np.bool_))
            gaps.append(np.array(_BARE_GAP))
            colours.append(warp_colours * _BARE_SHADE)
        else:
            shed, weft, came_from = seen
            passed_under = () if came_from is None else goes_under(draft, came_from, facing)
            up.append(_lies_up(draft, shed, passed_under, lying.drawn, surface))
            gaps.append(yarn_colours[weft])
            colours.append(np.where(up[-1][:, None], warp_colours, gaps[-1]))
    laid, heights = facing.from_left, tuple(high for _, high in drawn)
    if lying.texels:
        picture = _spaced_picture(np.stack(up), np.stack(colours), np.stack(gaps), heights, lying, facing)
    else:
        picture = crossings_picture(np.stack(up)[:, laid], np.stack(colours).astype(np.uint8)[:, laid], heights)
    edges = pairwise(accumulate(heights, initial=0))
    lies = {line: picture.pixels[first:end] for line, (first, end) in zip(drawn, edges, strict=True)}
    pixels = np.concatenate([lies[line] for line in lines])
    pixels.flags.writeable = False
    return Picture(pixels)


def _spaced_picture(
    up: NDArray[np.bool_],
    colours: NDArray[np.float64],
    gaps: NDArray[np.float64],
    heights: tuple[int, ...],
    lying: _LyingEnds,
    facing: Facing,
) -> Picture:
    """Draw crossings as `crossings_picture` does, each end where it lies; between the ends the `gaps` are seen."""
    end, across = np.array(lying.texels)[facing.from_left], np.array(lying.shades)[facing.from_left]
    over = up[:, end] & (end >= 0)
    under = np.where((end >= 0)[None, :, None], colours[:, end], gaps[:, None, :])
    row, across_weft = _lines(heights)
    shade = np.where(over[row], across, across_weft[:, None])
    pixels = (shade[..., None] * under[row] / 256).astype(np.uint8)
    pixels.flags.writeable = False
    return Picture(pixels)


def fell_window(width: float, height: float, cell: float, each_pick: float = 1.0) -> tuple[int, int]:
    """Return how many picks and ends a box shows: an end `cell` wide, a pick `each_pick` times as high; 4 or more."""
    return max(int(height // (cell * each_pick)), 4), max(int(width // cell), 4)


def _lies_up(
    draft: Draft, shed: Shed, passed_under: tuple[int, ...], drawn: slice, surface: Surface
) -> NDArray[np.bool_]:
    up = ends_up(draft, shed)
    up[list(passed_under)] = True
    lies: NDArray[np.bool_] = up[drawn] == (surface is Surface.FACE)
    return lies


def ends_up(draft: Draft, shed: Shed) -> NDArray[np.bool_]:
    """Return whether each end (ends, bool) is up in a shed."""
    raised = np.zeros(draft.shafts + 1, dtype=np.bool_)
    raised[[shaft - 1 for shaft in shafts_of(shed)]] = True
    return raised[_shaft_of_ends(draft.threading, draft.shafts)]


@lru_cache(maxsize=16)
def _shaft_of_ends(threading: tuple[int | None, ...], shafts: int) -> NDArray[np.intp]:
    """Return the shaft (index) of each end; the place after the last one stands for none, which no shed raises."""
    return np.array([shafts if shaft is None else shaft for shaft in threading], dtype=np.intp)
