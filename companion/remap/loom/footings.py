"""Every way in which two feet can open a shed on a given tie-up.

`pressing` gives one footing and is the check on the search; here are all of them, so that footwork can choose. A
footing that presses a treadle in vain (the shed opens without it) is no choice: it only costs effort.

Lemmas and proofs: assets/mathematics.md, "The question".
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, pairwise

from companion.draft.masks import within
from companion.remap.loom.loom import Footing
from companion.remap.loom.pressing import runs
from companion.remap.loom.targets import Column, Target, pulled_by


def footings_for(target: Target, columns: Sequence[Column], reach: int) -> tuple[Footing, ...]:
    """Return every footing that pulls exactly `target`: one foot before two, left foot first, leftmost first.

    `footings_for(0b11, [0b01, 0b10], 1)` is `(Footing(left=(0,), right=(1,)),)`. Empty where the shed does not open.
    An empty target has the one footing that presses nothing.
    """
    if target == 0:
        return (Footing(),)
    usable = [
        run
        for run in runs(len(columns), reach)
        if all(columns[treadle] and within(columns[treadle], target) for treadle in run)
    ]
    single = [run for run in usable if opens(run, columns, target)]
    pairs = [
        (left, right)
        for left in usable
        for right in usable
        if left[-1] < right[0] and opens(left + right, columns, target)
    ]
    return (
        *(Footing(left=run) for run in single),
        *(Footing(right=run) for run in single),
        *(Footing(left, right) for left, right in pairs),
    )


def can_open(target: Target, columns: Sequence[Column], reach: int) -> bool:
    """Tell whether some footing pulls exactly `target`; much quicker than to list them all."""
    if target == 0 or target in columns:
        return True
    if reach == 1:
        return _two_can_open(target, [column for column in columns if not column & ~target])
    if reach == 1:
        return _two_can_open(target, [column for column in columns if not column & ~target])
    inside = [(treadle, column) for treadle, column in enumerate(columns) if column and within(column, target)]
    if pulled_by([column for _, column in inside]) != target:
        return False
    # A footing in vain will do: without what is pressed in vain it is one that is not.
    blocks = [(treadle, treadle, column) for treadle, column in inside]
    blocks += [(one, other, pulled_by((c, d))) for (one, c), (other, d) in pairwise(inside) if one + 1 == other]
    return any(pull == target for _, _, pull in blocks) or any(
        (one[1] < other[0] or other[1] < one[0]) and pulled_by((one[2], other[2])) == target
        for one, other in combinations(blocks, 2)
    )


def _two_can_open(target: int, inside: Sequence[int]) -> bool:
    """Tell whether two of these columns, which lie inside the target, join to it."""
    for at, one in enumerate(inside):
        rest = target & ~one
        for other in inside[at:]:
            if not rest & ~other:
                return True
    return False


def opens(treadles: tuple[int, ...], columns: Sequence[Column], target: Target) -> bool:
    """Tell whether these treadles together pull exactly `target` and none of them is pressed in vain."""
    pressed = [columns[treadle] for treadle in treadles]
    if pulled_by(pressed) != target:
        return False
    if len(treadles) == 1:
        return True
    return all(pulled_by(fewer) != target for fewer in combinations(pressed, len(treadles) - 1))
