"""A plan by the finished size: setts as a handbook's summary has them, and sums that can be done on paper."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.weaving.errors import WeavingError
from companion.weaving.planning import Shares, Thread, Weave, Wish, plan, thread_needs, working_sett
from companion.weaving.yarn import Count, tex_of

NO_LOSS = Shares(0, 0, 0, 0)


@pytest.mark.parametrize(("weave", "per_inch"), [(Weave.PLAIN, 26.08), (Weave.TWILL, 34.78)])
def test_setts_are_three_quarters_of_the_closest(weave, per_inch):
    """8/2 cotton, 3,360 yd/lb: closest 26.08 ends an inch in plain weave, 34.78 in 2/2 twill, working sett about 3/4
    (a summary of T.R. Ashenhurst)."""
    assert working_sett(tex_of(8, Count.COTTON, 2), weave) * 2.54 == pytest.approx(0.75 * per_inch, abs=0.01)


def test_lace_is_set_more_open_than_plain_weave_and_twill_closer():
    tex = tex_of(8, Count.COTTON, 2)
    assert working_sett(tex, Weave.LACE) < working_sett(tex, Weave.PLAIN) < working_sett(tex, Weave.TWILL)


def test_a_scarf_reckoned_on_paper():
    """90 x 180 cm finished; 10 % off each way in the wash, 10 % draw-in, 20 % take-up, 50 cm waste, 30 cm fringe."""
    wish = Wish(81, 180, 8, 6, Shares(0.2, 0.1, 0.1, 0.1), waste_cm=50, fringe_cm=30, pieces=2)
    answer = plan(wish)
    assert answer.width_in_reed_cm == pytest.approx(100)
    assert answer.ends == 800
    assert answer.woven_cm == pytest.approx(200)
    assert answer.picks == 2400
    assert answer.warp_cm == pytest.approx(2 * (250 + 30) + 50)
    assert (answer.dent_ends, answer.dents) == ((), None)


def test_a_reed_settles_the_sett_and_the_ends():
    wish = Wish(100, 100, 6, None, NO_LOSS, 0, reed_per_cm=4)
    answer = plan(wish)
    assert (answer.sett, answer.dent_ends, answer.ends, answer.dents) == (6, (1, 2), 600, 400)
    assert (answer.picks_per_cm, answer.picks) == (6, 600)
    by_rule = plan(replace(wish, sett=7.7, sett_within=0.05))
    assert (by_rule.sett, by_rule.dent_ends, by_rule.ends, by_rule.picks) == (8, (2,), 800, 800)
    with pytest.raises(WeavingError, match="take another reed"):
        plan(replace(wish, reed_per_cm=20))


@pytest.mark.parametrize("wrong", [{"width_cm": 0}, {"sett": -1}, {"pieces": 0}, {"shares": Shares(take_up=1)}])
def test_what_cannot_be_planned_is_told(wrong):
    with pytest.raises(WeavingError, match="give a number"):
        replace(Wish(10, 10, 8, 8), **wrong)


@given(
    st.integers(1, 500),
    st.lists(st.builds(Thread, st.sampled_from(["sand", "sea", "oat"]), st.floats(1, 999)), min_size=1, max_size=9),
)
def test_every_thread_is_of_one_yarn_and_together_they_are_all(threads, order):
    needs = thread_needs(threads, order, {"sea": 100})
    assert sum(need.threads for need in needs) == threads
    told = [order[thread % len(order)] for thread in range(threads)]
    assert {need.name for need in needs} == {one.yarn for one in told}
    for need in needs:
        lengths = [one.length_cm for one in told if one.yarn == need.name]
        assert (need.threads, need.metres) == (len(lengths), pytest.approx(sum(lengths) / 100))
        assert need.grams == (None if need.name != "sea" else pytest.approx(need.metres / 10))
