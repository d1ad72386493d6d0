"""A shaft without ends is no cloth: lifting it or leaving it down changes no answer."""

from __future__ import annotations

import random
from itertools import pairwise, product

import pytest

from companion.draft.masks import Shed, shafts_of, shed_of
from companion.remap.loom.cords import cords_between
from companion.remap.loom.loom import Action, Loom, Tie
from companion.remap.loom.question import as_counted
from companion.remap.pieces import plan_pieces
from companion.remap.remapping import remap
from companion.remap.same_feet import plan_same_feet
from companion.remap.spare_treadles import with_plain_weave
from tests.draft.drafts import draft_of
from tests.remap.answers import check

SEED = 536875830
"""Fresh in every run; a failure names it."""


def test_a_treadle_that_lifts_an_empty_shaft_too_is_no_shed_of_its_own():
    draft = draft_of(threading=[1, 2] * 8, tieup=[[1], [2], [1, 3]], treadling=[1, 2, 3, 2] * 4, shafts=3)
    wide, narrow = remap(draft, Loom(3, 2)), remap(draft, Loom(2, 2))
    check(draft, wide)
    check(draft, narrow)
    assert wide.fewest == narrow.fewest
    assert (wide.fewest.best, wide.fewest.proven) == (2, True)
    assert [shafts_of(shed) for shed in wide.sheds] == [(1,), (2,)]


@pytest.mark.parametrize("seed", [SEED])
def test_an_empty_shaft_lifted_at_will_or_never_changes_neither_number_nor_verdict(seed):
    chance = random.Random(seed)
    for _ in range(25):
        plan = [[shaft for shaft in (1, 2, 3) if chance.random() < 0.5] for _ in range(chance.randint(2, 6))]
        picks = plan + [chance.choice(plan) for _ in range(6)]
        lifted = [[*shed, 4] if chance.random() < 0.5 else shed for shed in picks]
        loom = Loom(
            4,
            chance.randint(2, 5),
            chance.choice([Action.RISING, Action.SINKING, Action.COUNTERMARCHE]),
            chance.choice([1, 2]),
        )
        answers = [
            remap(draft_of(threading=[1, 2, 3, 2], plan=sheds, shafts=shafts), loom)
            for sheds, shafts in ((picks, 3), (picks, 4), (lifted, 4))
        ]
        assert len({(answer.verdict, answer.fewest, len(answer.sheds)) for answer in answers}) == 1
        assert len({tuple((way.what, way.fewest, way.fits) for way in answer.alternatives) for answer in answers}) == 1
        for answer, sheds in zip(answers, (picks, picks, lifted), strict=True):
            assert answer.proven_cloth is True, sheds


TIES = tuple(
    Tie(
        up=shed_of(shaft for shaft, way in enumerate(ways, 1) if way == "up"),
        down=shed_of(shaft for shaft, way in enumerate(ways, 1) if way == "down"),
    )
    for ways in product(("none", "up", "down"), repeat=3)
)
"""Every way to tie a treadle of a countermarche of three shafts."""


def weaves_by_hand(tieup, sheds):
    """Whether each shed of shafts 1 and 2 is opened by a treadle or by both, and no shaft is drawn both ways."""
    pressed = [(set(shafts_of(one.up)), set(shafts_of(one.down))) for one in tieup]
    pressed.append((pressed[0][0] | pressed[1][0], pressed[0][1] | pressed[1][1]))
    return all(
        any(not up & down and up - {3} == shed and down - {3} == {1, 2} - shed for up, down in pressed)
        for shed in sheds
    )


@pytest.mark.parametrize("sheds", [({1}, {2}), ({1}, {1, 2}), ({2}, {2}), (set(), {1})])
def test_few_cords_of_a_countermarche_are_the_fewest_of_all_tie_ups_wherever_they_are_called_so(sheds):
    """Against every tie-up of three shafts, the third without ends, on two treadles."""
    chance = random.Random(SEED)
    loom = Loom(3, 2, Action.COUNTERMARCHE)
    draft = draft_of(threading=[1, 2, 1, 2], shafts=3, plan=[sorted(shed) for shed in sheds] * 2)
    every = [tieup for tieup in product(TIES, repeat=2) if weaves_by_hand(tieup, sheds)]
    some = [(Tie(Shed(1), Shed(6)), Tie(Shed(2), Shed(5))), (Tie(Shed(5), Shed(2)), Tie(Shed(2), Shed(5)))]
    for present in (*some, *(tuple(chance.choices(TIES, k=2)) for _ in range(25))):
        stage = remap(draft, loom, present=present).stages[0]
        least = min(cords_between(present, tieup) for tieup in every)
        both_ways = any(3 in shafts_of(tie.up) for tie in present) and any(3 in shafts_of(tie.down) for tie in present)
        assert stage.cords_changed >= least, present
        if stage.fewest_cords or not both_ways:
            assert (stage.cords_changed, stage.fewest_cords) == (least, True), present


@pytest.mark.parametrize("action", [Action.RISING, Action.SINKING, Action.COUNTERMARCHE])
def test_cords_that_hang_on_shafts_without_ends_are_no_work_in_any_plan_of_pieces(action):
    """The same present tie-up with such cords and without asks for the same cords, counted on shafts 1 and 2."""
    chance = random.Random(SEED)
    plans = [[[1], [2], [1], [2]], [[2], [1], [2], [1]], [[1, 2], [2], [1, 2], [1]]]
    for _ in range(12):
        drafts = [draft_of(threading=[1, 2, 1, 2], shafts=4, plan=plan) for plan in chance.sample(plans, k=2)]
        loom = Loom(4, chance.choice([3, 4]), action)
        tied = tuple(_tied(chance.choice([[], [1], [2], [1, 2]]), action) for _ in range(loom.treadles))
        hung = tuple(_tied(chance.choice([[], [3], [4], [3, 4]]), action) for _ in range(loom.treadles))
        present = tuple(
            Tie(Shed(one.up | other.up), Shed(one.down | other.down)) for one, other in zip(tied, hung, strict=True)
        )
        for plan in (plan_pieces, plan_same_feet):
            with_them, without_them = plan(drafts, loom, present=present), plan(drafts, loom, present=tied)
            assert with_them == without_them
            assert with_them.cords >= cords_between(tied, with_them.answers[0].tieup)


def test_on_a_countermarche_cords_to_shafts_beyond_the_draft_s_count_as_those_to_shafts_without_ends_do():
    """A shaft that some treadles draw up and others down holds them up, whether the draft declares it or not."""
    chance = random.Random(SEED)
    loom = Loom(3, 3, Action.COUNTERMARCHE)
    untied = 0
    for _ in range(30):
        plan = chance.sample([[1], [2], [1, 2], []], k=2) * 2
        present = tuple(chance.choices(TIES, k=3))
        declared, beyond = (
            remap(draft_of(threading=[1, 2, 1, 2], shafts=shafts, plan=plan), loom, present=present)
            for shafts in (3, 2)
        )
        assert beyond.cords_in_all == declared.cords_in_all
        (stage,) = beyond.stages
        assert stage.fewest_cords == declared.stages[0].fewest_cords
        untied += any(3 in shafts_of(change.untie_up) + shafts_of(change.untie_down) for change in stage.changes)
    assert untied >= 3


def test_the_cords_of_pieces_in_the_order_given_are_those_between_their_tie_ups():
    chance = random.Random(SEED)
    plans = [[[1], [2]], [[2], [1]], [[1, 2], [2]], [[], [1]]]
    for _ in range(25):
        drafts = [draft_of(threading=[1, 2, 1, 2], shafts=3, plan=plan) for plan in chance.sample(plans, k=2)]
        loom = Loom(3, 3, Action.COUNTERMARCHE)
        present = tuple(chance.choices(TIES, k=3))
        plan = plan_pieces(drafts, loom, present=present, keep_order=True)
        tieups = [as_counted(present, drafts[0], loom), *(answer.tieup for answer in plan.answers)]
        assert plan.cords == sum(cords_between(one, other) for one, other in pairwise(tieups)), present


def _tied(shafts, action):
    """Tie these shafts the way that the loom draws them; on a countermarche 1 against 2, 3 and 4 down."""
    one = shed_of(shafts)
    if action is Action.RISING:
        return Tie(up=one)
    against = shed_of({1, 2} - set(shafts)) if shafts and shafts[0] < 3 else Shed(0)
    return Tie(up=one, down=against) if action is Action.COUNTERMARCHE and against else Tie(down=one)


def test_two_pieces_with_the_same_feet_change_only_cords_of_shafts_with_ends():
    one, other = (draft_of(threading=[1, 2, 1, 2], shafts=4, plan=plan) for plan in ([[1], [2]] * 2, [[2], [1]] * 2))
    present = (Tie(up=shed_of([1, 3])), Tie(up=shed_of([2, 4])))
    plan = plan_same_feet([one, other], Loom(4, 2), present=present)
    assert (plan.cords, [answer.stages[0].cords_changed for answer in plan.answers]) == (4, [0, 4])


def test_plain_weave_on_free_treadles_unties_no_shaft_without_ends():
    draft = draft_of(threading=[1, 2, 3, 4], shafts=5, plan=[[1, 2], [2, 3], [3, 4], [1, 4]])
    present = tuple(Tie(up=shed_of(shafts)) for shafts in ([1, 2, 5], [2, 3], [3, 4], [1, 4], [5], []))
    tied = with_plain_weave(draft, remap(draft, Loom(5, 6), present=present), present)
    assert tied.stages[0].cords_changed == 4
