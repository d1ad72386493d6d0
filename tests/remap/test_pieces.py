"""Several pieces on one warp: one tie-up where it can be, else the order with few cords, always the same cloth."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.masks import shed_of
from companion.draft.model import Treadled
from companion.draft.reading import read_draft
from companion.remap.aim import Aim
from companion.remap.errors import RemapError
from companion.remap.loom.cords import cords_between
from companion.remap.loom.loom import Action, Loom, Tie
from companion.remap.pieces import plan_pieces
from companion.remap.proof import weaves_the_draft
from companion.remap.remapped import Verdict
from tests.draft.drafts import KEPT, draft_of

MATS = tuple(
    read_draft((KEPT / f"diversified-plain-weave-four-shaft-{number}.txt").read_bytes()) for number in range(1, 6)
)


def twill(*ties):
    return draft_of(threading=[1, 2, 3, 4], tieup=ties, treadling=list(range(1, len(ties) + 1)) * 2)


def assert_every_piece_is_its_own_cloth(plan, drafts, loom):
    assert sorted(plan.order) == list(range(len(drafts)))
    for piece, answer in zip(plan.order, plan.answers, strict=True):
        for stage in answer.stages:
            assert weaves_the_draft(drafts[piece], loom, stage.tieup, stage.footings, first=stage.first)


@pytest.mark.parametrize(("treadles", "one"), [(6, True), (4, False)])
def test_five_mats_are_woven_whatever_the_treadles(treadles, one):
    """Three mats have the sheds 14, 23, 24, 13, two have 1, 2, 134, 234: six treadles open all, four those of a mat."""
    loom = Loom(4, treadles)
    plan = plan_pieces(MATS, loom)
    assert plan.one_tieup is one
    assert plan.unfit == ()
    assert (plan.cords == 0) is one
    assert_every_piece_is_its_own_cloth(plan, MATS, loom)
    if one:
        assert len({answer.tieup for answer in plan.answers}) == 1
        assert [len(answer.footings) for answer in plan.answers] == [mat.picks for mat in MATS]


def test_each_piece_on_a_common_tie_up_is_told_its_own_footwork():
    """By hand: feet that take turns pay nothing; the second piece presses both at its last pick."""
    plain = draft_of(threading=[1, 2, 3], tieup=[[1], [2]], treadling=[1, 2, 1, 2])
    both = draft_of(threading=[1, 2, 3], tieup=[[1], [2], [1, 2]], treadling=[1, 2, 3])
    plan = plan_pieces([plain, both], Loom(3, 2))
    assert plan.one_tieup
    told = {piece: answer.stages[0].footwork for piece, answer in zip(plan.order, plan.answers, strict=True)}
    assert (told[0].cost, told[0].both_feet_picks, told[0].travel_widths, told[0].proven) == (0, 0, 0.0, True)
    assert (told[1].cost, told[1].both_feet_picks, told[1].proven) == (100, 1, True)


def test_the_cords_are_those_between_the_tie_ups_and_no_order_of_them_has_fewer():
    drafts = [twill([1], [2], [3], [4]), twill([1, 2], [2, 3], [3, 4], [1, 4]), twill([1], [2], [3], [3, 4])]
    present = tuple(Tie(up=shed_of(shafts)) for shafts in ([1, 2], [2], [3], [4]))
    plan = plan_pieces(drafts, Loom(4, 4), present=present)
    tieups = [present, *(answer.tieup for answer in plan.answers)]
    assert plan.cords == sum(cords_between(one, other) for one, other in pairwise(tieups))
    assert plan.cords <= plan.cords_as_given
    if plan.order_proven:
        every = [[present, *order] for order in permutations(tieups[1:])]
        assert plan.cords == min(sum(cords_between(*pair) for pair in pairwise(order)) for order in every)
    assert_every_piece_is_its_own_cloth(plan, drafts, Loom(4, 4))


def test_mats_with_the_same_sheds_are_woven_one_after_the_other():
    """Sheds 14, 23, 24, 13 become 1, 234, 2, 134 by moving the cord of shaft 4 on each of the four treadles."""
    plan = plan_pieces(MATS[::2] + MATS[1::2], Loom(4, 4))
    assert plan.cords == 4
    assert [answer.stages[0].cords_changed or 0 for answer in plan.answers].count(0) == 4


def test_the_order_given_can_be_kept():
    plan = plan_pieces(MATS[::-1], Loom(4, 4), keep_order=True)
    assert plan.order == (0, 1, 2, 3, 4)
    assert plan.cords_as_given is None
    assert_every_piece_is_its_own_cloth(plan, MATS[::-1], Loom(4, 4))


def test_a_piece_that_does_not_fit_is_named():
    two_sheds, four_sheds = twill([1, 2], [3, 4]), twill([1], [2], [3], [4])
    plan = plan_pieces([two_sheds, four_sheds], Loom(4, 2))
    assert plan.unfit == (1,)
    assert plan.answers[1].verdict is Verdict.RE_TIE


@pytest.mark.parametrize("action", [Action.SINKING, Action.COUNTERMARCHE])
def test_other_actions_weave_the_same_cloth(action):
    loom = Loom(4, 8, action)
    plan = plan_pieces(MATS, loom)
    assert plan.one_tieup
    assert_every_piece_is_its_own_cloth(plan, MATS, loom)


def test_levers_have_no_cords():
    plan = plan_pieces(MATS, Loom(4, 0, Action.LEVERS))
    assert (plan.cords, plan.unfit, plan.order) == (0, (), (0, 1, 2, 3, 4))


def test_another_threading_is_refused():
    other = replace(MATS[1], threading=(MATS[1].threading[1], *MATS[1].threading[1:]))
    assert isinstance(other.lifting, Treadled)
    with pytest.raises(RemapError, match="piece 2 is threaded differently"):
        plan_pieces([MATS[0], other], Loom(4, 6))


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.lists(st.sets(st.integers(1, 3)), min_size=1, max_size=3), min_size=2, max_size=4),
    st.none() | st.lists(st.sets(st.integers(1, 3)), min_size=3, max_size=3),
)
def test_no_order_of_the_tie_ups_shown_and_no_tie_up_for_all_changes_fewer_cords(plans, present):
    drafts = [draft_of(threading=[1, 2, 3], shafts=3, plan=plan) for plan in plans]
    tied = None if present is None else tuple(Tie(up=shed_of(shafts)) for shafts in present)
    loom = Loom(3, 3)
    plan = plan_pieces(drafts, loom, present=tied)
    if plan.unfit:
        return
    first = [] if tied is None else [tied]
    orders = permutations([answer.tieup for answer in plan.answers])
    assert plan.cords == min(sum(cords_between(*pair) for pair in pairwise([*first, *order])) for order in orders)
    assert plan.cords == sum(answer.stages[0].cords_changed or 0 for answer in plan.answers)
    if plan.cords_on_one is not None:
        assert plan.cords <= plan.cords_on_one
        assert plan.one_tieup == (plan.cords == plan.cords_on_one)
    assert_every_piece_is_its_own_cloth(plan, drafts, loom)


def test_a_tie_up_each_is_taken_where_one_for_all_would_change_more_cords():
    """All on one: 1, 2, 12, 23 on four treadles; from 1, 2 it is nearer to tie the second piece on its own."""
    drafts = [draft_of(threading=[1, 2, 3], shafts=3, plan=plan) for plan in ([[1], [2]], [[1, 2], [2, 3]])]
    present = (Tie(up=shed_of([1])), Tie(up=shed_of([2])), Tie(up=shed_of([1, 3])), Tie(up=shed_of([1, 2, 3])))
    plan = plan_pieces(drafts, Loom(3, 4), present=present)
    assert plan.cords_on_one is not None
    assert plan.cords <= plan.cords_on_one


def test_with_the_drafts_own_tie_ups_each_piece_keeps_its_own():
    drafts = [twill([1, 2], [2, 3], [3, 4], [1, 4]), twill([1], [2], [3], [4])]
    plan = plan_pieces(drafts, Loom(4, 8), aim=Aim.DRAFT)
    assert not plan.one_tieup
    for piece, answer in zip(plan.order, plan.answers, strict=True):
        assert tuple(tie.up for tie in answer.tieup)[:4] == drafts[piece].lifting.tieup
