"""Reach 1: how many columns are needed besides those of a fooling set, by sharing out the targets among them.

A fooling set (`lower_bounds`) gives columns that every answer has; call the other columns *further* ones, k of them. A
target that no column or two of the fooling set can open is opened by one or two further columns. Let it give them a
share of one in all: a whole share to a further column that opens it alone or together with one of the fooling set,
half a share to each of two further columns. Then k times the largest share that one column can get must be at least
the number of such targets, and where it is not, k is too small. What can a column C get?

- No whole share: at most half a share with each of the k - 1 others, since two columns open one target at most.
- A whole share of target t, with a fooling column inside F or with none: then C holds what t has outside F. Only
  targets that hold it too can be opened with C, and of these only such can be whole that differ from t by no more
  than some fooling column can bring. The other ones are halves, and again at most k - 1.

So a column that is nearly a target is of use to few targets, and a small one is of use only to pairs of further
columns. A double-faced twill on n shafts has each shaft alone and each shaft alone left out: n columns of one shaft
are sure, and a further one gets two whole shares or k - 1 halves, so k is half of n up to twelve shafts. The searches
find that out one case after the other: for twelve shafts in more than a minute instead of a hundredth of a second.

The bound is as good as the fooling set and costs a millisecond or two for sixty targets. It knows nothing of order, so
it is of no use at reach 2, where a target may be opened by four columns.

Lemmas and proofs: assets/mathematics.md, "Shares beyond a fooling set".
"""

from __future__ import annotations

from collections.abc import Sequence

from companion.remap.loom.targets import Target
from companion.remap.search.lower_bounds import Seed


def further_columns(targets: Sequence[Target], seeds: Sequence[Seed]) -> int:
    """Return how many columns are needed at least besides those of the fooling set `seeds`, at reach 1.

    For the sheds 1, 2, 3, 4 and the four that leave one of these shafts down it is 2 besides the four single shafts.
    """
    hard = beyond_fooling(targets, seeds)
    if not hard:
        return 0
    twice_whole = [_counts(target, hard, seeds) for target in hard]
    further = 1
    while further * _twice_share(further, twice_whole) < 2 * len(hard):
        further += 1
    return further


def beyond_fooling(targets: Sequence[Target], seeds: Sequence[Seed]) -> list[Target]:
    """Return the targets that no column or two of the fooling set can open."""
    return [target for target in targets if not _opened(target, seeds)]


def _brought(target: int, seeds: Sequence[Seed]) -> list[int]:
    """Return what of a target each of the columns that can be pressed for it can bring at most; nothing too."""
    return [0, *(seed.target & target for seed in seeds if seed.pull & target)]


def _opened(target: int, seeds: Sequence[Seed]) -> bool:
    """Tell whether one or two of these columns may perhaps open a target."""
    brought = _brought(target, seeds)
    return any(target == one | other for k, one in enumerate(brought) for other in brought[k:])


def _counts(target: int, hard: Sequence[int], seeds: Sequence[Seed]) -> list[tuple[int, int]]:
    """Return for each way to open a target with one further column: how many whole shares, how many others."""
    counts = []
    near = [other for other in hard if any(not other & ~target & ~part for part in _brought(other, seeds))]
    for part in _brought(target, seeds):
        held = target & ~part
        whole = sum(not held & ~other for other in near)
        counts.append((whole, sum(not held & ~other for other in hard) - whole))
    return counts


def _twice_share(further: int, counts: Sequence[Sequence[tuple[int, int]]]) -> int:
    """Return twice the largest share that one of so many further columns can get."""
    most = further - 1
    for ways in counts:
        for whole, others in ways:
            most = max(most, 2 * whole + min(others, further - 1))
    return most
