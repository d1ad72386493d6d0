"""Wishes for the feet, from the loom to the answer: kept where they can be, and told where not."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from companion import read_draft
from companion.draft.masks import shed_of
from companion.draft.model import Draft, Lifted, Yarn
from companion.remap.aim import Aim
from companion.remap.feet_kept import all_kept, not_kept
from companion.remap.loom.feet_wish import ANY_FEET, FeetWish, FirstFoot, TabbyPlace
from companion.remap.loom.loom import Action, Loom, Tie
from companion.remap.remapped import Verdict
from companion.remap.remapping import remap
from companion.remap.same_feet import plan_same_feet

DRAFTS = Path(__file__).resolve().parents[2] / "assets" / "drafts"
TABBY = (shed_of([1, 3]), shed_of([2, 4]))
PATTERN = [shed_of(shafts) for shafts in ([1, 2], [2, 3], [3, 4], [1, 4])]
LEFT = FeetWish(TabbyPlace.LEFT)


def draft_of(plan):
    return Draft(4, (0, 1, 2, 3) * 2, Lifted(tuple(plan)), (Yarn("grey", (9, 9, 9)),), (0,) * 8, (0,) * len(plan))


def overshot(times=12):
    return draft_of([TABBY[pick // 2 % 2] if pick % 2 else PATTERN[pick // 8 % 4] for pick in range(4 * times)])


def treadles_of_tabby(answer):
    """Return treadles (from 1) of the tabby sheds, by foot."""
    feet = [feet.footing for feet in answer.stages[0].sheds if feet.shed in TABBY]
    return sorted(t + 1 for foot in feet for t in foot.left), sorted(t + 1 for foot in feet for t in foot.right)


@pytest.mark.parametrize("action", [Action.RISING, Action.SINKING, Action.COUNTERMARCHE])
@pytest.mark.parametrize(
    ("place", "wanted"),
    [(TabbyPlace.LEFT, ([1, 2], [])), (TabbyPlace.RIGHT, ([], [5, 6])), (TabbyPlace.OUTSIDE, ([1], [6]))],
)
def test_tabby_lies_where_it_is_wished_on_every_kind_of_loom(action, place, wanted):
    answer = remap(overshot(), Loom(4, 6, action, wish=FeetWish(place)))
    assert treadles_of_tabby(answer) == wanted
    assert all_kept(answer)
    assert answer.proven_cloth


@pytest.mark.parametrize("foot", [FirstFoot.LEFT, FirstFoot.RIGHT])
def test_the_foot_that_is_wished_starts_and_costs_nothing_where_nothing_else_is_wished(foot):
    answer = remap(overshot(), Loom(4, 6, wish=FeetWish(first_foot=foot)))
    first = answer.footings[0]
    assert bool(first.left) is (foot is FirstFoot.LEFT)
    assert bool(first.right) is (foot is FirstFoot.RIGHT)
    assert answer.stages[0].footwork.cost == remap(overshot(), Loom(4, 6)).stages[0].footwork.cost


def test_of_two_wishes_that_cannot_be_together_tabby_is_kept_and_the_other_told():
    """The first pick is tabby: with tabby under the left foot the right one cannot start."""
    plan = [TABBY[pick // 2 % 2] if pick % 2 == 0 else PATTERN[pick // 8 % 4] for pick in range(48)]
    answer = remap(draft_of(plan), Loom(4, 6, wish=FeetWish(TabbyPlace.LEFT, FirstFoot.RIGHT)))
    assert treadles_of_tabby(answer) == ([1, 2], [])
    assert not_kept(answer) == FeetWish(first_foot=FirstFoot.RIGHT)


def test_where_treadles_are_too_few_the_lightest_is_given_and_the_wish_told():
    wished, anyhow = (remap(overshot(), Loom(4, 4, wish=wish)) for wish in (LEFT, ANY_FEET))
    assert wished.verdict is Verdict.FITS
    assert wished.stages[0].footwork.cost == anyhow.stages[0].footwork.cost
    assert not_kept(wished) == LEFT


def test_fewest_cords_come_before_the_wish_and_the_wish_before_light_feet():
    right = remap(overshot(), Loom(4, 6, wish=FeetWish(TabbyPlace.RIGHT))).tieup
    as_it_is = remap(overshot(), Loom(4, 6, wish=LEFT), present=right)
    assert as_it_is.cords_in_all == 0
    assert not_kept(as_it_is) == LEFT
    present = (Tie(), *(Tie(up=shed) for shed in PATTERN), Tie(), Tie())
    apart, anyhow = (
        remap(overshot(), Loom(4, 7, wish=wish), present=present) for wish in (FeetWish(TabbyPlace.OUTSIDE), ANY_FEET)
    )
    assert all_kept(apart)
    assert apart.cords_in_all == anyhow.cords_in_all == 4
    assert apart.stages[0].footwork.cost > anyhow.stages[0].footwork.cost


@pytest.mark.parametrize("aim", [Aim.FEET, Aim.TREADLES])
def test_the_wish_holds_for_every_aim_that_chooses_the_order(aim):
    plan = [TABBY[pick // 2 % 2] if pick % 2 else PATTERN[pick // 8 % 2 * 2] for pick in range(48)]
    answer = remap(draft_of(plan), Loom(4, 6, wish=LEFT), aim=aim)
    assert treadles_of_tabby(answer) == ([1, 2], [])
    assert all_kept(answer)


def test_the_first_stage_of_a_plan_of_tying_anew_is_as_wished():
    draft = read_draft((DRAFTS / "overshot-eight-shaft.txt").read_bytes())
    answer = remap(draft, Loom(8, 8, wish=LEFT))
    assert answer.verdict is Verdict.RE_TIE
    assert all_kept(replace(answer, stages=answer.stages[:1]))


def test_pieces_with_the_same_feet_keep_the_wish_where_all_weave_tabby_at_the_same_picks():
    turned = [shed_of(shafts) for shafts in ([3, 4], [1, 4], [1, 2], [2, 3])]
    other = draft_of([TABBY[pick // 2 % 2] if pick % 2 else turned[pick // 8 % 4] for pick in range(48)])
    plan = plan_same_feet([overshot(), other], Loom(4, 6, wish=LEFT))
    assert len(plan.answers) == 2
    for answer in plan.answers:
        assert treadles_of_tabby(answer) == ([1, 2], [])
        assert all_kept(answer)
