"""Of rows that cost the same the one that legs learn soonest: each foot begins outside and comes in, the left first.

A half that is turned round costs the same, and so does the whole row with the feet exchanged (Lemma F3). So a straight
treadling on eight treadles is walked 1 8 2 7 3 6 4 5, and not 4 5 3 6 2 7 1 8. Weavers walk so (common practice, no
source); it is our choice that the left foot starts where nobody has said which.

Lemmas and proofs: assets/mathematics.md, "Feet first".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from companion.remap.feet.presses import press_of
from companion.remap.feet.walking import FixedFeet, keeps, mirrored_feet, priced
from companion.remap.feet.walks import Walks
from companion.remap.loom.pressing import Run
from companion.remap.loom.wished import WishedFeet

Row = tuple[int, ...]


def in_walking_order(walk: Walks, columns: Row, feet: FixedFeet, wished: WishedFeet) -> tuple[Row, FixedFeet]:
    """Return the row, or one that costs the same with its halves turned round or its feet exchanged, and its feet."""
    return min(
        (
            (row, other)
            for row, other in _turned(columns, feet)
            if keeps(other, wished) and priced(walk, other.presses) == feet.cost
        ),
        key=lambda one: _clumsiness(one[1], len(columns)),
        default=(columns, feet),
    )


def _turned(columns: Row, feet: FixedFeet) -> Iterator[tuple[Row, FixedFeet]]:
    every, split = range(len(columns)), feet.split
    left, right = every[:split], every[split:]
    for order in ([*left, *right], [*left[::-1], *right], [*left, *right[::-1]], [*left[::-1], *right[::-1]]):
        moved = _moved(feet, order)
        if moved is not None:
            row = tuple(columns[t] for t in order)
            yield row, moved
            yield row[::-1], mirrored_feet(moved, len(columns))


def _moved(feet: FixedFeet, order: Sequence[int]) -> FixedFeet | None:
    """Return the feet where treadle `order[t]` lies at `t`; None where two treadles under one foot are parted."""
    at = {treadle: t for t, treadle in enumerate(order)}
    presses = []
    for press in feet.presses:
        left, right = (tuple(sorted(at[t] for t in run)) for run in (press.left, press.right))
        if left and right and left[0] > right[0]:
            left, right = right, left
        if _parted(left) or _parted(right) or (left and right and left[-1] >= right[0]):
            return None
        presses.append(press_of(left, right, feet.split))
    return replace(feet, presses=tuple(presses))


def _parted(run: Run) -> bool:
    return len(run) > 1 and run[-1] - run[0] != len(run) - 1


def _clumsiness(feet: FixedFeet, treadles: int) -> tuple[list[int], list[int], bool]:
    """Return how far from the outside each foot first comes to its treadles, and whether the right one starts."""
    left: dict[int, None] = {}
    right: dict[int, None] = {}
    for press in feet.presses:
        left.update(dict.fromkeys(press.left))
        right.update(dict.fromkeys(treadles - 1 - t for t in press.right))
    first = next((press for press in feet.presses if press.left or press.right), None)
    longer, other = sorted((list(left), list(right)), key=len, reverse=True)
    return longer, other, first is not None and not first.left
