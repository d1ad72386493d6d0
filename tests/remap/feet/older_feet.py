"""Feet by the older model, pick after pick: what the prices of whole orders are checked against."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from companion.remap.feet.footwork import BOTH_FEET, QUARTERS, foot_cost, travel
from companion.remap.feet.place_tieup import Walk
from companion.remap.loom.loom import Footing
from companion.remap.loom.targets import Target


def pick_cost(before: Footing, now: Footing, treadles: int) -> int:
    """Return what the footing `now` costs after `before`, on a loom of `treadles` treadles."""
    return (
        foot_cost(before.left, now.left, False, treadles)
        + foot_cost(before.right, now.right, True, treadles)
        + (BOTH_FEET if now.left and now.right else 0)
    )


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
