"""A treadling as the feet walk it: a number for each target, no two alike in a row, a repeated figure written once.

Lemmas and proofs: assets/mathematics.md, "Feet first" (F2).
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from companion.remap.search.choices import Ints

Kind = TypeVar("Kind", bound=Hashable)


@dataclass(frozen=True, slots=True, eq=False)
class Walks:
    """A treadling to be walked: its `targets` in the order of first use, how many `picks` each has, and the steps.

    `steps` (steps, int64) are numbers of targets, no two neighbours alike, for a foot that stays pays no walk. A figure
    that is repeated throughout stands there twice, and `weight` (steps, int64) says how often each step counts.
    """

    targets: tuple[int, ...]
    picks: tuple[int, ...]
    steps: Ints
    weight: Ints

    def shortened(self, most: int) -> Walks:
        """Return only the first steps: what is walked there is no more than what is walked in all."""
        if len(self.steps) <= most:
            return self
        return Walks(self.targets, self.picks, self.steps[:most], self.weight[:most])


def walks_of(picks: Sequence[int]) -> Walks:
    """Return the walk through these targets, one per pick."""
    numbers, distinct = _numbered(picks)
    return Walks(tuple(distinct), *_counted(numbers, len(distinct)))


def _numbered(picks: Sequence[Kind]) -> tuple[list[int], list[Kind]]:
    number: dict[Kind, int] = {}
    numbers = [number.setdefault(pick, len(number)) for pick in picks]
    return numbers, list(number)


def _counted(numbers: list[int], distinct: int) -> tuple[tuple[int, ...], Ints, Ints]:
    counts = np.bincount(np.array(numbers, dtype=np.int64), minlength=distinct)
    steps = [k for at, k in enumerate(numbers) if at == 0 or numbers[at - 1] != k]
    folded, weight = _folded(steps)
    return tuple(counts.tolist()), np.array(folded, dtype=np.int64), np.array(weight, dtype=np.int64)


def _folded(steps: list[int]) -> tuple[list[int], list[int]]:
    """Write a figure that is repeated throughout twice only, the second time with the weight of all repeats.

    After one figure every foot is where it is after two, so all figures but the first cost the same. The shortest
    period follows from the longest border (D.E. Knuth, J.H. Morris and V.R. Pratt, SIAM J. Computing 6, 1977, 323-350,
    from memory).
    """
    length = len(steps)
    border = [0] * length
    for at in range(1, length):
        known = border[at - 1]
        while known and steps[at] != steps[known]:
            known = border[known - 1]
        border[at] = known + (steps[at] == steps[known])
    period = length - border[-1] if steps else 0
    if not steps or 3 * period > length:
        return steps, [1] * length
    times, rest = divmod(length, period)
    return steps[: 2 * period] + steps[:rest], [1] * period + [times - 1] * period + [1] * rest
