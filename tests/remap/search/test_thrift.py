"""Decisions by waste: the same as trying every row of columns, however much may be wasted."""

import random

import pytest

from companion.draft.masks import shed_of
from companion.remap.loom.pressing import feet_for
from companion.remap.search import thrift
from companion.remap.search.engine import Found
from companion.remap.search.thrift import Thrift, explored
from companion.remap.search.watch import Watch
from companion.remap.search.weights import Weights, weighed_pulls
from tests.oracles import set_basis_brute as brute
from tests.oracles import set_basis_cpsat as cpsat


def decided(targets, treadles):
    """Return an answer with so many columns, or None."""
    found = [columns for columns in explored(targets, weighed_pulls(targets), treadles)[0] if columns is not None]
    assert len(found) <= 1
    return found[0] if found else None


def assert_opens(columns, targets, treadles):
    assert len(columns) <= treadles
    assert all(feet_for(target, columns, 2) is not None for target in targets)


@pytest.mark.parametrize(("shafts", "treadles", "sets"), [(3, 1, 127), (3, 2, 127), (3, 3, 127), (4, 3, 60)])
def test_it_agrees_with_every_row_of_columns(shafts, treadles, sets):
    """All sets of sheds on three shafts; on four shafts some, on all 3375 rows of three treadles."""
    every = [frozenset(s for s in range(1, shafts + 1) if mask >> s - 1 & 1) for mask in range(1, 1 << shafts)]
    opened = brute.best_collections(shafts, "rising", 2, treadles, set(every))
    rng = random.Random(treadles)
    numbers = range(1, 1 << len(every)) if sets == 127 else [rng.randrange(1, 1 << len(every)) for _ in range(sets)]
    for number in numbers:
        wanted = frozenset(shed for k, shed in enumerate(every) if number >> k & 1)
        targets = [shed_of(shed) for shed in sorted(wanted, key=sorted)]
        found = decided(targets, treadles)
        assert (found is not None) == any(wanted <= one for one in opened), targets
        if found is not None:
            assert_opens(found, targets, treadles)


@pytest.mark.parametrize("seed", range(3))
def test_it_agrees_with_cp_sat_where_some_treadles_of_waste_can_be_afforded(seed):
    rng = random.Random(seed)
    for _ in range(12):
        hidden = [{s for s in range(1, 7) if rng.random() < 0.4} or {1} for _ in range(4)]
        sheds = [set().union(*rng.sample(hidden, rng.randint(1, 3))) for _ in range(7)]
        targets = sorted({shed_of(shed) for shed in sheds})
        for treadles in range(weighed_pulls(targets).bound, len(targets)):
            found = decided(targets, treadles)
            assert (found is not None) == cpsat.do(6, sheds, "rising", 2, treadles), (targets, treadles)
            if found is not None:
                assert_opens(found, targets, treadles)
                break


def test_the_engine_waits_for_the_weights_goes_on_where_it_was_and_stops_at_too_many_ways(monkeypatch):
    """Six pulls in all pairs, 15 sheds: the six single pulls do, and five do not (a fooling set of six, by hand)."""
    targets = [1 << one | 1 << other for one in range(6) for other in range(one)]
    watch = Watch(lambda: False)
    weights = Weights(targets, watch)
    engine = Thrift(targets, weights, watch)
    known = Found(1, tuple(targets))
    assert engine.work(known, None) == known
    known = weights.work(known, None)
    monkeypatch.setattr(thrift, "TURN", 2)
    turns = 0
    while not known.bounds.proven:
        known = engine.work(known, None)
        turns += 1
    assert known.best == 6
    assert turns > 2
    monkeypatch.setattr(thrift, "MOST_WAYS", 5)
    assert explored(targets, weights.weighed, 6)[0] is None
