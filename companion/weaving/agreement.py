"""Where what is stated of a piece does not agree with itself: what was planned, and what the draft makes."""

from __future__ import annotations

from dataclasses import dataclass
from math import isclose

from companion.weaving.amounts import AGREE_CM, treadled_cm
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

AGREE_SHARE = 0.02
"""Picks per cm as planned and as the draft has them agree when they differ by no more than this share."""


@dataclass(frozen=True, slots=True)
class PicksDisagree:
    """A piece (index) planned at other picks per cm than its draft's spacing of the weft makes; the plan counts."""

    piece: int
    planned: float
    drafted: float


@dataclass(frozen=True, slots=True)
class LengthDisagrees:
    """A piece (index) planned longer or shorter than its treadling makes, both in cm; the longer counts.

    `treadled_cm` is None where the picks per cm are not known: the weft is then counted for the treadling once.
    """

    piece: int
    planned_cm: float
    treadled_cm: float | None


PlanNote = PicksDisagree | LengthDisagrees


def plan_notes(warp: Warp, first: int = 0) -> tuple[PlanNote, ...]:
    """Return where what is stated of a piece does not agree, for pieces from `first` (index) on."""
    notes: list[PlanNote] = []
    for index, piece in enumerate(warp.pieces[first:], first):
        stated, drafted = piece.picks_per_cm, piece.drafted_picks_per_cm()
        if stated is not None and drafted is not None and not isclose(stated, drafted, rel_tol=AGREE_SHARE):
            notes.append(PicksDisagree(index, stated, drafted))
        if piece.length_cm is None:
            continue
        treadled = treadled_cm(piece)
        if treadled is None or abs(piece.length_cm - treadled) > AGREE_CM:
            notes.append(LengthDisagrees(index, piece.length_cm, treadled))
    return tuple(notes)


def notes_ahead(warp: Warp, progress: Progress) -> tuple[PlanNote, ...]:
    """Return the notes on the plan of the pieces that are not finished."""
    return plan_notes(warp, progress.now.piece + int(progress.now.finished))
