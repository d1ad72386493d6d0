"""What is counted before a warp is threaded: heddles on each shaft, ends of each yarn, and what a loom lacks for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from companion.draft.model import Draft


@dataclass(frozen=True, slots=True)
class EndsOfYarn:
    """How many `ends` of a yarn (index) are wound."""

    yarn: int
    ends: int


@dataclass(frozen=True, slots=True)
class ShaftShort:
    """A shaft (index) that has fewer heddles than it needs: it is short by `heddles`."""

    shaft: int
    heddles: int


def heddles_needed(draft: Draft) -> tuple[int, ...]:
    """Return the heddles that each shaft needs, the first shaft first: one for each end on it."""
    on = Counter(draft.threading)
    return tuple(on[shaft] for shaft in range(draft.shafts))


def heddles_short(needed: Sequence[int], there: Sequence[int]) -> tuple[ShaftShort, ...]:
    """Return the shafts that lack heddles; a shaft of which nothing is told has what it needs."""
    return tuple(
        ShaftShort(shaft, want - have)
        for shaft, (want, have) in enumerate(zip(needed, there, strict=False))
        if want > have
    )


def ends_per_yarn(draft: Draft) -> tuple[EndsOfYarn, ...]:
    """Return the ends of each yarn of the warp, in the order of first use."""
    return tuple(EndsOfYarn(yarn, ends) for yarn, ends in Counter(draft.warp).items())
