"""How a shed can be pressed, and what the feet pay: the model of the aim `feet`.

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

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from companion.remap.loom.feet_wish import FirstFoot, TabbyPlace
from companion.remap.loom.pressing import Run, runs
from companion.remap.loom.wished import WishedFeet

WIDTH = 4
STRIDE = 2
SAME_FOOT = 12
BOTH_FEET = 100
TWO_UNDER_ONE = 30
ACROSS = 14

FREE = -1
"""Where a foot presses nothing."""


@dataclass(frozen=True, slots=True)
class FootPress:
    """One way to open a shed: the treadles under each foot, and what each pick of it costs beside the walk."""

    left: Run
    right: Run
    extra: int
    place_left: int
    place_right: int
    """Where each foot presses, in quarters, or `FREE`."""


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


def ways_to_open(target: int, columns: Sequence[int], reach: int) -> list[tuple[Run, Run]]:
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


def presses_of(ways: Sequence[tuple[Run, Run]], split: int) -> tuple[FootPress, ...]:
    """Return the presses of ways where treadles below `split` are the left foot's: a lone foot presses its own."""
    found: list[FootPress] = []
    for one, other in ways:
        if other or not one:
            found.append(press_of(one, other, split))
        else:
            if one[0] < split:
                found.append(press_of(one, (), split))
            if one[-1] >= split:
                found.append(press_of((), one, split))
    return tuple(found)


def as_wished(presses: Sequence[tuple[FootPress, ...]], wished: WishedFeet) -> list[tuple[FootPress, ...]]:
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
