"""The orders in which picks may lie in the cloth: as the treadling lists them, and as the journal has them.

A *place* is a pick together with what lies below it. The first places are the picks as listed, below each the one
before it; below the first pick of a section that is woven to a length may also lie its last. Where the journal tells
of anything else (a jump, picks skipped, a section once more, laps), more places follow: every pick in the cloth of the
journal, oldest first, and above them the picks that come next. There, below the pick after a jump, may lie the pick
that the weaver jumped from or the one listed before it: who jumps because the place was found sets the journal right,
not the cloth.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from companion.weaving.runs import PickRun
from companion.weaving.state import State
from companion.weaving.warp import Piece

Loops = tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Laps:
    """In the places `first` up to `stop` nobody knows how often the picks `first_pick` to `last_pick` were woven."""

    first: int
    stop: int
    first_pick: int
    last_pick: int


@dataclass(frozen=True, eq=False, slots=True)
class Lying:
    """Places: `pick` (places, int64) is the pick of each, the first `listed` of them the picks as listed.

    Below a place lies the place before it, but none below place 0 and below place `listed`. `joins` (k x 2, int64) are
    pairs of a place and another one that may lie below it. `away` (places, int64) counts the picks from the
    journal's place, None without a journal. `in_order`: nothing in the journal speaks against the picks as listed.
    """

    pick: NDArray[np.int64]
    listed: int
    joins: NDArray[np.int64]
    away: NDArray[np.int64] | None
    in_order: bool
    laps: tuple[Laps, ...]

    def lap_after(self, pick: int) -> int | None:
        """Return the first pick of the section that is woven to a length and ends with `pick` (indices); else None."""
        return next((laps.first_pick for laps in self.laps if laps.last_pick == pick), None)


def as_listed(piece: Piece) -> Lying:
    """Return the places of a piece of which no journal is known."""
    loops = _loops(piece)
    pick = np.arange(piece.picks, dtype=np.int64)
    return Lying(pick, piece.picks, _pairs(loops), None, True, _laps_of(loops, piece.picks))


def as_journal_has_it(piece: Piece, now: State) -> Lying:
    """Return the places of the piece on the loom, where `now` stands."""
    loops, picks = _loops(piece), piece.picks
    listed = np.arange(picks, dtype=np.int64)
    away = np.abs(listed - (now.next_pick - 1))
    if now.cloth.newest is not None:
        away = np.minimum(away, np.abs(listed - now.cloth.newest))
    runs = (*now.cloth.below, now.cloth.top) if now.cloth.top else ()
    in_order = _in_order(runs, now.next_pick, loops)
    if in_order and len(runs) < 2:
        return Lying(listed, picks, _pairs(loops), away, True, _laps_of(loops, picks))
    woven = np.concatenate([np.tile(np.arange(run.first, run.last + 1), run.laps) for run in runs] or [listed[:0]])
    onward = np.arange(now.next_pick, picks, dtype=np.int64)
    # Where the first pick to come stands, had it a place though the treadling is at its end.
    coming = picks + len(woven)
    again = [(first, last) for first, last in loops if last >= now.next_pick]
    after_jump = np.flatnonzero(woven[1:] != woven[:-1] + 1) + 1
    after_jump = after_jump[woven[after_jump] > 0]
    joins = [
        _pairs(loops),
        np.stack([picks + after_jump, woven[after_jump] - 1], axis=1),
        _pairs(
            tuple(
                (first if first < now.next_pick else coming + first - now.next_pick, coming + last - now.next_pick)
                for first, last in again
            )
        ),
    ]
    end = coming + len(onward)
    laps = [Laps(coming + max(first - now.next_pick, 0), end, first, last) for first, last in again]
    return Lying(
        pick=np.concatenate([listed, woven, onward]),
        listed=picks,
        joins=np.concatenate(joins),
        away=np.concatenate([away, np.abs(np.arange(picks, end) - (coming - 1))]),
        in_order=in_order,
        laps=(*_laps_of(loops, picks), *laps),
    )


def _loops(piece: Piece) -> Loops:
    """Return the first and last picks of the sections that are woven to a length."""
    return tuple(
        (piece.section_picks(index).start, piece.section_picks(index).stop - 1)
        for index, section in enumerate(piece.sections)
        if section.until_cm is not None
    )


def _pairs(pairs: Loops) -> NDArray[np.int64]:
    return np.array(pairs, dtype=np.int64).reshape(-1, 2)


def _laps_of(loops: Loops, picks: int) -> tuple[Laps, ...]:
    return tuple(Laps(first, picks, first, last) for first, last in loops)


def _in_order(runs: tuple[PickRun, ...], next_pick: int, loops: Loops) -> bool:
    """Tell whether these runs are the picks as listed from the first one on, laps of sections among them."""
    if not runs:
        return next_pick == 0
    turns = [(run.first, below.last) for below, run in pairwise(runs)]
    turns += [(run.first, run.last) for run in runs if run.laps > 1]
    if next_pick != runs[-1].last + 1:
        turns.append((next_pick, runs[-1].last))
    return runs[0].first == 0 and all(turn in loops for turn in turns)
