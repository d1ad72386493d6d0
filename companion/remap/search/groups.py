"""Taking the question apart: sheds that need a treadle each whatever the others do, and groups that do not meet.

A target *stands alone* when no answer gains by pressing it with treadles that other targets use too; it then has a
treadle of its own, which is the target itself. At reach 1 that is so when it lies inside no union of two others, at
reach 2 when it lies inside no union of four: every column that it shares lies inside another target, and there are
at most two or four of them, so if all were shared it would lie inside such a union.

A treadle's pulls all belong to one group of targets that share pulls, so the treadles of the groups add up, at
reach 2 as well: take one group's treadles out of a row, and they are neighbours at least as much as before.

Lemmas and proofs: assets/mathematics.md, "Standing alone, and groups".
"""

from __future__ import annotations

from collections.abc import Sequence

from companion.remap.loom.targets import Target
from companion.remap.search.savings import core_candidates


def standing_alone(targets: Sequence[Target], reach: int) -> list[Target]:
    """Return the targets that stand alone, and those that do so once they are gone."""
    left = core_candidates(targets) if reach == 1 else _within_four(targets)
    return [target for target in targets if target not in left]


def groups_of(targets: Sequence[Target]) -> list[tuple[Target, ...]]:
    """Return the targets in groups that share no pull with each other."""
    groups: list[tuple[int, tuple[Target, ...]]] = []
    for target in targets:
        pulls: int = target
        members: tuple[Target, ...] = (target,)
        apart = []
        for other_pulls, others in groups:
            if other_pulls & target:
                pulls |= other_pulls
                members = others + members
            else:
                apart.append((other_pulls, others))
        groups = [*apart, (pulls, members)]
    return [members for _, members in groups]


def _within_four(targets: Sequence[int]) -> list[int]:
    left = list(targets)
    while True:
        keep = [t for t in left if _inside_some(t, [other & t for other in left if other != t and other & t], 4)]
        if len(keep) == len(left):
            return left
        left = keep


def _inside_some(rest: int, parts: Sequence[int], most: int) -> bool:
    """Tell whether at most so many of these parts join to `rest` at least.

    Branches on who brings the first pull that is missing, the one that brings most first.
    """
    if not rest:
        return True
    useful = sorted({part & rest for part in parts} - {0}, key=lambda part: (-part.bit_count(), part))
    if not useful or rest.bit_count() > most * useful[0].bit_count():
        return False
    pull = rest & -rest
    return any(_inside_some(rest & ~part, useful, most - 1) for part in useful if part & pull)
