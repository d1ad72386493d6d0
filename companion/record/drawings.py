"""Drawings for the record's page: the draft in quarters, a tie-up, and the cloth as it lies, face and back.

Line drawings are SVG, one path for all marks of a colour; the cloth is a PNG with one cell for each crossing.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from companion.draft.cloth import Surface, weave
from companion.draft.facing import Facing, FirstPick
from companion.draft.masks import bits_of, is_raised
from companion.draft.model import Draft, Lifted
from companion.record.sheet import PieceSheet
from companion.remap.loom.loom import TieUp

MOST_ENDS = 64
"""Ends drawn of a draft: more would print too small to count."""
MOST_ENDS_LYING = 240
"""Ends that the picture of a cloth shows."""
MOST_PICKS_DRAWN = 40
"""Picks drawn in the draft's drawing: with its words it fits the lower half of a page."""
MOST_PICKS_LYING = 600
"""The newest picks of a cloth that its picture shows."""
CELL = 9
_MARK = "#222222"
_PAPER, _RULE, _INK = 255, 0xB5, 0x22
"""Shades of grey in a drawing made of pixels."""
_LINE = "#b5b5b5"
_DOWN = "#8a3b12"


def draft_image(draft: Draft, facing: Facing) -> NDArray[np.uint8]:
    """Return the same drawing as pixels, for a screen: `CELL` to a square and a line all round, x 3, uint8."""
    quarters = _laid(_quarters(draft), facing)
    image = np.full((quarters.rows * CELL + 1, quarters.columns * CELL + 1, 3), _PAPER, dtype=np.uint8)
    for left, top, across, down in quarters.grids:
        rows, columns = slice(top * CELL, (top + down) * CELL + 1), slice(left * CELL, (left + across) * CELL + 1)
        image[rows, columns][::CELL] = _RULE
        image[rows, columns][:, ::CELL] = _RULE
    for column, row in quarters.marks:
        image[row * CELL + 1 : (row + 1) * CELL, column * CELL + 1 : (column + 1) * CELL] = _INK
    return image


@dataclass(frozen=True, slots=True)
class _Quarters:
    """A draft laid out in squares: `grids` are ruled (left, top, across, down), `marks` filled (column, row)."""

    columns: int
    rows: int
    grids: tuple[tuple[int, int, int, int], ...]
    marks: tuple[tuple[int, int], ...]


def _quarters(draft: Draft) -> _Quarters:
    ends, picks = min(draft.ends, MOST_ENDS), min(draft.picks, MOST_PICKS_DRAWN)
    lifted = isinstance(draft.lifting, Lifted)
    columns = draft.shafts if lifted else draft.treadles
    top, left = draft.shafts + 1, ends + 1
    marks = [(end, draft.shafts - 1 - shaft) for end, shaft in enumerate(draft.threading[:ends]) if shaft is not None]
    if isinstance(draft.lifting, Lifted):
        rows: tuple[int, ...] = draft.lifting.plan[:picks]
    else:
        rows = draft.lifting.treadling[:picks]
        for treadle, tie in enumerate(draft.lifting.tieup):
            marks += [(left + treadle, draft.shafts - 1 - shaft) for shaft in bits_of(tie)]
    for pick, row in enumerate(rows):
        marks += [(left + column, top + pick) for column in bits_of(row)]
    sheds = draft.sheds()[:picks]
    for pick, shed in enumerate(sheds):
        marks += [
            (end, top + pick)
            for end, shaft in enumerate(draft.threading[:ends])
            if shaft is not None and is_raised(shed, shaft)
        ]
    grids = [(0, 0, ends, draft.shafts), (0, top, ends, picks), (left, top, columns, picks)]
    if not lifted:
        grids.append((left, 0, columns, draft.shafts))
    return _Quarters(left + columns, top + picks, tuple(grids), tuple(marks))


def _laid(quarters: _Quarters, facing: Facing) -> _Quarters:
    """Return the squares with the first end and the first pick where this weaver has them."""
    ends = quarters.grids[0][2]
    columns, rows = range(quarters.columns), range(quarters.rows)
    across, down = (*columns[:ends][facing.from_left], *columns[ends:]), rows[facing.from_top]
    # The grids are as wide as they were: only those of the ends would move sideways, and they begin at the left.
    grids = tuple(
        (left, min(down[top], down[top + height - 1]) if height else top, width, height)
        for left, top, width, height in quarters.grids
    )
    return _Quarters(
        quarters.columns, quarters.rows, grids, tuple((across[column], down[row]) for column, row in quarters.marks)
    )


def tieup_drawing(tieup: TieUp, shafts: int) -> str:
    """Return a tie-up of the loom: treadle 1 on the left, shaft 1 lowest; a full square raises, a framed one sinks."""
    up = [(treadle, shafts - 1 - shaft) for treadle, tie in enumerate(tieup) for shaft in bits_of(tie.up)]
    down = [(treadle, shafts - 1 - shaft) for treadle, tie in enumerate(tieup) for shaft in bits_of(tie.down)]
    grid = [(0, 0, len(tieup), shafts)]
    return _svg(len(tieup), shafts, grid, [(_MARK, up)], "the tie-up", framed=down, scale=2)


def cloth_image(sheet: PieceSheet, surface: Surface, facing: Facing) -> NDArray[np.uint8] | None:
    """Return the newest picks, as the draft stands: picks x ends x 3, uint8; None where nothing lies there.

    So its twills run as they run in the draft beside it. The back is read through the cloth: end 1 stays where it is.
    """
    picks = sheet.lying[-MOST_PICKS_LYING:][facing.from_top]
    draft = sheet.piece.draft
    ends = min(draft.ends, MOST_ENDS_LYING)
    if not picks or not ends:
        return None
    sheds = draft.sheds()
    up = weave(draft.threading[:ends], [sheds[pick] for pick in picks])
    palette = np.array([yarn.colour for yarn in draft.yarns], dtype=np.uint8)
    warp = palette[list(draft.warp[:ends])]
    weft = palette[[draft.weft[pick] for pick in picks]]
    on_top = up == (surface is Surface.FACE)
    image: NDArray[np.uint8] = np.where(on_top[:, :, None], warp[None, :, :], weft[:, None, :])
    return image[:, facing.from_left].copy()


def newest_words(facing: Facing) -> str:
    """Return where the newest pick of a cloth is drawn: `newest pick at the bottom`."""
    return f"newest pick {'at the bottom' if facing.first_pick is FirstPick.ON_TOP else 'on top'}"


def _svg(
    columns: int,
    rows: int,
    grids: Iterable[tuple[int, int, int, int]],
    marks: Iterable[tuple[str, Iterable[tuple[int, int]]]],
    label: str,
    framed: Iterable[tuple[int, int]] = (),
    scale: int = 1,
) -> str:
    width, height = columns * CELL + 2, rows * CELL + 2
    parts = [
        f'<svg role="img" aria-label="{label}" width="{scale * width}" height="{scale * height}" '
        f'viewBox="-1 -1 {width} {height}">'
    ]
    for left, top, across, down in grids:
        lines = [f"M{(left + step) * CELL} {top * CELL}v{down * CELL}" for step in range(across + 1)]
        lines += [f"M{left * CELL} {(top + step) * CELL}h{across * CELL}" for step in range(down + 1)]
        parts.append(f'<path d="{"".join(lines)}" stroke="{_LINE}" fill="none"/>')
    for colour, places in marks:
        squares = "".join(_square(column, row, 1) for column, row in places)
        parts.append(f'<path d="{squares}" fill="{colour}"/>')
    frames = "".join(_square(column, row, 2) for column, row in framed)
    if frames:
        parts.append(f'<path d="{frames}" fill="none" stroke="{_DOWN}" stroke-width="2"/>')
    return "".join(parts) + "</svg>"


def _square(column: int, row: int, inset: int) -> str:
    side = CELL - 2 * inset
    return f"M{column * CELL + inset} {row * CELL + inset}h{side}v{side}h-{side}z"
