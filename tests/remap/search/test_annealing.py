"""Answers by annealing: they open what they say, come out alike every time, and meet the fewest of small looms."""

import random

import numpy as np
import pytest

from companion.draft import masks
from companion.draft.masks import counts, shed_of
from companion.remap.loom.pressing import feet_for
from companion.remap.search.annealing import Annealing
from companion.remap.search.engine import Found
from companion.remap.search.watch import Watch
from tests.bench.structured_families import spot_lace, twill_both_ways
from tests.oracles import set_basis_cpsat as cpsat


def annealed(targets, reach, at_least, turns, enough=None):
    known = Found(at_least, tuple(targets))
    engine = Annealing(targets, reach, Watch(lambda: False))
    for _ in range(turns):
        if known.bounds.proven:
            break
        known = engine.work(known, enough)
        assert all(feet_for(target, known.columns, reach) is not None for target in targets)
    return known


@pytest.mark.parametrize("reach", [1, 2])
def test_the_fewest_of_small_looms_are_met(reach):
    """CP-SAT says what they are."""
    rng = random.Random(reach)
    for _ in range(6):
        hidden = [{s for s in range(1, 7) if rng.random() < 0.4} or {1} for _ in range(4)]
        sheds = [set().union(*rng.sample(hidden, rng.randint(1, 2))) for _ in range(8)]
        targets = sorted({shed_of(shed) for shed in sheds})
        fewest, _ = cpsat.fewest(6, sheds, "rising", reach)
        assert annealed(targets, reach, fewest, 60).best == fewest


@pytest.mark.parametrize(("sheds", "reach", "treadles"), [(spot_lace(12), 1, 9), (twill_both_ways(12), 2, 16)])
def test_large_drafts_whose_complete_search_drowns_are_answered(sheds, reach, treadles):
    targets = sorted({shed_of(shed) for shed in sheds})
    assert annealed(targets, reach, 2, 100, enough=treadles).best <= treadles


def test_the_same_question_goes_the_same_way():
    targets = sorted({shed_of(shed) for shed in spot_lace(8)})
    assert annealed(targets, 2, 1, 8) == annealed(targets, 2, 1, 8)


def test_more_pulls_than_fit_are_left_alone():
    targets = [1 << 70 | 1 << k for k in range(70)]
    assert annealed(targets, 2, 1, 1).columns == tuple(targets)


def test_members_are_counted_alike_before_and_since_numpy_two(monkeypatch):
    sets = np.array([[0, 1, 3], [2**62 - 1, 2**40, 255]])
    expected = [[0, 1, 2], [62, 1, 8]]
    assert counts(sets).tolist() == expected
    monkeypatch.delattr(masks.np, "bitwise_count", raising=False)
    assert counts(sets).tolist() == expected
