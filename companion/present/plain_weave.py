"""Plain weave as it must look in the test weave, to be touched where two ends stand together.

Each touch shows fewer ends, larger, until an end is as wide as a finger; then the touched one is the answer.
"""

from __future__ import annotations

from functools import partial
from math import ceil

import numpy as np
from numpy.typing import NDArray

from companion.draft.facing import Facing
from companion.draft.masks import Shed, is_raised
from companion.draft.model import Draft
from companion.present.asking import Answer, Asked, FlowStep, PointedAt, Result
from companion.present.fell import TEXELS, Picture, crossings_picture
from companion.present.threads_picture import CELL, ThreadInks, threads_picture
from companion.present.which_end import Then
from companion.weaving.dressing_events import DressingTask
from companion.weaving.dressing_view import DressingStep

LAST = 12
"""So many ends are each as wide as a finger, in the smallest window too."""
_NARROWER = 6
"""A touch shows one of so many parts of what was shown, with the touched end in the middle."""
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
    return _ask_among(draft, shed, facing, inks, then, range(draft.ends))


def ends_round(end: int, many: int, ends: int) -> range:
    """Return so many neighbours of an end (index), it in their middle where the warp (`ends` ends) does not stop."""
    first = min(max(end - many // 2, 0), max(ends - many, 0))
    return range(first, min(first + many, ends))


def _ask_among(
    draft: Draft, shed: Shed, facing: Facing, inks: ThreadInks, then: Then[Result], among: range
) -> Asked[Result]:
    lying = among[facing.from_left]

    def ask(end: int, many: int) -> Asked[Result]:
        return _ask_among(draft, shed, facing, inks, then, ends_round(end, many, draft.ends))

    def pointed(share: float) -> FlowStep[Result]:
        end = lying[min(int(share * len(lying)), len(lying) - 1)]
        return then(end) if len(lying) <= LAST else ask(end, max(LAST, -(-len(lying) // _NARROWER)))

    aside = (
        Answer("Further left", partial(ask, lying[0], len(lying))),
        Answer("Further right", partial(ask, lying[-1], len(lying))),
    )
    return Asked(
        WHICH if len(lying) <= LAST else WHERE,
        (),
        detail=f"ends {lying[0] + 1} to {lying[-1] + 1}, from left to right",
        foot=() if len(lying) == draft.ends else aside,
        pointed=PointedAt(partial(plain_picture, draft, shed, lying, inks), pointed),
        bit_by_bit=f"{WHERE}, {len(lying)}",
    )


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
