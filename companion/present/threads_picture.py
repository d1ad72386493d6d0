"""Threads as they hang on the loom: each in its heddle, or in its dent, in its colour, from left to right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from companion.draft.model import Draft
from companion.present.fell import Picture
from companion.weaving.dressing_events import DressingTask
from companion.weaving.dressing_view import DressingStep

CELL = 24
"""Pixels from thread to thread, and from shaft to shaft."""
_THREAD, _EYE, _BAR = 8, 18, 4
_ROWS_OF_REED, _REED_ACROSS = 6, 4
"""How high the reed is drawn at least, in cells, and how much broader than high it is at most."""
_BROAD = 6
"""Ends that are wound are drawn so much broader than high."""
_WIDEST = 2_000
"""Pixels across the ends of a stripe that is wound, at most: some displays take no broader picture."""

RgbColour = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class ThreadInks:
    """What is drawn beside the yarns: grounds of threads done and to be done, shafts, eyes of heddles and reed bars."""

    ground: RgbColour
    now: RgbColour
    shaft: RgbColour
    mark: RgbColour


def threads_picture(
    steps: Sequence[DressingStep],
    now: range,
    task: DressingTask,
    draft: Draft,
    inks: ThreadInks,
    most_broad: int | None = None,
) -> Picture | None:
    """Draw steps in the order in which they lie, those to be done `now` on a ground of their own; None without any.

    Threading shows every end on its shaft, shaft 1 nearest to the weaver, at the bottom; sleying the dents between the
    bars of the reed, empty ones too; winding the ends side by side.

    `most_broad`: a threading is drawn at most so much broader than high, its shafts further apart.
    """
    if not steps:
        return None
    if task is DressingTask.SLEYING:
        return _picture(_reed(steps, now, draft, inks))
    if task is DressingTask.WINDING:
        return _picture(_wound(steps, now, draft, inks))
    ends = [(shaft, yarn) for step in steps for shaft, yarn in zip(step.shafts, step.yarns, strict=True)]
    apart = CELL if most_broad is None else max(CELL, len(ends) * CELL // (most_broad * draft.shafts))
    pixels = np.full((draft.shafts * apart, len(ends) * CELL, 3), inks.ground, dtype=np.uint8)
    pixels[:, now.start * CELL : now.stop * CELL] = inks.now
    for row in range(draft.shafts):
        middle = row * apart + apart // 2
        pixels[middle - 1 : middle + 1] = inks.shaft
    for column, (shaft, yarn) in enumerate(ends):
        _thread(pixels, column, draft.yarns[yarn].colour)
        if shaft is not None:
            middle = (draft.shafts - 1 - shaft) * apart + apart // 2
            _eye(pixels, middle, column, draft.yarns[yarn].colour, inks)
    return _picture(pixels)


def _wound(steps: Sequence[DressingStep], now: range, draft: Draft, inks: ThreadInks) -> NDArray[np.uint8]:
    """Lay the ends of a stripe side by side, finer where there are many; of too many some stand for all."""
    yarns = [yarn for step in steps for yarn in step.yarns]
    many = min(len(yarns), _WIDEST)
    shown = [at * len(yarns) // many for at in range(many)]
    cell = min(CELL, _WIDEST // many)
    row = np.full((len(shown), cell, 3), inks.ground, dtype=np.uint8)
    for column, end in enumerate(shown):
        if end in now:
            row[column] = inks.now
        row[column, cell // 3 : cell // 3 + max(cell // 3, 1)] = draft.yarns[yarns[end]].colour
    line = row.reshape(-1, 3)
    return np.repeat(line[None], max(line.shape[0] // _BROAD, CELL), axis=0)


def _reed(steps: Sequence[DressingStep], now: range, draft: Draft, inks: ThreadInks) -> NDArray[np.uint8]:
    """Lay the dents side by side, each as wide as its ends or, where it is empty, as one, between bars of the reed."""
    widths = [max(len(step.ends), 1) for step in steps]
    pixels = _ground(max(_ROWS_OF_REED, sum(widths) // _REED_ACROSS), sum(widths), inks)
    column = 0
    for dent, (step, width) in enumerate(zip(steps, widths, strict=True)):
        if dent in now:
            pixels[:, column * CELL : (column + width) * CELL] = inks.now
        for at, yarn in enumerate(step.yarns):
            _thread(pixels, column + at, draft.yarns[yarn].colour)
        pixels[:, column * CELL : column * CELL + _BAR // 2] = inks.shaft
        column += width
        pixels[:, column * CELL - _BAR // 2 : column * CELL] = inks.shaft
    # The two laths that hold the wires.
    pixels[:_BAR] = pixels[-_BAR:] = inks.shaft
    return pixels


def _ground(rows: int, columns: int, inks: ThreadInks) -> NDArray[np.uint8]:
    return np.full((rows * CELL, columns * CELL, 3), inks.ground, dtype=np.uint8)


def _thread(pixels: NDArray[np.uint8], column: int, colour: RgbColour) -> None:
    left = column * CELL + (CELL - _THREAD) // 2
    pixels[:, left : left + _THREAD] = colour


def _eye(pixels: NDArray[np.uint8], middle: int, column: int, colour: RgbColour, inks: ThreadInks) -> None:
    for size, paint in ((_EYE, inks.mark), (_EYE - 2 * _BAR, colour)):
        top, left = middle - size // 2, column * CELL + (CELL - size) // 2
        pixels[top : top + size, left : left + size] = paint


def _picture(pixels: NDArray[np.uint8]) -> Picture:
    pixels.flags.writeable = False
    return Picture(pixels)
