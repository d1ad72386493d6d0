"""The line of amounts on the weave screen: what is left, and early what will not reach."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.units import Units
from companion.present.weave import weave_signs
from companion.present.weave_words import amounts_wordings, bobbin_wordings
from companion.present.wording import short_time_words
from companion.weaving import decide
from companion.weaving.forecast import Forecast
from companion.weaving.pick_view import this_pick
from companion.weaving.warp import Winding
from tests.weaving.world import AtLoom, lever_draft, lever_warp


def line_at(loom, units=Units.METRIC):
    return amounts_wordings(loom.warp, loom.progress, units)[0]


def shown_at(loom):
    return weave_signs(loom.warp, loom.progress, this_pick(loom.warp, loom.progress), Units.METRIC).amounts[0]


def test_the_weaver_sees_early_for_which_piece_the_warp_is_short():
    # Three pieces of 10 cm with 2 cm of fringe take 36 cm of warp.
    warp = lever_warp(*[lever_draft([0] * 20)] * 3, picks_per_cm=2.0, fringe_cm=2.0)
    loom = AtLoom(replace(warp, winding=Winding(40.0)))
    loom.weave(2)
    assert line_at(loom) == "39 cm of warp"
    assert line_at(loom, Units.INCH) == "15 in of warp"
    loom.do(decide.measure, 2.0)
    assert line_at(loom) == "warp 6 cm short for piece 3"
    assert line_at(loom, Units.INCH) == "warp 3 in short for piece 3"


def test_at_the_end_of_a_piece_the_weaver_sees_how_much_warp_is_left_for_the_next():
    warp = lever_warp(*[lever_draft([0] * 20)] * 2, picks_per_cm=2.0)
    loom = AtLoom(replace(warp, winding=Winding(40.0)))
    loom.weave(20)
    assert shown_at(loom) == "30 cm of warp"
    loom.do(decide.finish_piece)
    assert shown_at(loom) == "30 cm of warp"


@pytest.mark.parametrize(
    ("minutes", "certain", "words"),
    [
        ((20, 40), True, "20–40 min left"),
        ((100, 150), True, "1.7–2.5 h left"),
        ((20.1, 20.3), True, "20 min left"),
        ((0.4, 3), True, "up to 3 min left"),
        ((0.2, 0.9), True, "under 1 min left"),
        ((20, 40), False, "20–40 min or more left"),
    ],
)
def test_the_time_to_the_end_is_said_whenever_it_is_known(minutes, certain, words):
    least_ms, most_ms = (round(60_000 * each) for each in minutes)
    assert short_time_words(Forecast(7, (least_ms + most_ms) // 2, least_ms, most_ms, certain)) == words


def test_a_bobbin_that_is_known_is_told_down_to_its_last_pick():
    loom = AtLoom(replace(lever_warp(lever_draft([0] * 20), picks_per_cm=2.0), width_cm=50.0))
    loom.do(decide.change_bobbin, 0, 1.2)
    # One pick takes 50 cm and a tenth: two of them are on 1.2 m.
    for words in (("2 picks on it", "2 picks"), ("1 pick on it", "1 pick"), ("bobbin empty", "empty")):
        assert bobbin_wordings(loom.warp, loom.progress, this_pick(loom.warp, loom.progress), Units.METRIC) == words
        loom.weave(1)
