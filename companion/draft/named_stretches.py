"""What becomes of named stretches, sections of picks or blocks of ends, as threads are put in and taken out.

A list of stretches is known here by how many threads each has; threads are indices from 0.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise


def counts_grown(counts: Sequence[int], thread: int, more: int) -> list[int]:
    """Return the counts with `more` in the stretch that this thread is in, or in the first where it is in none."""
    grown = list(counts)
    if grown:
        grown[next((index for index, end in enumerate(accumulate(counts)) if thread < end), 0)] += more
    return grown


def counts_cut(counts: Sequence[int], first: int, last: int) -> list[int]:
    """Return the counts without the threads from `first` up to before `last`."""
    edges = [0, *accumulate(counts)]
    return [end - begin - max(0, min(end, last) - max(begin, first)) for begin, end in pairwise(edges)]
