"""A shaft without ends is no cloth: lifting it or leaving it down changes no answer."""

from __future__ import annotations

import random

import pytest

from companion.draft.masks import shafts_of
from companion.remap.loom.loom import Action, Loom
from companion.remap.remapping import remap
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
