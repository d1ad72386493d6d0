"""How many rows of cloth tell each pick of a treadling from every other: computed for all picks at once.

Windows of 1, 2, 4, … rows are ranked by doubling (U. Manber and G. Myers, "Suffix arrays: a new method for on-line
string searches", SIAM Journal on Computing 22 (1993), 935-948), here backwards from each pick. Sorted by the longest
window, a pick's nearest likeness is a neighbour; how far the two agree is read off the ranks, longest first.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def rows_that_tell(look: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return for each pick (int64) how many newest rows, itself included, lie like that nowhere else.

    `look` (picks, int64) is equal where two picks lie alike. Picks are taken in the order listed. Seeing that the cloth
    begins counts as a row: [5, 5] gives [2, 2], since the first is known by the beginning below it.
    """
    picks = len(look)
    if picks == 0:
        return np.zeros(0, dtype=np.int64)
    ranks = [np.unique(look, return_inverse=True)[1].astype(np.int64) + 1]
    while int(ranks[-1].max()) < picks and len(ranks) <= picks.bit_length():
        older = _below(ranks[-1], 2 ** (len(ranks) - 1))
        both = ranks[-1] * (picks + 1) + older
        ranks.append(np.unique(both, return_inverse=True)[1].astype(np.int64) + 1)
    order = np.argsort(ranks[-1], kind="stable")
    agree = _rows_in_common(ranks, order[:-1].copy(), order[1:].copy())
    most = np.zeros(picks, dtype=np.int64)
    np.maximum.at(most, order[:-1], agree)
    np.maximum.at(most, order[1:], agree)
    return most + 1


def _below(rank: NDArray[np.int64], rows: int) -> NDArray[np.int64]:
    """Return the rank `rows` picks below each pick; 0, like no pick's, below the first one."""
    shifted = np.zeros_like(rank)
    shifted[rows:] = rank[: max(0, len(rank) - rows)]
    return shifted


def _rows_in_common(
    ranks: list[NDArray[np.int64]], one: NDArray[np.int64], other: NDArray[np.int64]
) -> NDArray[np.int64]:
    common = np.zeros(len(one), dtype=np.int64)
    for power in reversed(range(len(ranks))):
        both = (one >= 0) & (other >= 0)
        same = both & (ranks[power][np.maximum(one, 0)] == ranks[power][np.maximum(other, 0)])
        step = np.where(same, 2**power, 0)
        common += step
        one -= step
        other -= step
    return common
