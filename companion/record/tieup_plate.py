"""A tie-up drawn large: treadle 1 on the left, shaft 1 lowest, the foot of each and a box to tick under it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from companion.draft.masks import bits_of
from companion.record.ink import BLACK, DARK, GREY, Anchor, Boxes, InkMark, Letters, Rules
from companion.record.project import TieUpToDraw
from companion.record.quarters import Plate
from companion.remap.loom.loom import TieUp


def tieup_width(one: TieUpToDraw, cell: float) -> float:
    """Return how wide a tie-up is drawn with squares of this size, its numbers included."""
    return len(one.tieup) * cell + 20


def tieup_plate(one: TieUpToDraw, cell: float, ticks: bool = False) -> Plate:
    """Return a tie-up with its heading, shafts and treadles numbered; `ticks`: with a box under each treadle."""
    left, top = 16.0, 22.0
    columns, rows = len(one.tieup), one.shafts
    right, low = left + columns * cell, top + rows * cell
    lines = [(left + step * cell, top, left + step * cell, low) for step in range(columns + 1)]
    lines += [(left, top + step * cell, right, top + step * cell) for step in range(rows + 1)]
    size = min(14.0, cell * 0.6)
    box = min(14.0, cell * 0.5) if ticks else 0.0
    foot = size + 6 if one.left or one.right else 0.0
    under = low + size + foot + (box + 6 if ticks else 0.0)
    numbers = [
        Letters(left - 5, top + (rows - 0.5 - shaft) * cell + size * 0.36, str(shaft + 1), size, anchor=Anchor.END)
        for shaft in range(rows)
    ]
    numbers += [
        Letters(left + (treadle + 0.5) * cell, low + size + 2, str(treadle + 1), size, True, Anchor.MIDDLE)
        for treadle in range(columns)
    ]
    marks: list[InkMark] = [
        Letters(0, 12, one.title, 11, bold=True),
        Rules(tuple(lines), 0.5, GREY),
        *_ties(one.tieup, rows, left, top, cell),
        *numbers,
        *_feet(one, left, low + size + 5, cell, size),
        *_tick_boxes(columns, left, low + size + foot + 5, cell, box),
        Letters(0, under + 14, one.legend, 8 if ticks else 6.5),
    ]
    return Plate(right, under + 18, tuple(marks))


def _feet(one: TieUpToDraw, left: float, top: float, cell: float, size: float) -> Iterator[InkMark]:
    """Mark whose each treadle is: an L in a corner on its left, an R in a corner on its right."""
    half = size * 0.62
    corners = []
    for letter, treadles, side in (("L", one.left, -1), ("R", one.right, 1)):
        for treadle in sorted(treadles):
            x = left + (treadle + 0.5) * cell
            yield Letters(x, top + size * 0.86, letter, size * 0.9, True, Anchor.MIDDLE)
            edge, low = x + side * half, top + size + 2
            corners += [(edge, top, edge, low), (x - half, low, x + half, low)]
    if corners:
        yield Rules(tuple(corners), 1.2, BLACK)


def _tick_boxes(columns: int, left: float, top: float, cell: float, box: float) -> Iterator[InkMark]:
    if box:
        places = tuple((left + (treadle + 0.5) * cell - box / 2, top, box, box) for treadle in range(columns))
        yield Boxes(places, BLACK, 0.8)


def _ties(tieup: TieUp, rows: int, left: float, top: float, cell: float) -> Iterator[InkMark]:
    def places(ways: Iterable[int], inset: float) -> tuple[tuple[float, float, float, float], ...]:
        return tuple(
            (left + treadle * cell + inset, top + (rows - 1 - shaft) * cell + inset, cell - 2 * inset, cell - 2 * inset)
            for treadle, tied in enumerate(ways)
            for shaft in bits_of(tied)
        )

    if up := places((tie.up for tie in tieup), cell * 0.15):
        yield Boxes(up, DARK)
    if down := places((tie.down for tie in tieup), cell * 0.25):
        yield Boxes(down, DARK, max(0.8, cell * 0.1))
