"""Plain weave as it must look in the test weave, to be touched where two ends stand together."""

from __future__ import annotations

from math import ceil

import numpy as np
from numpy.typing import NDArray

from companion.draft.facing import Facing
from companion.draft.masks import Shed, is_raised
from companion.draft.model import Draft
from companion.present.asking import Asked, Result
from companion.present.fell import TEXELS, Picture, crossings_picture
from companion.present.threads_picture import CELL, ThreadInks, threads_picture
from companion.present.touched_thread import LAST, Touchable, ask_touched
from companion.present.which_end import Then
from companion.weaving.dressing_events import DressingTask
from companion.weaving.dressing_view import DressingStep

_LEAST_ROWS = 4
"""Picks of plain weave below the heddles, at least."""
_PICK = 2 * TEXELS
_FINEST = 3
"""Pixels to an end: where it has fewer, only its colour is drawn, since its weave would melt into a grey."""
_MOST_ROWS = 200

WHERE = "Touch where two ends stand together"
WHICH = "Touch the end that stands wrong"


def ask_where(draft: Draft, shed: Shed, facing: Facing, inks: ThreadInks, then: Then[Result]) -> Asked[Result]:
    """Ask where plain weave is wrong, on the whole warp as it lies, and go on with the end (index) that was touched.

    `shed` are the shafts that are up in the shed that was looked at; it lies on top.
    """

    def draw(lying: range, width: float, height: float) -> Picture | None:
        return plain_picture(draft, shed, lying, inks, width, height)

    return ask_touched(Touchable(range(draft.ends)[facing.from_left], draw, WHERE, WHICH, then))


def plain_picture(
    draft: Draft, shed: Shed, lying: range, inks: ThreadInks, width: float, height: float
) -> Picture | None:
    """Draw these ends (indices, from left to right) in plain weave, as high for their width as the room is.

    So few that each is as wide as a finger hang in their heddles too, above the cloth.
    """
    if len(lying) > LAST:
        return _cloth(draft, shed, lying, width, height)
    steps = [DressingStep((end,), (draft.threading[end],), (draft.warp[end],)) for end in lying]
    heddles = threads_picture(steps, range(0), DressingTask.THREADING, draft, inks)
    if heddles is None:
        return None
    # Widened until it fills the room from side to side: fingers are as wide on every loom.
    high, across, _ = heddles.pixels.shape
    wider = max(ceil((high + _LEAST_ROWS * _PICK) * width / (across * max(height, 1.0))), 1)
    rows = max(int(across * wider * height / max(width, 1.0) - high) // _PICK, _LEAST_ROWS)
    cloth = _woven(draft, shed, lying, rows).repeat(CELL // TEXELS, axis=1).repeat(_PICK // TEXELS, axis=0)
    return _picture(np.concatenate((heddles.pixels, cloth)).repeat(wider, axis=1))


def _cloth(draft: Draft, shed: Shed, lying: range, width: float, height: float) -> Picture:
    if width < _FINEST * len(lying):
        columns = np.arange(max(int(width), 1)) * len(lying) // max(int(width), 1)
        colours = _colours(draft, lying)[columns]
        return _picture(np.broadcast_to(colours, (max(int(height), 1), *colours.shape)).copy())
    rows = min(max(round(len(lying) * height / max(width, 1.0)), 2), _MOST_ROWS)
    return _picture(_woven(draft, shed, lying, rows))


def _woven(draft: Draft, shed: Shed, lying: range, rows: int) -> NDArray[np.uint8]:
    shafts = [draft.threading[end] for end in lying]
    up = np.array([shaft is not None and is_raised(shed, shaft) for shaft in shafts])
    alternate = np.stack([up if row % 2 == 0 else ~up for row in range(rows)])
    weft = np.array(draft.yarns[draft.weft[0]].colour if draft.weft else draft.yarns[0].colour, dtype=np.uint8)
    colours = np.where(alternate[:, :, None], _colours(draft, lying)[None], weft)
    return crossings_picture(alternate, colours.astype(np.uint8)).pixels


def _colours(draft: Draft, lying: range) -> NDArray[np.uint8]:
    return np.array([draft.yarns[draft.warp[end]].colour for end in lying], dtype=np.uint8).reshape(-1, 3)


def _picture(pixels: NDArray[np.uint8]) -> Picture:
    pixels.flags.writeable = False
    return Picture(pixels)
