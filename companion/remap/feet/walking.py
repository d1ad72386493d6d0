"""What the feet walk on a treadling, and the feet that pay least on one tie-up, by the model of `presses`.

Lemmas and proofs: assets/mathematics.md, "Feet first".
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice, product
from math import prod

import numpy as np

from companion.remap.feet.presses import (
    FREE,
    SAME_FOOT,
    STRIDE,
    WIDTH,
    FootPress,
    as_wished,
    place_of,
    press_of,
    presses_of,
    ways_to_open,
)
from companion.remap.feet.walks import Walks
from companion.remap.loom.loom import Footing
from companion.remap.loom.pressing import Run
from companion.remap.loom.wished import AS_IT_COMES, WishedFeet
from companion.remap.search.choices import Ints

MOST_WAYS = 1_000
"""How many combinations of ways to stand are weighed on one tie-up; beyond, shed after shed improves."""
FEW_SPLITS = 3
MOST_CELLS = 2_000_000
"""How many steps of candidates are worked out for one tie-up at most, and half of these at once."""
PLACES = 256
"""Places are less: 76 quarters on twenty treadles."""
PLACES = 256
"""Places are less: 76 quarters on twenty treadles."""


@dataclass(frozen=True, slots=True)
class FixedFeet:
    """The lightest feet found on a tie-up: a press per target and the cost.

    Treadles below `split` are the left foot's. `complete`: no other feet are lighter. `weighed` candidates were tried.
    """

    split: int
    presses: tuple[FootPress, ...]
    cost: int
    complete: bool
    weighed: int


def travelled(footings: Iterable[Footing]) -> float:
    """Return how far the feet travel, in treadle widths; each from where it pressed last."""
    quarters = 0
    last = [FREE, FREE]
    for footing in footings:
        for foot, run in enumerate((footing.left, footing.right)):
            if run:
                at = place_of(run)
                quarters += abs(at - last[foot]) if last[foot] != FREE else 0
                last[foot] = at
    return quarters / WIDTH


def mirrored_feet(feet: FixedFeet, treadles: int) -> FixedFeet:
    """Return the feet on a row of so many treadles that is turned round: left is right."""
    split = treadles - feet.split

    def turned(run: Run) -> Run:
        return tuple(treadles - 1 - t for t in reversed(run))

    presses = tuple(press_of(turned(press.right), turned(press.left), split) for press in feet.presses)
    return replace(feet, split=split, presses=presses)


def walked(walk: Walks, left: Ints, right: Ints) -> Ints:
    """Return what each candidate's feet walk (candidates, int64).

    `left` and `right` say where each foot presses for each target: candidates x targets, int64, quarters or `FREE`.
    """
    return _one_foot(walk, left) + _one_foot(walk, right)


def priced(walk: Walks, presses: tuple[FootPress, ...]) -> int:
    """Return what these feet cost, a press for each target."""
    return _costs(walk, [(0, presses)])[0]


def best_feet_on(
    walk: Walks,
    columns: Sequence[int],
    reach: int,
    near: int | None = None,
    below: int | None = None,
    wished: WishedFeet = AS_IT_COMES,
) -> FixedFeet | None:
    """Return the lightest feet on this tie-up as it stands, or None where some target does not open as is wished.

    Every division (only those beside `near` where that is given) and every combination of ways is weighed up to
    `MOST_WAYS`; beyond, target after target improves on the `FEW_SPLITS` divisions that begin lightest. None too where
    no feet on it can cost less than `below`, by what they pay beside the walk.
    """
    options = _options(walk, columns, reach, near, wished)
    if not options:
        return None
    if below is not None:
        options = [(split, presses) for split, presses in options if _least_extra(walk, presses) < below]
        if not options:
            return None
    most = max(1, min(MOST_WAYS, MOST_CELLS // max(1, len(walk.steps))))
    if sum(prod(map(len, presses)) for _, presses in options) <= most:
        every = ((split, stand) for split, presses in options for stand in product(*presses))
        return _lightest(walk, every, wished)
    starts = [_simplest(presses) for _, presses in options]
    if len(options) > FEW_SPLITS:
        costs = _costs(walk, [(split, stand) for (split, _), stand in zip(options, starts, strict=True)])
        chosen = sorted(range(len(options)), key=lambda at: (costs[at], at))[:FEW_SPLITS]
    else:
        chosen = list(range(len(options)))
    found = [_improved_feet(walk, *options[at], starts[at], most, wished) for at in chosen]
    return min((feet for feet in found if feet is not None), key=lambda feet: feet.cost, default=None)


def rough_costs(
    walk: Walks, rows: Sequence[Sequence[int]], reach: int, near: int, wished: WishedFeet
) -> dict[int, int]:
    """Return about what the feet cost on those of these rows that open all as is wished, each shed in its simplest way.

    Only divisions beside `near` are looked at, and only the first steps of a long treadling.
    """
    stands: list[tuple[int, tuple[FootPress, ...]]] = []
    of: list[int] = []
    for at, columns in enumerate(rows):
        for split, presses in _options(walk, columns, reach, near, wished):
            stands.append((split, _simplest(presses)))
            of.append(at)
    found: dict[int, int] = {}
    if stands:
        short = walk.shortened(max(1, MOST_CELLS // len(stands)))
        for at, cost in zip(of, _costs(short, stands), strict=True):
            found[at] = min(cost, found.get(at, cost))
    return found


def _options(
    walk: Walks, columns: Sequence[int], reach: int, near: int | None, wished: WishedFeet
) -> list[tuple[int, list[tuple[FootPress, ...]]]]:
    """Return for each division the presses that open each target as is wished; none where a target stays shut."""
    ways = [ways_to_open(target, columns, reach) for target in walk.targets]
    if not all(ways):
        return []
    splits = sorted({0, *(t + 1 for t, column in enumerate(columns) if column)})
    if near is not None:
        splits = sorted(splits, key=lambda split: (abs(split - near), split))[:FEW_SPLITS]
    options = [(split, [presses_of(some, split) for some in ways]) for split in splits]
    if wished.anything:
        options = [(split, as_wished(presses, wished)) for split, presses in options]
        options = [(split, presses) for split, presses in options if all(presses)]
    return options


def _simplest(presses: Sequence[tuple[FootPress, ...]]) -> tuple[FootPress, ...]:
    return tuple(min(some, key=lambda press: press.extra) for some in presses)


def all_ways_weighed(walk: Walks, columns: Sequence[int], reach: int) -> bool:
    """Tell whether `best_feet_on` weighs every combination of ways here, so that what it does not find is not there."""
    ways = prod(reach * len(ways_to_open(target, columns, reach)) for target in walk.targets)
    return (len(columns) + 1) * ways <= min(MOST_WAYS, MOST_CELLS // max(1, len(walk.steps)))


def feet_as_wished(walk: Walks, columns: Sequence[int], reach: int, wished: WishedFeet) -> FixedFeet | None:
    """Return the lightest feet that keep most of what is wished; None where some target does not open."""
    found = (best_feet_on(walk, columns, reach, wished=some) for some in wished.less())
    return next((feet for feet in found if feet is not None), None)


def keeps(feet: FixedFeet, wished: WishedFeet) -> bool:
    """Tell whether these feet are as wished."""
    return not wished.anything or wished.kept([(press.left, press.right) for press in feet.presses])


def _least_extra(walk: Walks, presses: Sequence[tuple[FootPress, ...]]) -> int:
    return sum(picks * min(press.extra for press in some) for picks, some in zip(walk.picks, presses, strict=True))


def _improved_feet(
    walk: Walks,
    split: int,
    presses: Sequence[tuple[FootPress, ...]],
    now: tuple[FootPress, ...],
    most: int,
    wished: WishedFeet,
) -> FixedFeet | None:
    weighed = 0
    while True:
        near = [now] + [
            (*now[:k], press, *now[k + 1 :]) for k, some in enumerate(presses) if len(some) > 1 for press in some
        ]
        found = _lightest(walk, ((split, stand) for stand in near), wished)
        if found is None:
            return None
        weighed += found.weighed
        if found.presses == now or weighed > most:
            return FixedFeet(split, found.presses, found.cost, False, weighed)
        now = found.presses


def _one_foot(walk: Walks, places: Ints) -> Ints:
    at = places.astype(np.int32)[:, walk.steps]
    # Where a foot pressed last is carried along in one number with the step at which it did.
    step = PLACES * np.arange(at.shape[1], dtype=np.int32)
    last = np.maximum.accumulate(np.where(at >= 0, step + at, -1), axis=1)[:, :-1]
    at = at[:, 1:]
    apart = np.where((at >= 0) & (last >= 0), abs(at - last % PLACES), 0)
    price = apart + STRIDE * (apart > WIDTH) + SAME_FOOT * ((apart > 0) & (last >= step[:-1]))
    cost: Ints = price @ walk.weight[1:]
    return cost


def _lightest(
    walk: Walks, candidates: Iterator[tuple[int, tuple[FootPress, ...]]], wished: WishedFeet
) -> FixedFeet | None:
    if wished.anything:
        candidates = (one for one in candidates if wished.kept([(press.left, press.right) for press in one[1]]))
    at_once = max(1, MOST_CELLS // 2 // max(1, len(walk.steps)))
    best: tuple[int, int, tuple[FootPress, ...]] | None = None
    weighed = 0
    while some := list(islice(candidates, at_once)):
        weighed += len(some)
        cost = _costs(walk, some)
        at = min(range(len(cost)), key=cost.__getitem__)
        if best is None or cost[at] < best[0]:
            best = cost[at], *some[at]
    if best is None:
        return None
    return FixedFeet(best[1], best[2], best[0], True, weighed)


def _costs(walk: Walks, candidates: Sequence[tuple[int, tuple[FootPress, ...]]]) -> list[int]:
    left = np.array([[press.place_left for press in stand] for _, stand in candidates], dtype=np.int64)
    right = np.array([[press.place_right for press in stand] for _, stand in candidates], dtype=np.int64)
    extra = np.array([[press.extra for press in stand] for _, stand in candidates], dtype=np.int64)
    picks = np.array(walk.picks, dtype=np.int64)
    costs: list[int] = (walked(walk, left, right) + extra.reshape(len(candidates), len(picks)) @ picks).tolist()
    return costs
