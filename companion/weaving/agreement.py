"""Where what is stated of a piece does not agree with itself, in words: what was planned, and what the draft makes."""

from __future__ import annotations

from math import isclose

from companion.draft.units import density_number, length_words, measured_words, per_length_words, picks_words
from companion.weaving.amounts import AGREE_CM, treadled_cm
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

AGREE_SHARE = 0.02
"""Picks per cm as planned and as the draft has them agree when they differ by no more than this share."""


def plan_notes(warp: Warp, first: int = 0) -> tuple[str, ...]:
    """Return where what is stated of a piece does not agree, each as one line, for pieces from `first` (index) on.

    That may be its planned length and its treadling, or its picks per cm and its draft's spacing of the weft.
    """
    lines = []
    for number, piece in enumerate(warp.pieces[first:], first + 1):
        stated, drafted = piece.picks_per_cm, piece.drafted_picks_per_cm()
        if stated is not None and drafted is not None and not isclose(stated, drafted, rel_tol=AGREE_SHARE):
            lines.append(
                f"piece {number} ({piece.name}) is planned at {picks_words(stated)}, its draft spaces them for "
                f"{density_number(drafted):.4g}; the plan counts"
            )
        if piece.length_cm is None:
            continue
        called = f"piece {number} ({piece.name}) is planned {length_words(piece.length_cm)} long"
        treadled = treadled_cm(piece)
        if treadled is None:
            lines.append(
                f"{called}, but its picks {per_length_words()} are not known; "
                "its weft is counted for its treadling once"
            )
        elif piece.length_cm > treadled + AGREE_CM:
            lines.append(
                f"{called}, its treadling makes {measured_words(treadled)}; warp and weft are reckoned for the planned "
                "length, with the treadling begun over again"
            )
        elif piece.length_cm < treadled - AGREE_CM:
            lines.append(
                f"{called}, its treadling makes {measured_words(treadled)}; warp and weft are reckoned by the treadling"
            )
    return tuple(lines)


def notes_ahead(warp: Warp, progress: Progress) -> tuple[str, ...]:
    """Return the notes on the plan of the pieces that are not finished."""
    return plan_notes(warp, progress.now.piece + int(progress.now.finished))
