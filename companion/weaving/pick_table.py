"""A piece's picks as numpy columns, made once, for questions that look at all of them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from companion.draft.masks import Shed, bits_of, is_raised
from companion.draft.model import Treadled
from companion.weaving.warp import Piece


@dataclass(frozen=True, eq=False, slots=True)
class PickTable:
    """Columns over the picks of a piece, read-only.

    `weft` (picks, int64) is the yarn of each pick; `look` (picks, int64) is equal where two picks lie alike: same
    weft colour, same shed. `shed_code` (picks, int64) is a row of `raised` (distinct sheds x ends on the warp,
    bool, True = warp up); `treadle_code` (picks, int64) a row of `pressed` (distinct footings x treadles, bool).
    `since_change` (picks, int64) counts the newest picks of one weft, this one included. `loops` are the first and last
    picks of sections woven to a length: below their first pick may lie their last one.
    """

    weft: NDArray[np.int64]
    look: NDArray[np.int64]
    shed_code: NDArray[np.int64]
    raised: NDArray[np.bool_]
    treadle_code: NDArray[np.int64]
    pressed: NDArray[np.bool_]
    since_change: NDArray[np.int64]
    loops: tuple[tuple[int, int], ...]

    @property
    def picks(self) -> int:
        """How many picks there are."""
        return len(self.weft)


def pick_table(piece: Piece) -> PickTable:
    """Return the columns of this piece, as it lies on the loom (face up or face down)."""
    draft = piece.draft
    weft = np.array(draft.weft, dtype=np.int64)
    colours = {colour: code for code, colour in enumerate(dict.fromkeys(yarn.colour for yarn in draft.yarns))}
    colour_of = np.array([colours[yarn.colour] for yarn in draft.yarns], dtype=np.int64)
    sheds, shed_code = _coded(piece.sheds)
    raised = np.array(
        [[shaft is not None and is_raised(Shed(shed), shaft) for shaft in draft.threading] for shed in sheds],
        dtype=np.bool_,
    ).reshape(len(sheds), draft.ends)
    treadles, treadle_code = _coded(_treadles_of_picks(piece))
    most = max((mask.bit_length() for mask in treadles), default=0)
    pressed = np.zeros((len(treadles), most), dtype=np.bool_)
    for row, mask in enumerate(treadles):
        pressed[row, list(bits_of(mask))] = True
    look = colour_of[weft] * max(len(sheds), 1) + shed_code if len(weft) else weft
    columns = (weft, look, shed_code, raised, treadle_code, pressed, _since_change(weft))
    for column in columns:
        column.flags.writeable = False
    loops = tuple(
        (piece.section_picks(index).start, piece.section_picks(index).stop - 1)
        for index, section in enumerate(piece.sections)
        if section.until_cm is not None
    )
    return PickTable(*columns, loops)


def _treadles_of_picks(piece: Piece) -> tuple[int, ...]:
    if piece.footings:
        known = {footing: footing.pressed for footing in set(piece.footings)}
        return tuple(known[footing] for footing in piece.footings)
    lifting = piece.draft.lifting
    return lifting.treadling if isinstance(lifting, Treadled) else (0,) * piece.picks


def _coded(masks: tuple[int, ...]) -> tuple[list[int], NDArray[np.int64]]:
    """Return the distinct masks in order of first use, and for each mask its place among them."""
    places = {mask: place for place, mask in enumerate(dict.fromkeys(masks))}
    return list(places), np.array([places[mask] for mask in masks], dtype=np.int64)


def _since_change(weft: NDArray[np.int64]) -> NDArray[np.int64]:
    index = np.arange(len(weft))
    begins = np.ones(len(weft), dtype=np.bool_)
    begins[1:] = weft[1:] != weft[:-1]
    return index - np.maximum.accumulate(np.where(begins, index, 0)) + 1
