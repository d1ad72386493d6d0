"""What the feet pay for some of the picks that one tie-up weaves, such as one piece of several.

The price of a walk: assets/mathematics.md, "Feet first".
"""

from __future__ import annotations

from collections.abc import Sequence

from companion.remap.feet.least_footwork import least_footwork
from companion.remap.feet.presses import press_of
from companion.remap.feet.tied_stage import Footwork
from companion.remap.feet.walking import priced, travelled
from companion.remap.feet.walks import walks_of
from companion.remap.loom.loom import Footing, Loom
from companion.remap.loom.targets import Target


def footwork_of_part(picks: Sequence[Target], footings: Sequence[Footing], loom: Loom) -> Footwork:
    """Price these feet for these picks alone, the treadles divided wherever that is lightest for them.

    Each target has one footing throughout. `at_least` is of all tie-ups that such a loom can have for these picks.
    """
    walk = walks_of(picks)
    stands: dict[int, Footing] = dict(zip(picks, footings, strict=True))
    cost = min(
        priced(walk, tuple(press_of(stands[target].left, stands[target].right, split) for target in walk.targets))
        for split in range(loom.treadles + 1)
        if all(_with_its_own_foot(footing, split) for footing in stands.values())
    )
    return Footwork(
        cost=cost,
        at_least=least_footwork(picks, loom.treadles, loom.reach, cost),
        both_feet_picks=sum(bool(footing.left and footing.right) for footing in footings),
        travel_widths=travelled(footings),
    )


def _with_its_own_foot(footing: Footing, split: int) -> bool:
    if footing.left and footing.right:
        return True
    one_left = len(footing.left) == 1 and footing.left[0] >= split
    one_right = len(footing.right) == 1 and footing.right[0] < split
    return not one_left and not one_right
