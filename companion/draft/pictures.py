"""Pictures of the cloth: the interlacement as squares, and face and back with every thread as wide as it is.

The ends lie as they lie before the weaver, the picks as in a draft (see `facing`), so that all three run alike. The
back is drawn as it looks when the cloth is turned over sideways: there the ends lie the other way round, and a twill
runs the other way.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import isqrt, sqrt

import numpy as np
from numpy.typing import NDArray

from companion.draft.cloth import Surface, crossings_of
from companion.draft.errors import DraftError
from companion.draft.facing import Facing
from companion.draft.model import Draft
from companion.draft.rooms import ThreadRooms, warp_rooms, weft_rooms

MOST_PIXELS = 25_000_000
"""Above this a picture takes more memory than it is worth: 75 MB, and twice that while it is drawn."""
GAP = (255, 255, 255)
"""Seen through the cloth where no thread lies."""
_WARP_UP, _WARP_DOWN, _GRID = (38, 38, 38), (255, 255, 255), (176, 176, 176)
_LARGEST_CELL = 10
_MOST_PIXELS_PER_CM = 40.0
_SMALLEST_CM = 0.01
_ROUNDNESS = 0.45
"""How much darker a thread is at its edges than along its middle, so that cloth of one colour shows its weave."""


@dataclass(frozen=True, slots=True)
class _ThreadPixels:
    """The pixels across the threads of one direction.

    `thread` (intp) is the thread that each pixel belongs to, `covered` (bool) whether the thread covers it, `light`
    (float32) how light the thread is there.
    """

    thread: NDArray[np.intp]
    covered: NDArray[np.bool_]
    light: NDArray[np.float32]


def drawdown_picture(draft: Draft, facing: Facing, cell: int | None = None) -> NDArray[np.uint8]:
    """Draw the interlacement: a dark square where the warp is up, `cell` pixels (2 or more) from line to line.

    Without `cell` the squares are as large as fits, up to 10 pixels. Returns rows x columns x 3, uint8. Raises
    DraftError when the picture would be too large or there is no cloth.
    """
    _check_cloth(draft)
    if cell is None:
        cell = max(min(_LARGEST_CELL, isqrt(MOST_PIXELS // (draft.picks * draft.ends)) - 1), 2)
    _check_size(draft.picks * cell + 1, draft.ends * cell + 1)
    up = crossings_of(draft).matrix()[facing.from_top, facing.from_left]
    squares = np.where(up[:, :, None], np.array(_WARP_UP, np.uint8), np.array(_WARP_DOWN, np.uint8))
    image = np.full((draft.picks * cell + 1, draft.ends * cell + 1, 3), _GRID, dtype=np.uint8)
    for row in range(1, cell):
        for column in range(1, cell):
            image[row::cell, column::cell] = squares
    return image


def cloth_picture(
    draft: Draft, surface: Surface, facing: Facing, pixels_per_cm: float | None = None
) -> NDArray[np.uint8]:
    """Draw the face or the back in the colours of its yarns, thread-true: rows x columns x 3, uint8.

    A thread takes the room of its spacing and covers as much of it as it is thick; a thickness not stated covers all.
    Where the warp states no spacing that of its sley plan counts: crammed ends, spaced ones and empty dents show. Where
    one direction states none it is taken from the other. Every thread gets at least one pixel, so threads
    finer than a pixel come out wider than they are. Without `pixels_per_cm` the picture is as large as fits, up to 40.
    Raises DraftError as `drawdown_picture` does.
    """
    _check_cloth(draft)
    ends, picks = warp_rooms(draft), weft_rooms(draft)
    if pixels_per_cm is None:
        area = max(sum(ends.room_cm), _SMALLEST_CM) * max(sum(picks.room_cm), _SMALLEST_CM)
        pixels_per_cm = min(_MOST_PIXELS_PER_CM, 0.95 * sqrt(MOST_PIXELS / area))
    columns, rows = _lines(ends, pixels_per_cm), _lines(picks, pixels_per_cm)
    _check_size(len(rows.thread), len(columns.thread))
    palette = np.array([yarn.colour for yarn in draft.yarns], dtype=np.float32)
    warp = palette[np.array(draft.warp, dtype=np.intp)[columns.thread]] * columns.light[:, None]
    weft = palette[np.array(draft.weft, dtype=np.intp)[rows.thread]] * rows.light[:, None]
    woven = crossings_of(draft)
    up_by_shed = woven.raised[:, woven.shaft_of_end[columns.thread]]
    image = np.empty((len(rows.thread), len(columns.thread), 3), dtype=np.uint8)
    for row, (pick, weft_here) in enumerate(zip(rows.thread.tolist(), rows.covered.tolist(), strict=True)):
        warp_on_top = up_by_shed[woven.shed_of_pick[pick]] == (surface is Surface.FACE)
        seen = np.where((columns.covered & (warp_on_top | (not weft_here)))[:, None], warp, weft[row])
        image[row] = seen if weft_here else np.where(columns.covered[:, None], seen, np.array(GAP, np.float32))
    laid = image[facing.from_top, facing.from_left]
    return laid if surface is Surface.FACE else laid[:, ::-1]


def _lines(threads: ThreadRooms, pixels_per_cm: float) -> _ThreadPixels:
    """Lay threads side by side, each in the middle of its share of its room; one of no size still gets one pixel."""
    edges = np.rint(np.cumsum((0.0, *threads.room_cm)) * pixels_per_cm).astype(np.intp)
    room = np.maximum(np.diff(edges), 1)
    starts = np.cumsum(room) - room
    thread = np.repeat(np.arange(len(room)), room)
    filled = threads.held_cm == threads.room_cm
    held = room if filled else np.minimum(room, np.array(threads.held_cm) * pixels_per_cm)
    middle = (starts + held / 2)[thread]
    thick = np.array(threads.thick_cm, dtype=np.float64) * pixels_per_cm
    half = np.clip(thick, 1.0, room)[thread] / 2
    off_middle = np.abs(np.arange(len(thread)) + 0.5 - middle) / half
    return _ThreadPixels(
        thread, off_middle <= 1.0, (1.0 - _ROUNDNESS * np.minimum(off_middle, 1.0) ** 2).astype(np.float32)
    )


def _check_cloth(draft: Draft) -> None:
    if not draft.picks or not draft.ends:
        raise DraftError("there is no cloth to draw", mend="give the draft ends and picks")


def _check_size(rows: int, columns: int) -> None:
    if rows * columns > MOST_PIXELS:
        raise DraftError(f"a picture of {columns:,} x {rows:,} pixels is too large", mend="draw a shorter draft")
