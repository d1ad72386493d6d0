"""The feet of a whole answer with the fewest treadles: lightest where that is said, by all that open the sheds."""

from __future__ import annotations

import itertools
import random

import pytest

from companion.draft.masks import shed_of
from companion.remap.aim import Aim
from companion.remap.feet.walking import best_feet_on
from companion.remap.feet.walks import walks_of
from companion.remap.loom.footings import footings_for
from companion.remap.loom.loom import Action, Loom, Tie
from companion.remap.loom.targets import columns_of, targets_of
from companion.remap.remapped import Verdict
from companion.remap.remapping import remap
from companion.remap.search.answers import Solved
from companion.remap.search.fewest import fits, minimal_answers
from tests.draft.drafts import draft_of
from tests.oracles.feet_brute import least_on
from tests.remap.answers import check, double_faced


def test_the_fewest_treadles_are_used_however_many_there_are_and_their_feet_are_the_lightest_of_all_with_so_few():
    draft = double_faced()
    tight, roomy = remap(draft, Loom(4, 6), aim=Aim.TREADLES), remap(draft, Loom(4, 8), aim=Aim.TREADLES)
    for answer in (tight, roomy):
        check(draft, answer)
        assert sum(tie != Tie() for tie in answer.tieup) == answer.fewest.best
        assert answer.stages[0].footwork.at_least <= answer.stages[0].footwork.cost
    assert roomy.stages[0].footwork.cost == tight.stages[0].footwork.cost
    assert remap(draft, Loom(4, 8)).stages[0].footwork.cost < roomy.stages[0].footwork.cost


def test_the_draft_s_own_order_is_kept_where_no_other_is_lighter():
    draft = draft_of(threading=[1, 2, 3, 4], tieup=[[1, 2], [3, 4]], treadling=[1, 2] * 5)
    answer = remap(draft, Loom(4, 2), aim=Aim.TREADLES)
    assert [tie.up for tie in answer.tieup] == [shed_of([1, 2]), shed_of([3, 4])]


def test_footings_of_an_answer_are_among_all_that_open_the_shed():
    draft = double_faced()
    answer = remap(draft, Loom(4, 7, Action.SINKING))
    columns = columns_of(answer.tieup, 4, Action.SINKING)
    targets = targets_of(draft.sheds(), 4, Action.SINKING)
    for target, feet in zip(targets, answer.footings, strict=True):
        assert feet in footings_for(target, columns, 1)
    assert isinstance(fits(targets, 1, 7), Solved)


def test_no_tie_up_with_so_few_treadles_is_lighter_where_that_is_said_even_with_smaller_columns():
    """The bags of the search stand for all answers but not for the feet: a smaller column may open a shed alone."""
    plan = ([3], [3, 4], [4], [2, 4], [2], [3], [2, 4], [2, 3, 4], [2, 4], [2, 3], [1, 3, 4], [1, 3])
    draft = draft_of(threading=[1, 2, 3, 4] * 2, plan=list(plan), shafts=4)
    known = least_on([frozenset(shed) for shed in plan], [frozenset(tie) for tie in ([1, 3], [3], [2, 4], [2], [4])], 1)
    for aim in (Aim.FEET, Aim.TREADLES):
        footwork = remap(draft, Loom(4, 5), aim=aim).stages[0].footwork
        assert footwork.at_least <= known
        assert not footwork.proven or footwork.cost <= known


@pytest.mark.parametrize(("seed", "reach"), [(9, 2), (4, 1)])
def test_of_the_tie_ups_with_so_few_treadles_none_that_the_search_knows_is_lighter(seed, reach):
    rng = random.Random(seed)
    shafts, sheds = 4, 7
    plan = [[s for s in range(1, shafts + 1) if rng.random() < 0.6] for _ in range(sheds)]
    draft = draft_of(threading=[1, 2, 3, 4], plan=plan + [rng.choice(plan) for _ in range(20)], shafts=shafts)
    answer = remap(draft, Loom(shafts, 6, reach=reach), aim=Aim.TREADLES)
    assert answer.verdict is Verdict.FITS
    targets = targets_of(draft.sheds(), shafts, Action.RISING)
    for columns in itertools.islice(minimal_answers(targets, reach, answer.fewest.best), 20):
        feet = best_feet_on(walks_of(targets), columns, reach)
        assert answer.stages[0].footwork.cost <= feet.cost
