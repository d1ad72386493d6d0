"""Turns of phrase that several commands print: numbers with their nouns, and lists of numbers kept short."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

MOST_SPANS = 8
"""After this many stretches a list of numbers is cut short in text; JSON has them all."""


def spans(indices: Iterable[int]) -> str:
    """Return rising indices from 0 as people count: `spans([0, 1, 2, 6])` is `1-3, 7`."""
    runs = [[index for _, index in run] for _, run in groupby(enumerate(indices), key=lambda pair: pair[1] - pair[0])]
    words = [str(run[0] + 1) if len(run) == 1 else f"{run[0] + 1}-{run[-1] + 1}" for run in runs]
    if len(words) > MOST_SPANS:
        left_out = sum(map(len, runs[MOST_SPANS:]))
        return f"{', '.join(words[:MOST_SPANS])} and {left_out:,} more"
    return ", ".join(words)


def numbered(noun: str, indices: Sequence[int]) -> str:
    """Return a noun with its numbers: `pick 3`, `picks 3-5, 9`."""
    return f"{noun if len(indices) == 1 else noun + 's'} {spans(indices)}"
