"""The same feet for every piece: each its own cloth on its own tie-up, against CP-SAT on all of them at once."""

from __future__ import annotations

from itertools import pairwise, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.masks import shafts_of, shed_of
from companion.remap.loom.cords import cords_between
from companion.remap.loom.loom import Action, Loom, Tie
from companion.remap.same_feet import plan_same_feet
from tests.draft.drafts import draft_of
from tests.oracles import set_basis_cpsat as cpsat
from tests.oracles.lifting_by_hand import cloth
from tests.remap.test_pieces import MATS

ACTIONS = (Action.RISING, Action.SINKING, Action.COUNTERMARCHE)
THREADING = [1, 2, 3, 2, 1]
subsets = st.sets(st.integers(1, 3))


@st.composite
def pieces(draw, most_picks=6):
    """Two or three pieces of as many picks on three shafts; one treadling of a few kinds of pick."""
    count = draw(st.integers(2, 3))
    kinds = draw(st.lists(st.tuples(*[subsets] * count), min_size=1, max_size=4))
    picks = draw(st.lists(st.sampled_from(range(len(kinds))), min_size=1, max_size=most_picks))
    return [
        draft_of(threading=THREADING, shafts=3, plan=[kinds[pick][piece] for pick in picks]) for piece in range(count)
    ]


def laid_over_each_other(drafts):
    """The sheds of all pieces at each pick: piece 1 has shafts 1 to 3, piece 2 has 4 to 6, piece 3 has 7 to 9."""
    at_each_pick = zip(*(draft.sheds() for draft in drafts), strict=True)
    return [{3 * piece + shaft for piece, one in enumerate(pick) for shaft in shafts_of(one)} for pick in at_each_pick]


def assert_its_own_cloth(drafts, loom, plan):
    feet = {tuple((foot.left, foot.right) for foot in answer.footings) for answer in plan.answers}
    assert len(feet) == 1
    for piece, answer in zip(plan.order, plan.answers, strict=True):
        ties = [(shafts_of(tie.up), shafts_of(tie.down)) for tie in answer.tieup]
        pressed = [[treadle + 1 for treadle in foot.left + foot.right] for foot in answer.footings]
        draft = drafts[piece]
        threading = [shaft + 1 for shaft in draft.threading]
        wanted = [[bool(shed >> shaft & 1) for shaft in draft.threading] for shed in draft.sheds()]
        assert cloth(threading, pressed, ties, loom.shafts, loom.action.value) == wanted


@settings(max_examples=25, deadline=None)
@given(pieces(), st.integers(1, 5), st.sampled_from(ACTIONS), st.sampled_from([1, 2]))
def test_every_piece_is_its_own_cloth_and_the_fewest_treadles_are_those_of_the_pieces_together(
    drafts, treadles, action, reach
):
    loom = Loom(3, treadles, action, reach)
    plan = plan_same_feet(drafts, loom)
    fewest, proven = cpsat.fewest(3 * len(drafts), laid_over_each_other(drafts), action.value, reach)
    assert proven
    assert plan.fewest.proven
    assert plan.fewest.best == fewest
    assert plan.fits == (fewest <= treadles)
    if plan.fits:
        assert sorted(plan.order) == list(range(len(drafts)))
        assert_its_own_cloth(drafts, loom, plan)


@settings(max_examples=40, deadline=None)
@given(pieces(), st.booleans(), st.sampled_from(ACTIONS))
def test_the_cords_are_those_between_the_tie_ups_and_no_order_of_them_has_fewer(drafts, known, action):
    loom = Loom(3, 6, action)
    tied = {Action.RISING: Tie(up=shed_of([1, 2])), Action.SINKING: Tie(down=shed_of([3]))}
    present = (tied.get(action, Tie(up=shed_of([1]), down=shed_of([2]))),) if known else None
    plan = plan_same_feet(drafts, loom, present=present)
    tieups = [answer.tieup for answer in plan.answers]
    first = [present] if present else []
    by_order = [sum(cords_between(*pair) for pair in pairwise([*first, *order])) for order in permutations(tieups)]
    assert plan.order_proven
    assert plan.cords == min(by_order)
    assert plan.cords == sum(answer.stages[0].cords_changed or 0 for answer in plan.answers)
    kept = plan_same_feet(drafts, loom, present=present, keep_order=True)
    assert kept.order == tuple(range(len(drafts)))
    assert kept.cords == kept.cords_as_given == plan.cords_as_given


@pytest.mark.parametrize("action", ACTIONS)
def test_five_mats_are_woven_with_one_foot_at_every_pick_where_the_loom_has_their_eight_treadles(action):
    loom = Loom(4, 8, action)
    plan = plan_same_feet(MATS, loom)
    assert plan.fits
    assert plan.footwork.both_feet_picks == 0
    assert_its_own_cloth(MATS, loom, plan)
    few = plan_same_feet(MATS, Loom(4, 6, action))
    assert few.fits, "six treadles do, two feet at a pick"
    assert_its_own_cloth(MATS, Loom(4, 6, action), few)
    assert not plan_same_feet(MATS, Loom(4, 5, action)).fits


def test_a_treadle_that_nobody_presses_keeps_its_cords():
    drafts = [draft_of(threading=[1, 2], plan=[[1], [2]]), draft_of(threading=[1, 2], plan=[[2], [1]])]
    present = (Tie(), Tie(), Tie(up=shed_of([1, 2])))
    plan = plan_same_feet(drafts, Loom(2, 3), present=present)
    pressed = {treadle for foot in plan.answers[0].footings for treadle in foot.left + foot.right}
    assert all(answer.tieup[2] == present[2] for answer in plan.answers) == (2 not in pressed)
    assert_its_own_cloth(drafts, Loom(2, 3), plan)


def test_the_same_feet_cannot_be_asked_for_of_every_set_of_pieces():
    twill, longer = draft_of(threading=[1, 2], plan=[[1], [2]]), draft_of(threading=[1, 2], plan=[[1], [2], [1]])
    empty = draft_of(threading=[1, 2], plan=[], shafts=2)
    assert plan_same_feet([twill], Loom(2, 2)) is None
    assert plan_same_feet([twill, longer], Loom(2, 2)) is None
    assert plan_same_feet([empty, empty], Loom(2, 2)) is None
    assert plan_same_feet([twill, twill], Loom(1, 2)) is None
    assert plan_same_feet([twill, twill], Loom(2, 0, Action.LEVERS)) is None
