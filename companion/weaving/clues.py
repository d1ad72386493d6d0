"""What else than the rows tells places apart: section, repeat, length so far; and how far down rows can be counted."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from companion.weaving.pick_table import PickTable
from companion.weaving.questions import ROWS_ASKED
from companion.weaving.state import State, picks_per_cm
from companion.weaving.warp import Piece

_LONGEST_REPEAT = 400
_COUNTABLE = ((3, ROWS_ASKED), (5, 4), (8, 2))
"""Rows that can be counted off where no float is longer than so many picks; one where any is longer still."""


@dataclass(frozen=True, eq=False, slots=True)
class Clues:
    """What else tells places apart: `section` and `repeat` of each place (places, int64), from 0.

    A repeat counts within its section, as `repeats` (places, int64) there are. `countable` is how many rows can be
    counted off below the fell. `cm` (places, float64) is how long the piece is up to each place, under tension: NaN
    where nobody knows how often a section was woven; None without picks per cm.
    """

    section: NDArray[np.int64]
    repeat: NDArray[np.int64]
    repeats: NDArray[np.int64]
    countable: int
    cm: NDArray[np.float64] | None = None


def clues_of(piece: Piece, table: PickTable, now: State | None = None) -> Clues:
    """Return the clues of a piece; `table` is its pick table. With `now`, its picks per cm are those measured last."""
    starts = [piece.section_picks(section).start for section in range(len(piece.sections))]
    section = np.searchsorted(np.array(starts, dtype=np.int64), table.pick, side="right") - 1
    repeat = np.zeros(table.picks, dtype=np.int64)
    repeats = np.ones(table.picks, dtype=np.int64)
    for index in range(len(piece.sections)):
        picks = piece.section_picks(index)
        period = _period(table.look[picks.start : picks.stop])
        repeat[picks.start : picks.stop] = np.arange(len(picks)) // period
        repeats[picks.start : picks.stop] = -(-len(picks) // period)
    longest = _longest_float(table)
    countable = next((rows for most, rows in _COUNTABLE if longest <= most), 1)
    density = piece.planned_picks_per_cm() if now is None else picks_per_cm(piece, now)
    return Clues(
        section=section.astype(np.int64),
        repeat=repeat[table.pick],
        repeats=repeats[table.pick],
        countable=countable,
        cm=None if density is None else _picks_below(table) / density,
    )


def _picks_below(table: PickTable) -> NDArray[np.float64]:
    """Return how many picks lie in the cloth at each place, this one included; NaN where nobody can know."""
    places = np.arange(table.places)
    lying = np.where(places < table.picks, places, places - table.picks) + 1.0
    if not table.lying.in_order:
        lying[: table.picks] = np.nan
    for laps in table.lying.laps:
        lying[laps.first : laps.stop] = np.nan
    return lying


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
