"""A picture of all picks of a piece, or of some that follow one another, to point at: where does the cloth end?

It lies in up to three columns, the first on the left. In each the picks go up, as they do on the loom, and the next
column goes on where the one before it ends at the top.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from companion.draft.beaten import beaten_rows
from companion.draft.facing import Facing
from companion.draft.model import Colour, Draft
from companion.present.asking import Sign
from companion.present.ends_that_tell import end_that_tells
from companion.present.fell import Picture
from companion.weaving.clues import Clues
from companion.weaving.pick_table import PickTable
from companion.weaving.pointing import columns_of
from companion.weaving.warp import Piece

_MARGIN, _NUMBERS = 0.2, 0.07
"""How much of a column stands beside its cloth, and where in it the numbers of repeats stand."""
_SHARP = 4
_WIDEST_END, _WEFT_SHADE, _TICK = 8, 0.72, (128, 128, 128)
"""Pixels that an end is wide at most; how dark a weft is that lies over, so that one yarn over itself is seen too."""

_MOST_KINDS = 256
"""So many kinds of picks are told apart at most: that is quick for thousands of ends."""


@dataclass(frozen=True, slots=True)
class PieceMap:
    """So many `picks` from `first` (index) on."""

    first: int
    picks: int

    @property
    def columns(self) -> int:
        """How many columns there are."""
        return columns_of(self.picks)

    @property
    def in_column(self) -> int:
        """How many picks find room in a column."""
        return -(-self.picks // self.columns)

    def pick_at(self, across: float, down: float) -> int:
        """Return the pick (index) that lies there, in shares of the picture's width and height, 0 at its top left."""
        column = min(int(across * self.columns), self.columns - 1)
        up = min(int((1 - down) * self.in_column), self.in_column - 1)
        return self.first + min(column * self.in_column + max(up, 0), self.picks - 1)

    def place_of(self, pick: int) -> tuple[float, float]:
        """Return where the middle of a pick (index) lies, across and down, as `pick_at` takes it."""
        column, up = divmod(pick - self.first, self.in_column)
        return (column + 0.5) / self.columns, 1 - (up + 0.5) / self.in_column

    def beside(self, pick: int) -> tuple[float, float]:
        """Return where the lower edge of a pick (index) lies, across in the margin and down."""
        column, up = divmod(pick - self.first, self.in_column)
        return (column + _NUMBERS) / self.columns, 1 - up / self.in_column


def map_signs(drawn: PieceMap, clues: Clues) -> tuple[Sign, ...]:
    """Return what stands in the margins: the number of each repeat at its first pick, where a section has several."""
    return tuple(
        Sign(str(int(clues.repeat[pick]) + 1), *drawn.beside(pick))
        for pick in _beginnings(drawn, clues)
        if clues.repeats[pick] > 1
    )


def _beginnings(drawn: PieceMap, clues: Clues) -> Iterator[int]:
    """Yield the picks (indices) that begin a section or a repeat."""
    for pick in range(drawn.first, drawn.first + drawn.picks):
        before = pick - 1
        if pick == 0 or clues.section[pick] != clues.section[before] or clues.repeat[pick] != clues.repeat[before]:
            yield pick


@lru_cache(maxsize=2)
def map_picture(
    piece: Piece,
    drawn: PieceMap,
    table: PickTable,
    clues: Clues,
    facing: Facing,
    width: float,
    height: float,
    ground: Colour,
) -> Picture:
    """Draw the cloth of these picks as it lies up on the loom, small, so wide and so high in pixels, on a ground.

    Of the ends those are drawn side by side that tell most of the picks apart.
    Whoever goes back to it, or on from it and back, sees the same picture: it is drawn once.
    """
    wide, high = max(int(width) // drawn.columns, 8), max(int(height), 8)
    each = high // drawn.in_column
    # Few rows are drawn sharp; of many each pixel has the mean of what it covers.
    high = each * drawn.in_column if each >= _SHARP else high
    margin = int(wide * _MARGIN)
    end_wide = min(max(each, 1), _WIDEST_END)
    ends = max((wide - margin - margin // 4) // end_wide, 1)
    first_end = end_that_tells(piece, _picks_of_each_kind(table, drawn), ends)
    pixels = np.full((high, wide * drawn.columns, 3), ground, dtype=np.uint8)
    for column in range(drawn.columns):
        first = drawn.first + column * drawn.in_column
        picks = range(first, min(first + drawn.in_column, drawn.first + drawn.picks))
        cloth = _cloth(piece.draft, table, picks, slice(first_end, first_end + ends), facing)
        rows = high * len(picks) // drawn.in_column
        scaled = np.repeat(_as_high(cloth, rows), end_wide, axis=1)[::-1]
        left = column * wide + margin
        # Room is left between this cloth and the margin of the next column.
        shown = min(scaled.shape[1], wide - margin - margin // 4)
        pixels[high - rows :, left : left + shown] = scaled[:, :shown]
    for pick in _beginnings(drawn, clues):
        column, up = divmod(pick - drawn.first, drawn.in_column)
        line = high - 1 - up * high // drawn.in_column
        begins = pick == 0 or clues.section[pick] != clues.section[pick - 1]
        long = margin if begins else margin // 3
        left = column * wide + margin - long
        pixels[max(line - 1, 0) : line + 1, left : left + long - 2] = _TICK
    pixels.flags.writeable = False
    return Picture(pixels)


def _picks_of_each_kind(table: PickTable, drawn: PieceMap) -> list[tuple[int]]:
    """Return one pick (index) for each shed and weft among those drawn; of very many of them, some."""
    picks = slice(drawn.first, drawn.first + drawn.picks)
    kinds = table.shed_code[picks].astype(np.int64) * table.yarns + table.weft[picks]
    found = np.unique(kinds, return_index=True)[1]
    return [(drawn.first + pick,) for pick in found[:: -(-len(found) // _MOST_KINDS)].tolist()]


def _cloth(draft: Draft, table: PickTable, picks: range, ends: slice, facing: Facing) -> NDArray[np.float32]:
    """Return the colours seen of these picks as beaten (picks x ends x 3, float32, in 0..255), the first pick first."""
    yarns = np.array([yarn.colour for yarn in draft.yarns], dtype=np.float32).reshape(-1, 3)
    warp = yarns[np.array(draft.warp[ends], dtype=np.intp)]
    every_end = table.raised[table.shed_code[picks.start : picks.stop]]
    seen = [row.pick for row in beaten_rows(every_end) for _ in range(row.picks)]
    up = every_end[seen][:, ends]
    weft = yarns[table.weft[picks.start : picks.stop][seen]]
    colours = np.where(up[:, :, None], warp[None], weft[:, None] * _WEFT_SHADE)
    return np.asarray(colours[:, facing.from_left], dtype=np.float32)


def _as_high(rows: NDArray[np.float32], high: int) -> NDArray[np.uint8]:
    """Return rows of colours as so many lines of pixels, each the mean of what it covers (lines x ends x 3, uint8)."""
    below = np.concatenate((np.zeros((1, *rows.shape[1:]), dtype=np.float32), np.cumsum(rows, axis=0)))
    edges = np.linspace(0, len(rows), high + 1)
    whole = np.minimum(edges.astype(np.int64), len(rows) - 1)
    at_edges = below[whole] + rows[whole] * (edges - whole).astype(np.float32)[:, None, None]
    return np.asarray(np.diff(at_edges, axis=0) * (high / len(rows)), dtype=np.uint8)
