"""The squares of a gamp as a table to look at: blocks across, sections down, each square where it lies in the cloth."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence, Set
from dataclasses import dataclass

import numpy as np

from companion.draft.cloth import weave
from companion.draft.facing import Facing
from companion.draft.gamp import Area, Gamp, GampStretch, area_of, gamp_of
from companion.draft.model import Draft
from companion.draft.units import counted
from companion.present.fell import Picture, crossings_picture
from companion.present.square_words import cloth_words, mark_words
from companion.weaving.state import MarkedSquare

MOST_DRAWN = 48
"""Ends and picks of a square that are drawn; more would be too fine at the size of a button."""
_MARKS_TOLD = 3
THREADS_IN_A_ROW = 20
"""Ends and picks that are drawn in a row of a list."""
_SAMPLED, _SAMPLE_THREADS = 4, 10
"""Of so many blocks and sections of a gamp at most the first ends and picks are drawn, so many of each at most."""
TOUCH_ONE = "Touch the square that is to become a draft"
TOUCH_TO_MARK = "Touch a square to mark it, or to make a draft of it"
_NOT_WOVEN = 0.35
"""How light cloth that is not woven yet is drawn."""


@dataclass(frozen=True, slots=True)
class SquareSeen:
    """One square: where it lies, whether it has a star, and the words that it was marked with.

    `cloth` says how much of it lies in the cloth; empty where all of it does, or nothing is woven of the draft.
    """

    area: Area
    starred: bool
    text: str
    cloth: str = ""


@dataclass(frozen=True, slots=True)
class SquareTable:
    """What the page is about; names of the columns from left to right, of the rows from top to bottom; the squares.

    A name is given as it is and as a number, for where no more can stand. `rows` are the squares, row by row.
    """

    title: str
    detail: str
    columns: tuple[tuple[str, str], ...]
    lines: tuple[tuple[str, str], ...]
    rows: tuple[tuple[SquareSeen, ...], ...]


def may_have_squares(draft: Draft) -> bool:
    """Tell whether the draft itself names several blocks and several sections."""
    blocks = sum(bool(block.name.strip()) for block in draft.blocks)
    return blocks > 1 and sum(bool(section.name.strip()) for section in draft.sections) > 1


def square_table(
    draft: Draft, gamp: Gamp, facing: Facing, marked: Sequence[MarkedSquare], lying: Set[int] | None
) -> SquareTable:
    """Return the table; `marked` are the marks on this draft's cloth, `lying` its picks there: None for no warp.

    On a warp the squares stand as they lie at the fell, without one as in the draft.
    """
    can_mark = lying is not None
    facing = table_facing(facing, can_mark)
    marks = {one.area: one for one in marked}
    blocks = range(len(gamp.blocks))
    seen = [
        tuple(_seen(area_of(gamp, draft, block, section), marks, lying) for block in blocks)[facing.from_left]
        for section in range(len(gamp.sections))
    ]
    threadings, treadlings = counted(len(gamp.blocks), "threading"), counted(len(gamp.sections), "treadling")
    stars = [square.area.name for row in seen for square in row if square.starred]
    more = f" and {len(stars) - _MARKS_TOLD} more" if len(stars) > _MARKS_TOLD else ""
    return SquareTable(
        f"{threadings} across, {treadlings} down",
        f"Starred: {', '.join(stars[:_MARKS_TOLD])}{more}" if stars else _what_to_touch(seen, can_mark),
        _named([block.name for block in gamp.blocks])[facing.from_left],
        _named([section.name for section in gamp.sections])[facing.from_top],
        tuple(seen)[facing.from_top],
    )


def table_facing(facing: Facing, on_a_warp: bool) -> Facing:
    """Return how the squares lie, and what is drawn of them: as at the fell where they are woven on a warp."""
    return facing.at_the_fell if on_a_warp else facing


def square_picture(draft: Draft, area: Area, facing: Facing, lying: Set[int] | None = None) -> Picture:
    """Draw a square in its colours as it lies in the cloth; of a large one the first ends and picks.

    With `lying`, the picks (indices) in the cloth, as great a share of it as is not woven is drawn dark.
    """
    ends = range(area.first_end, min(area.last_end, area.first_end + MOST_DRAWN))
    picks = range(area.first_pick, min(area.last_pick, area.first_pick + MOST_DRAWN))
    sheds = draft.sheds()
    up = weave([draft.threading[end] for end in ends], [sheds[pick] for pick in picks])
    palette = np.array([yarn.colour for yarn in draft.yarns], dtype=np.uint8).reshape(-1, 3)
    warp = palette[[draft.warp[end] for end in ends]][None, :, :]
    weft = palette[[draft.weft[pick] for pick in picks]][:, None, :]
    seen = np.where(up[:, :, None], warp, weft)
    if lying is not None:
        # A row stands for its share of the square: those drawn of a large one are only the first.
        each = [area.first_pick + row * area.picks // len(picks) for row in range(len(picks))]
        light = np.array([1 if pick in lying else _NOT_WOVEN for pick in each])
        seen = (seen * light[:, None, None]).astype(np.uint8)
    return crossings_picture(up[facing.from_top, facing.from_left], seen[facing.from_top, facing.from_left])


def sample_picture(draft: Draft, facing: Facing) -> Picture | None:
    """Draw ends and picks of a draft that tell it, as many of either, for a row of a list; None for no cloth.

    Those in which most differs: a hem and a plain edge look alike in many drafts.
    """
    threads = min(draft.ends, draft.picks, THREADS_IN_A_ROW)
    if not threads:
        return None
    end = _most_telling(list(zip(draft.threading, draft.warp, strict=True)), threads)
    pick = _most_telling(list(zip(draft.sheds(), draft.weft, strict=True)), threads)
    return square_picture(draft, Area(end, end + threads, pick, pick + threads), facing)


def _most_telling(kinds: Sequence[object], threads: int) -> int:
    """Return where the first of all runs of so many threads begins in which two of them most often differ.

    The share of pairs that are alike is E.H. Simpson's index ("Measurement of Diversity", Nature 163, 1949).
    """
    within = Counter(kinds[:threads])
    alike = least = sum(number * number for number in within.values())
    best = 0
    for first in range(1, len(kinds) - threads + 1):
        gone, new = kinds[first - 1], kinds[first + threads - 1]
        alike -= 2 * within[gone] - 1
        within[gone] -= 1
        alike += 2 * within[new] + 1
        within[new] += 1
        if alike < least:
            least, best = alike, first
    return best


def sampler_picture(draft: Draft, facing: Facing) -> Picture | None:
    """Draw a draft to be told from others: of a gamp the corner of each square, with dark between, else a sample."""
    if not may_have_squares(draft):
        return sample_picture(draft, facing)
    gamp = gamp_of(draft)
    ends, picks = _sampled(gamp.blocks), _sampled(gamp.sections)
    sheds = draft.sheds()
    up = weave([draft.threading[end] for end in ends], [sheds[pick] for pick in picks])
    palette = np.array([yarn.colour for yarn in draft.yarns], dtype=np.uint8).reshape(-1, 3)
    seen = np.where(
        up[:, :, None],
        palette[[draft.warp[end] for end in ends]][None, :, :],
        palette[[draft.weft[pick] for pick in picks]][:, None, :],
    )
    # What lies side by side here does not in the cloth.
    for axis, threads in ((0, picks), (1, ends)):
        apart = 1 + np.flatnonzero(np.diff(threads) != 1)
        up, seen = np.insert(up, apart, False, axis=axis), np.insert(seen, apart, 0, axis=axis)
    return crossings_picture(up[facing.from_top, facing.from_left], seen[facing.from_top, facing.from_left])


def _sampled(stretches: Sequence[GampStretch]) -> list[int]:
    """Return the threads (indices) that are drawn of the first blocks or sections."""
    return [
        thread
        for stretch in stretches[:_SAMPLED]
        for thread in range(stretch.first, min(stretch.last, stretch.first + _SAMPLE_THREADS))
    ]


def marked_line(square: SquareSeen) -> str:
    """Return how a square is marked: `star; lies flat`; empty where it is not."""
    return mark_words(square.starred, square.text, square.cloth) if square.starred or square.text else ""


def _seen(area: Area, marks: dict[Area, MarkedSquare], lying: Set[int] | None) -> SquareSeen:
    mark = marks.get(Area(area.first_end, area.last_end, area.first_pick, area.last_pick))
    cloth = "" if lying is None else cloth_words(area, lying)
    return SquareSeen(area, mark is not None and mark.starred, "" if mark is None else mark.text, cloth)


def _what_to_touch(rows: Sequence[Sequence[SquareSeen]], can_mark: bool) -> str:
    if not can_mark:
        return TOUCH_ONE
    return f"{TOUCH_TO_MARK}; dark: not woven" if any(one.cloth for row in rows for one in row) else TOUCH_TO_MARK


def _named(names: list[str]) -> tuple[tuple[str, str], ...]:
    return tuple((name, str(number)) for number, name in enumerate(names, 1))
