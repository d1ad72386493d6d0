"""The whole plan of tying anew: against every plan there is, in small worlds."""

from __future__ import annotations

import random
from itertools import pairwise

import pytest

from companion.draft.masks import Shed, shafts_of
from companion.draft.model import Section
from companion.remap.loom.loom import Action, Loom, Tie
from companion.remap.remapped import Verdict
from companion.remap.remapping import remap
from companion.remap.search.answers import never_stop
from companion.remap.stages.fewest_cords import fewest_cords_in_all
from companion.remap.stages.fewest_stages import Furthest
from tests.draft.drafts import draft_of
from tests.oracles.retying_brute import best_plan
from tests.remap.answers import check


def sections_ending_at(ends, picks):
    bounds = [0, *ends, picks]
    return tuple(Section(f"part {at}", stop - first) for at, (first, stop) in enumerate(pairwise(bounds)))


@pytest.mark.parametrize("seed", range(4))
def test_no_plan_with_as_few_stages_changes_fewer_cords_or_stops_more_often_at_section_ends(seed):
    chance = random.Random(seed)
    retied = 0
    while retied < 25:
        shafts, treadles = chance.choice([(3, 2), (3, 2), (2, 1), (3, 1)])
        picks = chance.randint(3, 7)
        sheds = [chance.randrange(2**shafts) for _ in range(picks)]
        present = chance.choice([None, [chance.randrange(2**shafts) for _ in range(treadles)]])
        ends = [end for end in range(1, picks) if chance.random() < 0.4]
        draft = draft_of(
            threading=range(1, shafts + 1),
            plan=[shafts_of(Shed(shed)) for shed in sheds],
            shafts=shafts,
            sections=sections_ending_at(ends, picks),
        )
        tied = None if present is None else tuple(Tie(up=Shed(column)) for column in present)
        answer = remap(draft, Loom(shafts, treadles), present=tied)
        if answer.verdict is not Verdict.RE_TIE:
            continue
        retied += 1
        check(draft, answer)
        kept = sum(stage.at_section_end for stage in answer.stages)
        best = best_plan(sheds, shafts, treadles, present, ends)
        assert answer.fewest_cords_in_all
        assert (len(answer.stages), answer.cords_in_all, kept) == best, (sheds, present, ends)


def test_a_plan_on_three_treadles_is_as_good_as_any():
    """Sheds 1, 2, 3, 12 … in an order that wants four columns; every tie-up of three treadles is tried."""
    chance = random.Random(5)
    retied = 0
    while retied < 4:
        sheds = [chance.randrange(1, 8) for _ in range(6)]
        present = [chance.randrange(8) for _ in range(3)]
        draft = draft_of(threading=[1, 2, 3], plan=[shafts_of(Shed(shed)) for shed in sheds], shafts=3)
        answer = remap(draft, Loom(3, 3), present=tuple(Tie(up=Shed(column)) for column in present))
        if answer.verdict is Verdict.RE_TIE:
            retied += 1
            best = best_plan(sheds, 3, 3, present, [])
            assert (len(answer.stages), answer.cords_in_all) == best[:2]
            assert answer.fewest_cords_in_all


@pytest.mark.parametrize("action", [Action.SINKING, Action.COUNTERMARCHE])
def test_other_actions_are_re_tied_with_the_fewest_cords_too(action):
    """On a sinking loom as on a rising one with every shed turned over; a countermarche ties 2 cords for each."""
    plan = [[1], [2], [3], [1, 2], [3], [1, 3]]
    draft = draft_of(threading=[1, 2, 3], plan=plan, shafts=3)
    answer = remap(draft, Loom(3, 2, action))
    check(draft, answer)
    assert answer.fewest_cords_in_all
    if action is Action.SINKING:
        turned = [7 & ~sum(1 << shaft - 1 for shaft in shafts) for shafts in plan]
        assert (len(answer.stages), answer.cords_in_all) == best_plan(turned, 3, 2, None, [])[:2]


def test_a_reach_of_two_is_never_called_proven():
    draft = draft_of(threading=[1, 2, 3], plan=[[1], [2], [3], [1, 2], [1, 3]], shafts=3)
    answer = remap(draft, Loom(3, 1, reach=2))
    assert answer.verdict is Verdict.RE_TIE
    assert not answer.fewest_cords_in_all
    check(draft, answer)


def test_a_loom_with_too_many_tie_ups_to_weigh_is_re_tied_all_the_same_and_not_called_proven():
    twill = [[shaft + 1, (shaft + 1) % 8 + 1, (shaft + 2) % 8 + 1] for shaft in range(8)]
    draft = draft_of(threading=range(1, 9), plan=[*twill, *([shaft] for shaft in range(1, 9))], shafts=8)
    answer = remap(draft, Loom(8, 6))
    assert answer.verdict is Verdict.RE_TIE
    assert not answer.fewest_cords_in_all
    check(draft, answer)


def test_one_cord_off_and_one_on_where_the_third_shed_is_new():
    furthest = Furthest([1, 2, 4], lambda targets: len(targets) <= 2)
    plan = fewest_cords_in_all(furthest, [], 2, None, never_stop)
    assert (len(plan.stages), plan.cords) == (2, 2)


def test_a_stopped_search_gives_no_plan():
    furthest = Furthest([1, 2, 4], lambda targets: len(targets) <= 2)
    assert fewest_cords_in_all(furthest, [], 2, None, lambda: True) is None
