"""Which question next, at the loom: the one that saves most for what it costs a tired weaver. Pure.

What a question saves is counted in bits: how much fewer the places are after its answer, on average. What it costs is
how hard it is to see or to count, and how many touches it takes; the costs stand in `COSTS`, once, and are our own
choice (no source). Rows further down cost more, and a row that cannot be counted off at the draft's floats is never
asked for.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from companion.weaving.finder import Evidence
from companion.weaving.pick_table import PickTable
from companion.weaving.questions import NOTHING_KNOWN, ROWS_ASKED, About, Ask, PlaceQuestion, Split, splits
from companion.weaving.warp import Piece

COSTS = {
    Ask.WEFT: 1.0,
    Ask.SECTION: 1.2,
    Ask.SIDE: 1.5,
    Ask.SINCE_CHANGE: 1.2,
    Ask.END: 2.5,
    Ask.REPEAT: 3.5,
}
"""What each question costs: a glance at the newest row is 1."""
EACH_ROW_DOWN = 0.6
"""What every row further down costs more."""
EACH_PICK_COUNTED = 0.15
"""What every pick costs more that may have to be counted since the shuttle changed."""
MOST_SECTIONS = 9
"""So many sections are offered to point at."""
_LONGEST_REPEAT = 400
_COUNTABLE = ((3, ROWS_ASKED), (5, 4), (8, 2))
"""Rows that can be counted off where no float is longer than so many picks; one where any is longer still."""


@dataclass(frozen=True, eq=False, slots=True)
class Clues:
    """What else tells places apart: `section` and `repeat` of each place (places, int64), from 0.

    A repeat counts within its section; `countable` is how many rows can be counted off below the fell.
    """

    section: NDArray[np.int64]
    repeat: NDArray[np.int64]
    countable: int


def clues_of(piece: Piece, table: PickTable) -> Clues:
    """Return the clues of a piece; `table` is its pick table."""
    starts = [piece.section_picks(section).start for section in range(len(piece.sections))]
    section = np.searchsorted(np.array(starts, dtype=np.int64), table.pick, side="right") - 1
    repeat = np.zeros(table.picks, dtype=np.int64)
    for index in range(len(piece.sections)):
        picks = piece.section_picks(index)
        repeat[picks.start : picks.stop] = np.arange(len(picks)) // _period(table.look[picks.start : picks.stop])
    longest = _longest_float(table)
    countable = next((rows for most, rows in _COUNTABLE if longest <= most), 1)
    return Clues(section.astype(np.int64), repeat[table.pick], countable)


def easiest_question(
    table: PickTable,
    clues: Clues,
    found: NDArray[np.int64],
    known: Evidence = NOTHING_KNOWN,
    unsure: Collection[About] = (),
) -> PlaceQuestion | None:
    """Return the question about these places (indices, int64) with most bits per cost; None where none tells any apart.

    What is `known` is not asked again, nor is what the weaver was `unsure` of.
    """
    best, best_worth = None, 1e-9
    for split in (*splits(table, found, False, known), *_more_splits(clues, found)):
        kept = np.asarray(split.kept[split.kept > 0], dtype=np.float64)
        if not len(kept) or split.about in unsure or (split.row >= clues.countable and split.row > 0):
            continue
        left = (kept + split.either / len(kept)) / len(found)
        bits = float(-(left * np.log2((kept + split.either) / len(found))).sum())
        worth = bits / _cost(split)
        if worth > best_worth + 1e-9:
            average = float((left * (kept + split.either)).sum())
            worst = int(kept.max()) + split.either
            best, best_worth = PlaceQuestion(split.ask, split.row, split.end, average, worst, split.yarn), worth
    return best


def _cost(split: Split) -> float:
    counted = len(np.trim_zeros(split.kept, "b")) - 1 if split.ask is Ask.SINCE_CHANGE else 0
    return COSTS[split.ask] + EACH_ROW_DOWN * split.row + EACH_PICK_COUNTED * counted


def _more_splits(clues: Clues, found: NDArray[np.int64]) -> Iterator[Split]:
    if len(found) < 2:
        return
    sections = np.bincount(clues.section[found])
    if 1 < np.count_nonzero(sections) <= MOST_SECTIONS:
        yield Split(Ask.SECTION, sections)
    elif np.count_nonzero(sections) == 1:
        yield Split(Ask.REPEAT, np.bincount(clues.repeat[found]))


def _period(look: NDArray[np.int64]) -> int:
    """Return after how many picks a section begins again, in whole; its length where it does not."""
    for period in range(1, min(len(look) // 2, _LONGEST_REPEAT) + 1):
        if np.array_equal(look[period:], look[:-period]):
            return period
    return max(len(look), 1)


def _longest_float(table: PickTable) -> int:
    """Return the most picks in a row that some end passes over or under, down the treadling."""
    _, first = np.unique(table.raised, axis=1, return_index=True)
    longest = 0
    for end in first.tolist():
        up = table.raised[table.shed_code[: table.picks], end]
        turns = np.flatnonzero(np.diff(up)) + 1
        longest = max(longest, int(np.diff(np.concatenate(([0], turns, [len(up)]))).max(initial=0)))
    return longest
