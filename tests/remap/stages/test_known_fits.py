"""What is known to fit: the search's own verdict where the budget lasts, and never a wrong one where it does not."""

import itertools
import random

import pytest

from companion.remap.loom.footings import can_open
from companion.remap.loom.loom import Action, Loom
from companion.remap.loom.question import question
from companion.remap.search.answers import Solved
from companion.remap.search.budget import NO_LIMIT, Budget
from companion.remap.search.fewest import fits
from companion.remap.stages.known_fits import KnownFits
from tests.draft.drafts import draft_of

DOUBLE_FACED = [[1], [2], [3], [4], [1, 2, 3], [2, 3, 4], [1, 3, 4], [1, 2, 4]]


def asked_on(loom):
    draft = draft_of(threading=[1, 2, 3, 4], tieup=DOUBLE_FACED, treadling=range(1, 9))
    return question(draft, loom, None)


@pytest.mark.parametrize(("action", "reach", "treadles"), [("rising", 1, 4), ("rising", 2, 3), ("countermarche", 1, 5)])
def test_every_set_of_sheds_gets_the_verdict_of_the_search(action, reach, treadles):
    asked = asked_on(Loom(4, treadles, Action(action), reach))
    known = KnownFits(asked, Budget(lambda: False, NO_LIMIT))
    for size in range(1, 9):
        for sheds in itertools.combinations(asked.sheds, size):
            targets = frozenset(asked.targets[shed] for shed in sheds)
            alone = fits(sorted(targets), reach, treadles)
            assert known(targets) == isinstance(alone, Solved)
            columns = known.columns(targets)
            if columns is not None:
                assert len(columns) <= treadles
                assert all(can_open(target, columns, reach) for target in targets)
    assert not known.undecided
    assert known.unfit


def hard_to_decide():
    """Twenty random sheds of eight shafts on twelve treadles, one too few: no bound decides them without a search."""
    rng = random.Random(24)
    plan = [[shaft for shaft in range(1, 9) if rng.random() < 0.5] for _ in range(20)]
    return question(draft_of(threading=list(range(1, 9)), plan=plan, shafts=8), Loom(8, 12), None)


def test_without_budget_nothing_is_called_unfit_until_there_is_more():
    asked = hard_to_decide()
    known = KnownFits(asked, Budget(lambda: False, 0))
    every = frozenset(asked.targets.values())
    assert known.verdict(every) is None
    assert known.undecided
    assert not known.unfit
    assert not known(every)
    known.go_on(Budget(lambda: False, NO_LIMIT), NO_LIMIT)
    assert not known.undecided
    alone = fits(asked.wanted, 1, 12)
    assert known.verdict(every) == isinstance(alone, Solved)


def test_whoever_waits_no_more_hears_that_it_is_not_known():
    asked = hard_to_decide()
    known = KnownFits(asked, Budget(lambda: True, NO_LIMIT))
    assert known.of_sheds(asked.sheds[:1])
    assert known.of_sheds(asked.sheds) is None
    assert known.undecided


def test_what_fits_with_one_treadle_under_a_foot_fits_with_two_however_little_may_be_searched():
    one, two = (
        KnownFits(asked_on(Loom(4, 4, Action.RISING, reach)), Budget(lambda: False, 0.05 if reach == 1 else 0.001))
        for reach in (1, 2)
    )
    two.go_on(Budget(lambda: False, 0.05), 0.0)
    sets = [sheds for size in range(5, 9) for sheds in itertools.combinations(asked_on(Loom(4, 4)).sheds, size)]
    fitting = [sheds for sheds in sets if one.of_sheds(sheds)]
    assert fitting
    assert all(two.of_sheds(sheds) for sheds in fitting)
