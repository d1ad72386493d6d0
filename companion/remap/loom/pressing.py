"""Which treadles two feet press for a target, given the cords of every treadle in their order.

A foot presses a run: one treadle, or with reach 2 also two neighbours. The left foot stays left of the right
one. The rule is written down here once more than the searches need, on purpose: every answer of a search
passes through `feet_for`, which knows nothing of how it was found and refuses it if a shed does not open.

Lemmas and proofs: assets/mathematics.md, "The question".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.remap.loom.loom import Footing
from companion.remap.loom.targets import Column, Target

Run = tuple[int, ...]


def runs(treadles: int, reach: int) -> Iterator[Run]:
    """Yield what one foot can press, single treadles first: `(0,) (1,) (0, 1)` for two treadles and reach 2."""
    for length in range(1, reach + 1):
        for first in range(treadles - length + 1):
            yield tuple(range(first, first + length))


def feet_for(target: Target, columns: Sequence[Column], reach: int) -> Footing | None:
    """Return the footing that pulls exactly `target`, or None: fewest treadles, then leftmost, one foot before two.

    A single foot is the left one for treadles in the left half of the loom, the right one otherwise.
    """
    if target == 0:
        return Footing()
    usable = [
        (run, pulled)
        for run in runs(len(columns), reach)
        if (pulled := _pulled(run, columns)) | target == target and pulled
    ]
    best: tuple[int, int, Footing] | None = None
    for run, pulled in usable:
        if pulled == target:
            best = _better(best, (len(run), 0, _one_foot(run, len(columns))))
    for left, pulled_left in usable:
        for right, pulled_right in usable:
            if left[-1] < right[0] and pulled_left | pulled_right == target:
                best = _better(best, (len(left) + len(right), 1, Footing(left, right)))
    return best[2] if best else None


def _pulled(run: Run, columns: Sequence[Column]) -> int:
    pulled = 0
    for treadle in run:
        pulled |= columns[treadle]
    return pulled


def _one_foot(run: Run, treadles: int) -> Footing:
    return Footing(left=run) if run[0] + run[-1] < treadles - 1 or treadles == 1 else Footing(right=run)


def _better(best: tuple[int, int, Footing] | None, new: tuple[int, int, Footing]) -> tuple[int, int, Footing]:
    return new if best is None or new[:2] < best[:2] else best
