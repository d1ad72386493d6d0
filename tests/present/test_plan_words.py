"""What a plan says of itself in a line, in the weaver's units."""

from __future__ import annotations

import pytest

from companion.draft.units import Units
from companion.present.plan_words import note_words, taken_words
from companion.weaving.agreement import LengthDisagrees, PicksDisagree
from tests.weaving.world import lever_draft, lever_warp


@pytest.mark.parametrize(
    ("note", "metric", "inch"),
    [
        (
            PicksDisagree(0, 5.0, 2.0),
            "is planned at 5 picks per cm, its draft spaces them for 2; the plan counts",
            "is planned at 12.7 picks per inch, its draft spaces them for 5.08; the plan counts",
        ),
        (
            LengthDisagrees(0, 30.48, 2.54),
            "is planned 30.48 cm long, its treadling makes 2.5 cm; warp and weft are counted for the planned length, "
            "with the treadling begun over again",
            "is planned 12 in long, its treadling makes 1.0 in; warp and weft are counted for the planned length, "
            "with the treadling begun over again",
        ),
        (
            LengthDisagrees(0, 2.54, 30.48),
            "is planned 2.54 cm long, its treadling makes 30.5 cm; warp and weft are counted by the treadling",
            "is planned 1 in long, its treadling makes 12.0 in; warp and weft are counted by the treadling",
        ),
        (
            LengthDisagrees(0, 2.54, None),
            "is planned 2.54 cm long, but its picks per cm are not known; its weft is counted for its treadling once",
            "is planned 1 in long, but its picks per inch are not known; its weft is counted for its treadling once",
        ),
    ],
)
def test_what_does_not_agree_is_said_with_what_counts(note, metric, inch):
    warp = lever_warp(lever_draft([0, 1]))
    assert note_words(warp, [note], Units.METRIC) == (f"piece 1 (piece 1) {metric}",)
    assert note_words(warp, [note], Units.INCH) == (f"piece 1 (piece 1) {inch}",)


def test_what_a_new_warp_takes_is_said_with_what_is_over_or_short():
    assert taken_words(None, 300, Units.METRIC) == "Give the picks per cm to see how much warp it takes"
    assert taken_words(254, None, Units.INCH) == "It takes 100 in (2.78 yd) of warp"
    assert taken_words(254, 254, Units.METRIC) == "It takes 254 cm of warp: 0 cm over"
    assert taken_words(254, 203.2, Units.INCH) == "It takes 100 in (2.78 yd) of warp: 20 in short"
    # What is lacking is never rounded down.
    assert taken_words(254, 253.7, Units.METRIC) == "It takes 254 cm of warp: 1 cm short"
    assert taken_words(80.33, 90.5, Units.METRIC) == "It takes 81 cm of warp: 10 cm over"


def test_what_is_over_is_at_most_so_much_where_something_that_takes_warp_is_not_told():
    left_out = ("take-up", "loom waste")
    assert taken_words(33, 500, Units.METRIC, left_out) == (
        "It takes 33 cm of warp, take-up and loom waste not counted: at most 467 cm over"
    )
    assert taken_words(600, 500, Units.METRIC, ("take-up",)) == (
        "It takes 600 cm of warp, take-up not counted: at least 100 cm short"
    )
