"""The older model of what a footing costs: it prices orders of treadles where cords come first; `walking` is the model.

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
on the footing before it; that is what makes the best order (`ordering`) computable exactly.

Lemmas and proofs: assets/mathematics.md, "Feet and orders".
"""

from __future__ import annotations

from companion.remap.loom.pressing import Run

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
