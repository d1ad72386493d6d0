"""Drafts that the tests of whole answers share, and the check that every answer has to stand."""

from __future__ import annotations

import random

from companion.draft.cloth import interlacement
from companion.draft.masks import shafts_of, shed_of
from companion.remap.loom.loom import Action, Tie
from tests.draft.drafts import draft_of
from tests.oracles.lifting_by_hand import can_stand, cloth

DOUBLE_FACED = [[1], [2], [3], [4], [1, 2, 3], [2, 3, 4], [1, 3, 4], [1, 2, 4]]


def double_faced(**more):
    return draft_of(threading=[1, 2, 3, 4] * 5, tieup=DOUBLE_FACED, treadling=[1, 5, 2, 6, 3, 7, 4, 8] * 4, **more)


def by_hand(draft, answer):
    """The cloth of an answer, woven stage by stage without the product."""
    rows = []
    for stage in answer.stages:
        ties = [(shafts_of(tie.up), shafts_of(tie.down)) for tie in stage.tieup]
        pressed = [[treadle + 1 for treadle in feet.left + feet.right] for feet in stage.footings]
        assert all(can_stand(feet.left, feet.right, answer.loom.reach) for feet in stage.footings)
        assert len(stage.tieup) == answer.loom.treadles
        shafts = min(draft.shafts, answer.loom.shafts)
        threading = [None if shaft is None else shaft + 1 for shaft in draft.threading]
        rows += cloth(threading, pressed, ties, shafts, answer.loom.action.value)
    return rows


def cords_that_count(present, draft, loom):
    """The present tie-up with the cords that count: to shafts with ends, and to those drawn up here and down there."""
    counted = {shaft + 1 for shaft in draft.threading if shaft is not None}
    if loom.action is Action.COUNTERMARCHE:
        up = {shaft for tie in present for shaft in shafts_of(tie.up)}
        counted |= up & {shaft for tie in present for shaft in shafts_of(tie.down)}
    return tuple(Tie(*(shed_of(counted & set(shafts_of(shed))) for shed in (tie.up, tie.down))) for tie in present)


def check(draft, answer):
    assert answer.proven_cloth
    assert by_hand(draft, answer) == interlacement(draft).tolist()
    stops = [(stage.first, stage.last + 1) for stage in answer.stages]
    assert [pick for first, stop in stops for pick in range(first, stop)] == list(range(draft.picks))
    for stage in answer.stages:
        assert sum(feet.picks for feet in stage.sheds) == stage.last - stage.first + 1
        assert all(feet.footing in stage.footings for feet in stage.sheds)


def random_lift_plan(shafts, sheds, picks, seed):
    rng = random.Random(seed)
    every = [[s for s in range(1, shafts + 1) if rng.random() < 0.5] for _ in range(sheds)]
    return draft_of(
        threading=list(range(1, shafts + 1)), plan=every + [rng.choice(every) for _ in range(picks)], shafts=shafts
    )
