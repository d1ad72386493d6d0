"""The threads that hang, to be touched where one hangs otherwise: in their heddles, or in the dents of the reed."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from companion.draft.facing import Facing
from companion.draft.model import Draft
from companion.draft.sley import Sley, ends_before
from companion.present.asking import Answer, Asked, Result
from companion.present.dressing_words import steps_words
from companion.present.fell import Picture
from companion.present.threads_picture import CELL, ThreadInks, threads_picture
from companion.present.touched_thread import LAST, Touchable, ask_touched
from companion.present.which_end import Then
from companion.weaving.dressing_events import DressingTask
from companion.weaving.dressing_view import DressingStep

_ROWS_OF_REED, _BAR = 6, 6
_TALLEST = 2
"""So many times as high as wide a heddle is drawn at most."""
_FINEST = 2
"""Pixels to an end: where it has fewer, ends that share a pixel are drawn over one another."""

WHERE = "Touch where the threads hang differently"
WHICH_END = "Touch the end that hangs differently"
WHICH_DENT = "Touch the dent that is sleyed differently"


def ask_hanging(
    draft: Draft,
    hanging: range,
    facing: Facing,
    inks: ThreadInks,
    then: Then[Result],
    instead: tuple[Answer[Result], ...] = (),
) -> Asked[Result]:
    """Ask which of the ends that hang (indices, at least one) hangs otherwise than it is drawn."""

    def draw(lying: range, width: float, height: float) -> Picture | None:
        return heddles_picture(draft, lying, inks, width, height)

    def read(lying: range) -> tuple[str, ...]:
        return (f"on shafts {steps_words(_ends(draft, lying), DressingTask.THREADING, draft)}",)

    threads = Touchable(hanging[facing.from_left], draw, WHERE, WHICH_END, then, "ends", read, instead)
    return ask_touched(threads)


def ask_sleyed(
    draft: Draft, sley: Sley, sleyed: range, facing: Facing, inks: ThreadInks, then: Then[Result]
) -> Asked[Result]:
    """Ask which of the dents that are sleyed (indices of the plan, at least one) is sleyed otherwise than drawn."""

    def draw(lying: range, width: float, height: float) -> Picture | None:
        return reed_picture(draft, sley, lying, facing, inks, width, height)

    def read(lying: range) -> tuple[str, ...]:
        return (f"ends in them: {' '.join(str(sley.dents[dent]) for dent in lying)}",)

    return ask_touched(Touchable(sleyed[facing.from_left], draw, WHERE, WHICH_DENT, then, "dents", read))


def heddles_picture(draft: Draft, lying: range, inks: ThreadInks, width: float, height: float) -> Picture | None:
    """Draw these ends (indices, from left to right) in their heddles: few filling the room, many as a drawing-in."""
    if len(lying) <= LAST:
        few = threads_picture(_ends(draft, lying), range(0), DressingTask.THREADING, draft, inks)
        return _filling(few, width, height)
    ends, across = len(lying), max(int(width), 1)
    if across // ends >= _FINEST:
        across = across // ends * ends
    high = max(int(across * height / max(width, 1.0)), draft.shafts)
    # The place of the end in each column, and how far the column lies within it.
    columns = np.arange(across)
    places = columns * ends // across
    within = columns - -(-places * across // ends)
    # Thread and eye lie in the middle of the place, the eye with a little air to the next one.
    place = across // ends
    thread = max(place // 3, 1)
    left, beside = max(place - thread, 0) // 2, max((place - 1 - thread) // 2, min(place - 2, 1), 0)
    threads = (left <= within) & (within < left + thread)
    shafts = np.array([-1 if draft.threading[end] is None else draft.threading[end] for end in lying])
    palette = np.array([yarn.colour for yarn in draft.yarns], dtype=np.uint8).reshape(-1, 3)
    # Every row is one of these: the threads alone, or those with the eyes on one shaft.
    rows = np.full((1 + draft.shafts, across, 3), inks.ground, dtype=np.uint8)
    rows[:, threads] = palette[[draft.warp[end] for end in lying]][places[threads]]
    which = np.zeros(high, dtype=np.intp)
    for shaft in range(draft.shafts):
        marked = shafts == shaft
        at = marked[places] & (left - beside <= within) & (within < left + thread + beside)
        if not place:
            # Where ends share a column, each of them is marked there.
            at[np.flatnonzero(marked) * across // ends] = True
        rows[1 + shaft, at] = inks.mark
        top, below = ((draft.shafts - 1 - shaft + step) * high // draft.shafts for step in (0, 1))
        quarter = (below - top) // 4
        which[top + quarter : below - quarter] = 1 + shaft
    return _picture(rows[which])


def reed_picture(
    draft: Draft, sley: Sley, lying: range, facing: Facing, inks: ThreadInks, width: float, height: float
) -> Picture | None:
    """Draw these dents (indices, from left to right), all as wide: few with their ends between the bars of the reed.

    Of many the ends in each stand as a bar from below, by their number; an empty dent is a gap.
    """
    held = np.array([sley.dents[dent] for dent in lying], dtype=np.intp)
    if len(lying) > LAST:
        columns = np.arange(max(int(width), 1)) * len(lying) // max(int(width), 1)
        high, most = max(int(height), 1), max(int(held.max()), 1)
        # A row so many ends up shows where dents hold as many.
        rows = np.full((most + 1, len(columns), 3), inks.ground, dtype=np.uint8)
        for ends in range(1, most + 1):
            rows[ends, held[columns] >= ends] = inks.mark
        return _picture(rows[-(-np.arange(high, 0, -1) * most // high)])
    before, most = ends_before(sley), max(int(held.max()), 1)
    pixels = np.full((_ROWS_OF_REED * CELL, len(lying) * (most + 1) * CELL, 3), inks.ground, dtype=np.uint8)
    for place, dent in enumerate(lying):
        left = place * (most + 1) * CELL
        for side in (left, left + (most + 1) * CELL - _BAR):
            pixels[:, side : side + _BAR] = inks.shaft
        # The ends stand in the middle of the dent.
        at = left + (most + 1 - sley.dents[dent]) * CELL // 2
        for end in range(before[dent], before[dent + 1])[facing.from_left]:
            pixels[:, at + CELL // 3 : at + 2 * CELL // 3] = draft.yarns[draft.warp[end]].colour
            at += CELL
    pixels[:_BAR] = pixels[-_BAR:] = inks.shaft
    return _filling(_picture(pixels), width, height)


def _filling(picture: Picture | None, width: float, height: float) -> Picture | None:
    """Return the picture as wide as the room, and higher until it fills it, but no thread drawn out too far."""
    if picture is None:
        return None
    high, across, _ = picture.pixels.shape
    columns = max(int(width), across)
    rows = max(min(int(columns * height / max(width, 1.0)), _TALLEST * high * columns // across), high)
    # Widened while it is low, then made higher by whole rows: a tenth of the work.
    wide = np.take(picture.pixels, np.arange(columns) * across // columns, axis=1)
    return _picture(wide[np.arange(rows) * high // rows])


def _ends(draft: Draft, ends: Sequence[int]) -> list[DressingStep]:
    return [DressingStep((end,), (draft.threading[end],), (draft.warp[end],)) for end in ends]


def _picture(pixels: NDArray[np.uint8]) -> Picture:
    pixels.flags.writeable = False
    return Picture(pixels)
