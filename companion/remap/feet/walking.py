"""What the feet pay for a treadling on one tie-up, and the feet that pay least: the model of the aim `feet`.

The model, with its reasons. Costs are whole numbers; a quarter of a treadle's width is 1, so that equal is equal.

- *A treadle has its foot.* The treadles are divided once, the left ones to the left foot and the others to the right,
  wherever that is lightest: a weaver may sit before any place of the loom. A foot that presses alone presses its own.
- *A shed has its feet.* It is opened in one way throughout, and by a treadle of its own where it has one: the legs
  learn it. So what is priced is what is learnt, and a spare treadle that says the same again is no gain.
- *Both feet at once*: `BOTH_FEET` each pick, more than the longest way that one foot ever goes (19 treadles, a stride
  and a hurry: 90). One foot a pick comes before anything.
- *One foot on two treadles*: `TWO_UNDER_ONE` each pick, placed with care, the load on the side of the foot; dearer
  than a walk over six treadles, and still better than both feet.
- *Travel*: a foot comes from where it pressed last, and its first press is free. A foot at rest stays over its
  treadle, so treadles that are not in use cost nothing, wherever they are, unless a foot steps over them.
- *A stride*: `STRIDE` for a step past the neighbouring treadle. Of orders that are equally near the one that is walked
  step by step is lighter, so it can be learnt.
- *Same foot twice running* on another treadle: `SAME_FOOT`. It must let go, travel and press between two beats, where
  the other foot could have stood ready. A foot that stays on its treadle pays nothing.
- *Reaching across*: `ACROSS` for a foot on a treadle of the other's, which only picks with both feet ask for, or a foot
  that stands on the last treadle of one side and the first of the other.

Feet that alternate, a treadle that keeps its foot, tabby in a pair under one foot and treadles walked in order are
common practice, no source; the weights are our own choice within that, measured on no weaver. Where cords come first,
and in the stages of a plan of tying anew, it is this model too that chooses between as few cords.

Lemmas and proofs: assets/mathematics.md, "Feet first".
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import islice, product
from math import prod

import numpy as np

from companion.remap.feet.walks import Walks
from companion.remap.loom.feet_wish import FirstFoot, TabbyPlace
from companion.remap.loom.loom import Footing
from companion.remap.loom.pressing import Run, runs
from companion.remap.loom.wished import AS_IT_COMES, WishedFeet
from companion.remap.search.choices import Ints

WIDTH = 4
STRIDE = 2
SAME_FOOT = 12
BOTH_FEET = 100
TWO_UNDER_ONE = 30
ACROSS = 14

FREE = -1
"""Where a foot presses nothing."""

MOST_WAYS = 1_000
"""How many combinations of ways to stand are weighed on one tie-up; beyond, shed after shed improves."""
FEW_SPLITS = 3
MOST_CELLS = 2_000_000
"""How many steps of candidates are worked out for one tie-up at most, and half of these at once."""


@dataclass(frozen=True, slots=True)
class FootPress:
    """One way to open a shed: the treadles under each foot, and what each pick of it costs beside the walk."""

    left: Run
    right: Run
    extra: int
    place_left: int
    place_right: int
    """Where each foot presses, in quarters, or `FREE`."""


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


@cache
def press_of(left: Run, right: Run, split: int) -> FootPress:
    """Return the press of these runs where treadles below `split` are the left foot's."""
    extra = BOTH_FEET if left and right else 0
    extra += TWO_UNDER_ONE * ((len(left) > 1) + (len(right) > 1))
    extra += ACROSS * (any(t >= split for t in left) + any(t < split for t in right))
    return FootPress(left, right, extra, place_of(left), place_of(right))


def place_of(run: Run) -> int:
    """Return where a run lies, in quarters of a treadle from treadle 1; `FREE` for none."""
    return 2 * (run[0] + run[-1]) if run else FREE


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
    ways = [_ways_to_open(target, columns, reach) for target in walk.targets]
    if not all(ways):
        return None
    splits = sorted({0, *(t + 1 for t, column in enumerate(columns) if column)})
    if near is not None:
        splits = sorted(splits, key=lambda split: (abs(split - near), split))[:FEW_SPLITS]
    options = [(split, [_presses(some, split) for some in ways]) for split in splits]
    if wished.anything:
        options = [(split, _as_wished(presses, wished)) for split, presses in options]
        options = [(split, presses) for split, presses in options if all(presses)]
    if below is not None:
        options = [(split, presses) for split, presses in options if _least_extra(walk, presses) < below]
        if not options:
            return None
    most = max(1, min(MOST_WAYS, MOST_CELLS // max(1, len(walk.steps))))
    if sum(prod(map(len, presses)) for _, presses in options) <= most:
        every = ((split, stand) for split, presses in options for stand in product(*presses))
        return _lightest(walk, every, wished)
    starts = [tuple(min(some, key=lambda press: press.extra) for some in presses) for _, presses in options]
    if len(options) > FEW_SPLITS:
        costs = _costs(walk, [(split, stand) for (split, _), stand in zip(options, starts, strict=True)])
        chosen = sorted(range(len(options)), key=lambda at: (costs[at], at))[:FEW_SPLITS]
    else:
        chosen = list(range(len(options)))
    found = [_improved_feet(walk, *options[at], starts[at], most, wished) for at in chosen]
    return min((feet for feet in found if feet is not None), key=lambda feet: feet.cost, default=None)


def all_ways_weighed(walk: Walks, columns: Sequence[int], reach: int) -> bool:
    """Tell whether `best_feet_on` weighs every combination of ways here, so that what it does not find is not there."""
    ways = prod(reach * len(_ways_to_open(target, columns, reach)) for target in walk.targets)
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


def _ways_to_open(target: int, columns: Sequence[int], reach: int) -> list[tuple[Run, Run]]:
    """Return what may be pressed: by treadles of its own where there are any, else by every other way.

    A run by itself comes with an empty one.
    """
    if target == 0:
        return [((), ())]
    own = [t for t, column in enumerate(columns) if column == target]
    if own:
        return [((t,), ()) for t in own]
    pulled = {
        run: _pulled(run, columns)
        for run in runs(len(columns), reach)
        if all(columns[t] and not columns[t] & ~target for t in run)
    }
    found: list[tuple[Run, Run]] = [(run, ()) for run, pull in pulled.items() if pull == target]
    for one, first in pulled.items():
        for other, second in pulled.items():
            if one[-1] < other[0] and first | second == target and target not in (first, second):
                spared = any(columns[t] | second == target for t in one if len(one) > 1)
                if not spared and not any(columns[t] | first == target for t in other if len(other) > 1):
                    found.append((one, other))
    return found


def _presses(ways: Sequence[tuple[Run, Run]], split: int) -> tuple[FootPress, ...]:
    found = []
    for one, other in ways:
        if other or not one:
            found.append(press_of(one, other, split))
        else:
            if one[0] < split:
                found.append(press_of(one, (), split))
            if one[-1] >= split:
                found.append(press_of((), one, split))
    return tuple(found)


def _as_wished(presses: Sequence[tuple[FootPress, ...]], wished: WishedFeet) -> list[tuple[FootPress, ...]]:
    """Return the presses that are good by themselves: the first by the foot that starts, tabby by its foot."""
    good = list(presses)
    if wished.first is not None:
        right = wished.foot is FirstFoot.RIGHT
        good[wished.first] = tuple(press for press in good[wished.first] if (press.right if right else press.left))
    for k in wished.tabby or ():
        lone = [press for press in good[k] if len(press.left) + len(press.right) == 1]
        if wished.place is not TabbyPlace.OUTSIDE:
            lone = [press for press in lone if (press.left if wished.place is TabbyPlace.LEFT else press.right)]
        good[k] = tuple(lone)
    return good


def _pulled(run: Run, columns: Sequence[int]) -> int:
    pulled = 0
    for t in run:
        pulled |= columns[t]
    return pulled


def _one_foot(walk: Walks, places: Ints) -> Ints:
    at = places.astype(np.int32)[:, walk.steps]
    here = np.arange(at.shape[1], dtype=np.int32)
    last = np.full_like(at, -1)
    if at.shape[1] > 1:
        last[:, 1:] = np.maximum.accumulate(np.where(at >= 0, here, -1), axis=1)[:, :-1]
    before = np.take_along_axis(at, np.maximum(last, 0), axis=1)
    apart = np.where((at >= 0) & (last >= 0), abs(at - before), 0)
    price = apart + STRIDE * (apart > WIDTH) + SAME_FOOT * ((apart > 0) & (last == here - 1))
    cost: Ints = price @ walk.weight
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
