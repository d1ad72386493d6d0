"""What a footing costs the weaver, in the one place where it is said, and the feet that cost least for a treadling.

The model, with its reasons. Costs are whole numbers, a quarter of a treadle's width being 1, so that equal is equal.

- *Travel.* A foot costs the way to its treadle. A foot that pressed the pick before comes from that treadle; a foot
  that was free comes from its home, the middle of its half of the treadles: the weaver sits before the middle of
  the loom and a free foot has had a whole pick's time to come back under its hip.
- *Same foot twice running* on another treadle: `SAME_FOOT`. It must let go, travel and press between two beats, where
  the other foot could have stood ready. A foot that stays on its treadle costs nothing.
- *Both feet at once*: `BOTH_FEET`. Two presses must be even, or the shed is not clear.
- *One foot on two treadles*: `TWO_UNDER_ONE`. It must be placed with care, and the side of the foot carries the load.
- *Reaching across the middle*: `ACROSS` for a foot that presses in the other foot's half. Dearer than the same foot
  twice, so that a treadle keeps the foot of its side, which is what a weaver's legs remember.

That feet should alternate and that heavy use belongs near the middle of each half is common practice, no source; the
weights are our own choice within that, measured on no weaver. The cost of a pick depends only on its footing and
on the footing before it; that is what makes the best feet, and the best order (`ordering`), computable exactly.

Lemmas and proofs: assets/mathematics.md, "Feet and orders".
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from companion.remap.loom.loom import Footing
from companion.remap.loom.pressing import Run
from companion.remap.loom.targets import Target

QUARTERS = 4
"""Cost of travelling the width of one treadle."""
SAME_FOOT = 8
BOTH_FEET = 6
TWO_UNDER_ONE = 10
ACROSS = 14


def centre_of(run: Run) -> int:
    """Return where the middle of a run lies, in quarters of a treadle from the middle of treadle 1."""
    return 2 * (run[0] + run[-1])


def home_of(right: bool, treadles: int) -> int:
    """Return where a free foot rests, in quarters: for 4 treadles 3 (left foot) and 9 (right foot)."""
    return (treadles - 1) * (3 if right else 1)


def travel(before: Run, now: Run, right: bool, treadles: int) -> int:
    """Return the way of one foot to its treadle, in quarters; 0 for a foot that is free now."""
    if not now or now == before:
        return 0
    origin = centre_of(before) if before else home_of(right, treadles)
    return abs(centre_of(now) - origin)


def foot_cost(before: Run, now: Run, right: bool, treadles: int) -> int:
    """Return what one foot's part of a pick costs, after its part in the pick before."""
    if not now:
        return 0
    cost = travel(before, now, right, treadles)
    if before and before != now:
        cost += SAME_FOOT
    if len(now) > 1:
        cost += TWO_UNDER_ONE
    beyond = centre_of(now) - 2 * (treadles - 1)
    if beyond < 0 if right else beyond > 0:
        cost += ACROSS
    return cost


def pick_cost(before: Footing, now: Footing, treadles: int) -> int:
    """Return what the footing `now` costs after `before`, on a loom of `treadles` treadles."""
    return (
        foot_cost(before.left, now.left, False, treadles)
        + foot_cost(before.right, now.right, True, treadles)
        + (BOTH_FEET if now.left and now.right else 0)
    )


@dataclass(frozen=True, slots=True)
class Walk:
    """The feet of a treadling: a footing per pick, what they cost, and how far they travel, in treadle widths."""

    footings: tuple[Footing, ...]
    cost: int
    travel_widths: float


def walked(footings: Sequence[Footing], treadles: int) -> Walk:
    """Add up cost and travel of a sequence of footings; before the first pick both feet are at home."""
    cost = quarters = 0
    before = Footing()
    for now in footings:
        cost += pick_cost(before, now, treadles)
        quarters += travel(before.left, now.left, False, treadles)
        quarters += travel(before.right, now.right, True, treadles)
        before = now
    return Walk(tuple(footings), cost, quarters / QUARTERS)


def best_feet(treadling: Sequence[Target], choices: Mapping[Target, Sequence[Footing]], treadles: int) -> Walk:
    """Choose for every pick one of the footings of its target so that the whole treadling costs least.

    `treadling` is a target per pick, `choices` the footings of each. Exact, by dynamic programming over the picks
    (Bellman's principle: of all ways to stand on a footing at a pick only the cheapest can go on); among
    equals the footing that comes first in `choices`. Raises KeyError for a target without choices.
    """
    steps: dict[tuple[Target, Target], list[list[int]]] = {}
    costs = [0]
    came_from: list[list[int]] = []
    before_target: Target | None = None
    for target in treadling:
        now = choices[target]
        if before_target is None:
            step = [[pick_cost(Footing(), footing, treadles)] for footing in now]
        else:
            known = steps.get((before_target, target))
            if known is None:
                known = [[pick_cost(old, new, treadles) for old in choices[before_target]] for new in now]
                steps[before_target, target] = known
            step = known
        new_costs, origins = [], []
        for row in step:
            totals = [cost + extra for cost, extra in zip(costs, row, strict=True)]
            least = min(totals)
            new_costs.append(least)
            origins.append(totals.index(least))
        costs = new_costs
        came_from.append(origins)
        before_target = target
    return walked(_traced_back(treadling, choices, costs, came_from), treadles)


def _traced_back(
    treadling: Sequence[Target],
    choices: Mapping[Target, Sequence[Footing]],
    costs: list[int],
    came_from: list[list[int]],
) -> list[Footing]:
    at = costs.index(min(costs))
    feet: list[Footing] = []
    for target, origins in zip(reversed(treadling), reversed(came_from), strict=True):
        feet.append(choices[target][at])
        at = origins[at]
    return feet[::-1]
