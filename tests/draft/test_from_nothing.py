"""A draft begun from nothing: draws, twills and colours come out as a weaver would write them down."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.cloth import interlacement
from companion.draft.errors import DraftError
from companion.draft.from_nothing import PLAIN, Begun, Draw, InOrder, Twill, threads_of, twills_on
from companion.draft.masks import shafts_of
from companion.draft.model import MOST_THREADS, Colour, Yarn

YARNS = (Yarn("oat", Colour(220, 207, 174)), Yarn("sea", Colour(26, 90, 120)))
STRAIGHT = Begun(4, 6, YARNS, (Draw(0, 3, times=3),), (Draw(0, 3, times=2),), Twill(2, 2))


def counted_from_one(indices):
    return [index + 1 for index in indices]


@pytest.mark.parametrize(
    ("run", "written"),
    [
        (Draw(0, 3), [1, 2, 3, 4]),
        (Draw(3, 0), [4, 3, 2, 1]),
        (Draw(0, 3, there_and_back=True), [1, 2, 3, 4, 3, 2]),
        (Draw(3, 0, there_and_back=True), [4, 3, 2, 1, 2, 3]),
        (Draw(0, 1, there_and_back=True), [1, 2]),
        (Draw(2, 2), [3]),
        (Draw(2, 2, there_and_back=True), [3]),
    ],
)
def test_a_run_goes_either_way_and_doubles_no_point(run, written):
    assert counted_from_one(run.once) == written
    assert run.threads == len(written)


def test_a_two_two_twill_ties_neighbouring_shafts_and_plain_weave_on_the_two_treadles_left():
    # The standard tie-up of four shafts: 1 2, 2 3, 3 4, 4 1 and tabby 1 3, 2 4 (common practice, no source).
    tieup = STRAIGHT.draft().lifting.tieup
    assert [shafts_of(tie) for tie in tieup] == [(1, 2), (2, 3), (3, 4), (1, 4), (1, 3), (2, 4)]


def test_no_plain_weave_is_tied_where_the_threading_cannot_weave_it():
    odd = replace(STRAIGHT, shafts=3, treadles=5, threading=(Draw(0, 2, times=4),), treadling=(Draw(0, 2),))
    tieup = replace(odd, twill=Twill(2, 1)).draft().lifting.tieup
    assert [shafts_of(tie) for tie in tieup] == [(1, 2), (2, 3), (1, 3), (), ()]


def test_without_a_twill_every_treadle_is_untied():
    assert set(replace(STRAIGHT, twill=None).draft().lifting.tieup) == {0}


def test_a_straight_draw_of_a_twill_woven_straight_weaves_that_twill():
    # A twill moves over by one end at each pick: row p is row 0 shifted by p (the definition of a twill).
    cloth = interlacement(STRAIGHT.draft())
    first = cloth[0]
    assert all((row == [first[(end - pick) % 4] for end in range(12)]).all() for pick, row in enumerate(cloth))


def test_colours_go_on_from_their_beginning_to_the_last_thread():
    draft = replace(STRAIGHT, warp=(InOrder(0, 2), InOrder(1, 1)), weft=(InOrder(1, 4), InOrder(0, 1))).draft()
    assert draft.warp == (0, 0, 1) * 4
    assert draft.weft == (1, 1, 1, 1, 0, 1, 1, 1)


@pytest.mark.parametrize("shafts", range(1, 17))
def test_every_twill_offered_comes_out_even(shafts):
    offered = twills_on(shafts)
    assert all(shafts % twill.period == 0 and twill.up >= 1 and twill.down >= 1 for twill in offered)
    assert (PLAIN in offered) == (shafts % 2 == 0)
    assert len(set(offered)) == len(offered)


def test_what_cannot_be_woven_is_refused_with_its_number():
    with pytest.raises(DraftError, match="shaft 5 of 4"):
        replace(STRAIGHT, threading=(Draw(0, 4),))
    with pytest.raises(DraftError, match="treadle 7 of 6"):
        replace(STRAIGHT, treadling=(Draw(6, 0),))
    with pytest.raises(DraftError, match="0 times"):
        Draw(0, 3, times=0)
    with pytest.raises(DraftError, match="threads"):
        replace(STRAIGHT, threading=(Draw(0, 3, times=MOST_THREADS),))
    with pytest.raises(DraftError, match="0 treadles"):
        replace(STRAIGHT, treadles=0, treadling=())
    with pytest.raises(DraftError, match="41 shafts"):
        replace(STRAIGHT, shafts=41)


draws = st.builds(Draw, st.integers(0, 7), st.integers(0, 7), st.booleans(), st.integers(1, 5))


@given(st.lists(draws, max_size=5), st.lists(draws, max_size=5), st.sampled_from(twills_on(8)))
def test_whatever_is_said_the_draft_has_the_threads_that_were_said(threading, treadling, twill):
    draft = Begun(8, 10, YARNS, tuple(threading), tuple(treadling), twill).draft()
    assert draft.ends == threads_of(threading)
    assert draft.picks == threads_of(treadling)
    assert list(draft.threading) == [shaft for run in threading for shaft in run.once * run.times]
