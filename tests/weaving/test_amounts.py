"""Amounts against weaving the warp to its end pick by pick, and against sums done by hand."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import islice

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.model import Section
from companion.draft.units import Units
from companion.present.plan_words import early_warnings
from companion.weaving import decide
from companion.weaving.agreement import plan_notes
from companion.weaving.amounts import (
    Density,
    density,
    finished_cm,
    picks_ahead,
    pieces_planned,
    planned_cm,
    planned_picks,
    planned_weft_picks,
    warp_left,
    warp_needed,
    weft_picks_ahead,
)
from companion.weaving.warp import Winding, YarnSize
from companion.weaving.yarn_needs import WarpYarn, in_all, warp_yarns, weft_needed, weft_planned, weft_to_come
from tests.weaving.world import AtLoom, lever_draft, lever_warp


def woven_to_the_end(loom):
    """Weave until nothing is next, and count the picks of each yarn."""
    piece, count = loom.warp.pieces[loom.now.piece], {}
    while loom.now.next_pick < piece.picks:
        yarn = piece.draft.weft[loom.now.next_pick]
        count[yarn] = count.get(yarn, 0) + 1
        loom.weave(1)
    return count


@settings(max_examples=80, deadline=None)
@given(
    st.lists(st.integers(0, 2), min_size=6, max_size=9),
    st.sampled_from([None, 1.0, 2.5, 4.0]),
    st.sampled_from([None, 1.5]),
    st.integers(0, 25),
    st.floats(0.5, 8),
    st.integers(-1, 5),
)
def test_picks_ahead_are_those_that_weaving_to_the_end_takes(weft, first, second, before, per_cm, jump):
    sections = [Section("a", 2), Section("b", 3, first), Section("c", len(weft) - 5, second)]
    loom = AtLoom(lever_warp(lever_draft(weft, sections), picks_per_cm=per_cm))
    for _ in range(before):
        if loom.now.next_pick < len(weft):
            loom.weave(1)
    if jump >= 0:
        loom.do(decide.jump, jump)
    ahead = picks_ahead(loom.warp.pieces[0], loom.now)
    assert ahead.certain
    assert {yarn: picks for yarn, picks in ahead.by_yarn if picks} == woven_to_the_end(loom)


def test_without_picks_per_cm_the_picks_of_a_length_are_not_certain():
    draft = lever_draft([0] * 4, [Section("a", 4, until_cm=10.0)])
    assert not planned_picks(lever_warp(draft).pieces[0], None).certain


def three_pieces(length_cm, **more):
    """Three pieces of 100 cm at 2 picks per cm, each with 5 cm of fringe, on a loom that wastes 40 cm."""
    warp = lever_warp(*[lever_draft([0, 1] * 100)] * 3, picks_per_cm=2.0, fringe_cm=5.0)
    profile = replace(warp.loom, loom_waste_cm=40.0)
    return replace(warp, loom=profile, width_cm=50.0, winding=Winding(length_cm, take_up=0.2, shrinkage=0.1), **more)


def test_the_warp_is_said_to_be_short_for_the_piece_that_it_does_not_reach():
    # Each piece takes 100 / 0.8 + 5 = 130 cm; with 40 cm of waste all three take 430 cm.
    loom = AtLoom(three_pieces(400.0))
    left = warp_left(loom.warp, loom.progress)
    assert [piece.warp_cm for piece in left.pieces] == [130.0, 130.0, 130.0]
    assert (left.used_cm, left.left_cm, left.over_cm) == (40.0, 360.0, -30.0)
    assert early_warnings(loom.warp, loom.progress, Units.METRIC) == ("the warp is 30 cm short for piece 3 (piece 3)",)
    enough = AtLoom(three_pieces(430.0))
    assert early_warnings(enough.warp, enough.progress, Units.METRIC) == ()


def test_a_bobbin_that_runs_out_is_told():
    loom = AtLoom(three_pieces(430.0))
    loom.do(decide.change_bobbin, 0, 2.0)
    # 55 cm of weft a pick: 3 picks of sand.
    assert early_warnings(loom.warp, loom.progress, Units.METRIC) == ("the bobbin of sand goes 3 more picks",)


def test_a_measure_tells_early_that_the_warp_will_be_short():
    loom = AtLoom(three_pieces(430.0))
    loom.weave(50)
    loom.do(decide.measure, 30.0)
    # 50 picks took 30 cm instead of 25: the piece will be 120 cm and take 155 cm of warp, 25 cm more than planned.
    left = warp_left(loom.warp, loom.progress)
    assert left.pieces[0].woven_cm == pytest.approx(120)
    assert (left.short_piece, left.short_cm) == (2, pytest.approx(25))
    assert left.used_cm == pytest.approx(40 + 30 / 0.8)


def test_a_finished_piece_counts_as_it_was_woven():
    loom = AtLoom(three_pieces(430.0))
    loom.weave(20)
    loom.do(decide.measure, 10.0)
    loom.do(decide.finish_piece)
    loom.do(decide.start_piece)
    left = warp_left(loom.warp, loom.progress)
    assert left.pieces[0].warp_cm == pytest.approx(10 / 0.8 + 5)
    assert left.over_cm == pytest.approx(430 - 40 - 17.5 - 260)


def test_weft_comes_in_metres_and_grams():
    loom = AtLoom(three_pieces(430.0, sizes=(YarnSize("sand", 100.0),)))
    sand, sea = weft_planned(loom.warp, 0)
    # 100 picks across 50 cm, a tenth more for bending: 55 m, of 100 tex 5.5 g.
    assert sand.metres == pytest.approx((50, 55, 60))
    assert sand.grams == pytest.approx((5.0, 5.5, 6.0))
    assert (sea.picks, sea.grams) == (100, None)
    loom.do(decide.change_bobbin, 0, 6.0)
    loom.weave(20)
    loom.do(decide.change_bobbin, 0, 7.0)
    loom.weave(20)
    loom.do(decide.change_bobbin, 0)
    # Two bobbins gave 0.6 and 0.7 m a pick; 80 picks of sand are left.
    assert weft_needed(loom.warp, loom.progress)[0].metres == pytest.approx((48, 52, 56))


def test_lengths_that_nobody_told_are_none():
    warp = replace(lever_warp(lever_draft([0] * 4)), winding=Winding(300.0))
    left = warp_left(warp, AtLoom(warp).progress)
    assert (left.used_cm, left.over_cm, left.short_piece) == (None, None, None)
    assert weft_planned(warp, 0)[0].metres is None
    assert warp_left(lever_warp(lever_draft([0] * 4)), AtLoom(warp).progress) is None


def test_picks_per_cm_planned_and_measured_stand_side_by_side():
    loom = AtLoom(three_pieces(430.0))
    loom.weave(30)
    loom.do(decide.measure, 12.0)
    loom.do(decide.measure, 10.0, False)
    assert density(loom.warp.pieces[0], loom.now) == Density(planned=2.0, measured=2.5, relaxed=3.0)


def test_shrinkage_comes_off_the_woven_length():
    assert finished_cm(three_pieces(430.0), 100.0) == pytest.approx(90)


def test_fringe_and_spacer_take_warp_of_their_own():
    warp = three_pieces(430.0)
    spaced = replace(warp, pieces=(replace(warp.pieces[0], spacer_cm=8.0, fringe_cm=12.0), *warp.pieces[1:]))
    # By hand: 100 / 0.8 + 12 + 8, twice 130, and 40 cm of waste.
    assert [piece.warp_cm for piece in pieces_planned(spaced)] == [145.0, 130.0, 130.0]
    assert warp_needed(spaced) == 445.0


@pytest.mark.parametrize(("length_cm", "reckoned_cm"), [(120.0, 120.0), (80.0, 100.0), (None, 100.0)])
def test_of_a_planned_length_and_what_the_treadling_makes_the_longer_takes_the_warp(length_cm, reckoned_cm):
    warp = three_pieces(430.0)
    warp = replace(warp, pieces=(*warp.pieces[:2], replace(warp.pieces[2], length_cm=length_cm)))
    loom = AtLoom(warp)
    assert pieces_planned(warp)[2].woven_cm == reckoned_cm
    assert warp_left(warp, loom.progress).pieces[2].woven_cm == reckoned_cm
    assert bool(plan_notes(warp)) == (length_cm is not None)


def test_the_piece_on_the_loom_is_reckoned_with_its_planned_length_until_it_is_finished():
    warp = three_pieces(430.0)
    loom = AtLoom(replace(warp, pieces=(replace(warp.pieces[0], length_cm=120.0), *warp.pieces[1:])))
    loom.weave(20)
    assert warp_left(loom.warp, loom.progress).pieces[0].woven_cm == 120.0
    loom.do(decide.finish_piece)
    assert warp_left(loom.warp, loom.progress).pieces[0].woven_cm == 10.0


def test_weft_to_come_is_told_for_every_piece_and_in_all():
    loom = AtLoom(three_pieces(430.0, sizes=(YarnSize("sand", 100.0),)))
    loom.weave(20)
    loom.do(decide.finish_piece)
    loom.do(decide.start_piece)
    loom.weave(50)
    done, now, ahead = weft_to_come(loom.warp, loom.progress)
    assert done == ()
    assert [need.picks for need in (*now, *ahead)] == [75, 75, 100, 100]
    sand, sea = in_all([*now, *ahead])
    # 175 picks across 50 cm and a tenth more: 96.25 m, of 100 tex 9.625 g.
    assert (sand.name, sand.picks, sand.metres[1]) == ("sand", 175, pytest.approx(96.25))
    assert sand.grams[1] == pytest.approx(9.625)
    assert sea.grams is None


def test_what_a_bobbin_taught_holds_for_the_pieces_ahead():
    loom = AtLoom(three_pieces(430.0))
    loom.do(decide.change_bobbin, 0, 6.0)
    loom.weave(20)
    loom.do(decide.change_bobbin, 0)
    # 10 picks of sand took 6 m.
    assert weft_to_come(loom.warp, loom.progress)[2][0].metres[1] == pytest.approx(60)


def test_the_ends_of_each_yarn_are_told_in_metres_and_grams():
    warp = three_pieces(430.0, sizes=(YarnSize("sand", 100.0),))
    # 8 ends of 4.3 m.
    assert warp_yarns(warp, 430.0) == (WarpYarn("sand", 8, pytest.approx(34.4), pytest.approx(3.44)),)
    assert warp_yarns(warp, None) == (WarpYarn("sand", 8, None, None),)


def all_alike(length_cm, picks_per_cm=2.0, weft=(0, 0, 1)):
    """One piece of three picks, planned to a length."""
    return lever_warp(lever_draft(weft), picks_per_cm=picks_per_cm, length_cm=length_cm)


@settings(max_examples=60)
@given(
    st.lists(st.sampled_from([0, 1, 2]), min_size=1, max_size=7), st.integers(1, 40), st.sampled_from([1.0, 2.5, 4.0])
)
def test_weft_for_a_planned_length_is_that_of_the_treadling_woven_over_and_over(weft, length_cm, per_cm):
    piece = all_alike(float(length_cm), per_cm, weft).pieces[0]
    counted = dict(planned_weft_picks(piece).by_yarn)
    # By hand: picks one after another, beginning again, until the length lies there.
    laid = list(weft)
    while len(laid) / per_cm < length_cm:
        laid.append(weft[len(laid) % len(weft)])
    assert counted == {yarn: laid.count(yarn) for yarn in set(laid)}


def test_warp_and_weft_are_for_the_same_length_where_it_is_nearly_that_of_the_treadling():
    """By hand: three picks are 1.5 cm; 2 cm are four picks."""
    warp = all_alike(2.0)
    assert plan_notes(warp) == ()
    assert planned_cm(warp.pieces[0]) == 2.0
    assert planned_weft_picks(warp.pieces[0]).picks == 4


def test_a_section_woven_to_a_length_is_woven_to_it_again_when_the_treadling_begins_over_again():
    sections = [Section("A", 2, until_cm=10.0), Section("B", 2)]
    warp = lever_warp(lever_draft([1, 1, 0, 0], sections), picks_per_cm=10.0, length_cm=20.4)
    # By hand: 10 cm are 50 laps of A, 100 picks of sea, then 2 of sand; 204 picks are that exactly twice.
    assert planned_weft_picks(warp.pieces[0]).by_yarn == ((0, 4), (1, 200))
    loom = AtLoom(warp)
    loom.weave(101)
    # Of the first time one of sand is to come, of the second all: sand 3, sea 100.
    assert weft_picks_ahead(warp.pieces[0], loom.now).by_yarn == ((0, 3), (1, 100))


def over_and_over(weft, sections, per_cm):
    """Yield the yarns of the picks one after another: sections until their length lies there, and all of it again."""
    while True:
        start = 0
        for section in sections:
            lap, laid = weft[start : start + section.picks], 0
            while laid == 0 or (section.until_cm is not None and laid / per_cm < section.until_cm):
                yield from lap
                laid += len(lap)
            start += section.picks


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.integers(0, 2), min_size=6, max_size=9),
    st.sampled_from([None, 1.0, 2.5, 4.0]),
    st.sampled_from([None, 1.5]),
    st.sampled_from([1.0, 2.0, 4.0]),
    st.integers(1, 60),
    st.integers(0, 40),
)
def test_weft_for_a_planned_length_is_that_of_weaving_section_after_section(
    weft, first, last, per_cm, length_cm, before
):
    sections = [Section("a", 2), Section("b", 3, first), Section("c", len(weft) - 5, last)]
    loom = AtLoom(lever_warp(lever_draft(weft, sections), picks_per_cm=per_cm, length_cm=float(length_cm)))
    piece = loom.warp.pieces[0]
    once = planned_picks(piece, per_cm).picks
    in_all = max(once, round(length_cm * per_cm))
    laid = list(islice(over_and_over(weft, sections, per_cm), in_all))
    assert dict(planned_weft_picks(piece).by_yarn) == Counter(laid)
    before = min(before, once)
    loom.weave(before)
    left = dict(weft_picks_ahead(piece, loom.now).by_yarn)
    assert {yarn: picks for yarn, picks in left.items() if picks} == Counter(laid[before:])


def test_weft_left_for_a_planned_length_goes_by_what_is_woven_and_measured():
    loom = AtLoom(all_alike(30.0))
    assert [need.picks for need in weft_needed(loom.warp, loom.progress)] == [40, 20]
    loom.weave(2)
    # 60 picks in all are planned; 2 lie there.
    assert [need.picks for need in weft_needed(loom.warp, loom.progress)] == [38, 20]
    loom.do(decide.measure, 0.5)
    # At 4 picks per cm the 29.5 cm to come are 118 picks: the third of this lap, and 117 begun anew.
    assert [need.picks for need in weft_needed(loom.warp, loom.progress)] == [78, 40]
    loom.do(decide.finish_piece)
    assert [need.picks for need in weft_needed(loom.warp, loom.progress)] == [0, 0]
