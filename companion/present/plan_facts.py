"""The facts of a cloth that is planned by touch: what each is called and means, its bounds, and how it is read."""

from __future__ import annotations

from collections.abc import Mapping

from companion.draft.unit_readings import (
    NumberReading,
    density_reading,
    length_reading,
    share_reading,
    usual_length,
    weight_reading,
)
from companion.draft.units import Units
from companion.present.cloth_plan_words import usual_value
from companion.present.number_pad import Wanted
from companion.weaving.cloth_plan import MOST_LAYERS, SHARES, USUAL, PlanFact, PlanFacts

NOT_SET = "not set"
USUALLY = "as usual"

NAMES: Mapping[PlanFact, str] = {
    PlanFact.WIDTH: "Finished width",
    PlanFact.LENGTH: "Finished length",
    PlanFact.PIECES: "Pieces",
    PlanFact.SETT: "Sett",
    PlanFact.LAYERS: "Layers",
    PlanFact.PICKS: "Picks",
    PlanFact.REED: "Reed",
    PlanFact.TAKE_UP: "Take-up",
    PlanFact.DRAW_IN: "Draw-in",
    PlanFact.SHRINKAGE: "Shrinkage in length",
    PlanFact.SHRINKAGE_WIDTH: "Shrinkage in width",
    PlanFact.WASTE: "Loom waste",
    PlanFact.FRINGE: "Fringe of each piece",
    PlanFact.PUT_UP: "A cone or skein",
}
MEANINGS: Mapping[PlanFact, str] = {
    PlanFact.WIDTH: "Off the loom and washed",
    PlanFact.LENGTH: "Of one piece, off the loom and washed",
    PlanFact.PIECES: "Alike, on one warp",
    PlanFact.SETT: "Ends, as they are sleyed",
    PlanFact.LAYERS: "Cloths one above the other, each set as if it were alone",
    PlanFact.PICKS: "On the loom, under tension",
    PlanFact.REED: "Dents",
    PlanFact.TAKE_UP: "Of the warp, used up by bending over and under the weft",
    PlanFact.DRAW_IN: "Of the width in the reed, on the loom",
    PlanFact.SHRINKAGE: "Of the woven length, off the loom and in the wash",
    PlanFact.SHRINKAGE_WIDTH: "Of the woven width, off the loom and in the wash",
    PlanFact.WASTE: "At both ends together, for one warp",
    PlanFact.FRINGE: "Unwoven, both ends of a piece together",
    PlanFact.PUT_UP: "What it weighs as you buy it",
}
LENGTHS = frozenset({PlanFact.WIDTH, PlanFact.LENGTH, PlanFact.WASTE, PlanFact.FRINGE})
CLOSE = frozenset({PlanFact.SETT, PlanFact.PICKS, PlanFact.REED})
BOUNDS: Mapping[PlanFact, tuple[float, float]] = {
    PlanFact.WIDTH: (1, 1_000),
    PlanFact.LENGTH: (1, 20_000),
    PlanFact.PIECES: (1, 100),
    PlanFact.SETT: (0.4, 100),
    PlanFact.LAYERS: (1, MOST_LAYERS),
    PlanFact.PICKS: (0.4, 100),
    PlanFact.REED: (0.4, 40),
    **dict.fromkeys(SHARES, (0, 60)),
    PlanFact.WASTE: (0, 500),
    PlanFact.FRINGE: (0, 500),
    PlanFact.PUT_UP: (1, 20_000),
}
"""From and to, in cm, per cm, layers, percent, pieces or grams."""
BEGUN_CM: Mapping[PlanFact, float] = {PlanFact.WIDTH: 50, PlanFact.LENGTH: 70}
"""A tea towel (common practice, no source)."""


def value_words(told: PlanFacts, fact: PlanFact, units: Units) -> str:
    """Return what is told of a fact: `18 in`; else what is usual, `5 %, as usual`, or that it is not set."""
    if fact in told:
        reading = _reading(fact, units)
        return f"{reading.number(told[fact])} {reading.sign}".rstrip()
    if fact in USUAL:
        return f"{usual_value(fact, units)}, {USUALLY}"
    return {PlanFact.PIECES: "1", PlanFact.PICKS: "as close as the ends"}.get(fact, NOT_SET)


def wanted(told: PlanFacts, fact: PlanFact, units: Units) -> Wanted:
    """Return what the number pad asks for: begun with what is told, or usual."""
    reading = _reading(fact, units)
    least, most = BOUNDS[fact]
    first = usual_length(BEGUN_CM[fact], units) if fact in BEGUN_CM else None
    begun = told.get(fact, USUAL.get(fact, first))
    usual = f"; usual: {usual_value(fact, units)} (common practice)" if fact in USUAL else ""
    return Wanted(
        NAMES[fact],
        reading.sign,
        reading.least(least),
        reading.most(most),
        reading.decimals,
        "" if begun is None else reading.number(begun),
        f"{MEANINGS[fact]}{usual}",
    )


def amount(fact: PlanFact, number: float, units: Units) -> float:
    """Return, in metric units, what a number that was typed stands for."""
    return _reading(fact, units).amount(number)


def _reading(fact: PlanFact, units: Units) -> NumberReading:
    if fact in LENGTHS:
        return length_reading(units)
    if fact in CLOSE:
        return density_reading(units)
    if fact is PlanFact.PUT_UP:
        return weight_reading(units)
    return share_reading() if fact in SHARES else NumberReading("", 0, 1.0)
