"""How a sett is sleyed in a reed: as many ends in each dent, or dents mixed by turns, as evenly as can be.

15 ends per inch in a reed of 10 go 1 and 2 by turns, 12 go 1 1 1 1 2, and 7 leave three dents of ten empty
(common practice, no source).
"""

from __future__ import annotations

LONGEST_REPEAT = 10
"""Dents: a longer repeat is not counted without slips (common practice, no source)."""
LEAST_IN_DENT, MOST_IN_DENT = 0.5, 6.0
"""On average: every second dent empty, and as many ends as pass through a dent well (common practice, no source)."""
TOLD_WITHIN, BY_RULE_WITHIN = 0.0005, 0.05
"""How far, as a share, a shorter repeat may lie from a sett that was told, and from one that is only a rule's."""


def mixed_dents(in_dent: float, within: float = TOLD_WITHIN) -> tuple[int, ...]:
    """Return the ends in each dent of the repeat whose mean is nearest to `in_dent`: `mixed_dents(1.5)` is (1, 2).

    The shortest repeat that lies within a share of it is taken, else the nearest of all. Raises ValueError for a mean
    that no reed is sleyed with.
    """
    if not LEAST_IN_DENT * (1 - TOLD_WITHIN) <= in_dent <= MOST_IN_DENT * (1 + TOLD_WITHIN):
        raise ValueError(f"{in_dent:g} ends in a dent; from {LEAST_IN_DENT:g} to {MOST_IN_DENT:g} are sleyed")
    repeats = [(max(round(in_dent * dents), 1), dents) for dents in range(1, LONGEST_REPEAT + 1)]
    off = [abs(ends / dents - in_dent) for ends, dents in repeats]
    near = [repeat for repeat, away in zip(repeats, off, strict=True) if away <= within * in_dent]
    return _spread(*(near[0] if near else repeats[off.index(min(off))]))


def dents_for(ends: int, repeat: tuple[int, ...]) -> int:
    """Return how many dents so many ends take from the begin of the repeat on: 316 ends by 1 and 2 take 211."""
    whole, rest = divmod(ends, sum(repeat))
    dents = whole * len(repeat)
    if not rest:
        return dents - _empty_at_end(repeat) if dents else 0
    for held in repeat:
        dents, rest = dents + 1, rest - held
        if rest <= 0:
            break
    return dents


def _spread(ends: int, dents: int) -> tuple[int, ...]:
    held = tuple((dent + 1) * ends // dents - dent * ends // dents for dent in range(dents))
    # A warp begins with an end, not with an empty dent.
    return held if held[0] else (*held[1:], held[0])


def _empty_at_end(repeat: tuple[int, ...]) -> int:
    return next(at for at, held in enumerate(reversed(repeat)) if held)
