"""Every engine alone, in turns of any length, ends at CP-SAT's number or says nothing that is false."""

import random

import pytest

from companion.remap.loom.pressing import feet_for
from companion.remap.search.branch_and_bound import PriceSearch
from companion.remap.search.corners import Corners
from companion.remap.search.engine import Found, number_to_ask
from companion.remap.search.from_below import FromBelow
from companion.remap.search.lower_bounds import fooling_set
from companion.remap.search.pairs import PairSearch
from companion.remap.search.runs import RunSearch
from companion.remap.search.savings import SavingsSearch
from companion.remap.search.watch import Watch
from tests.oracles import set_basis_cpsat as cpsat

PULLS = 6


def from_below(decision):
    def build(targets, turn, watch):
        seeds = fooling_set(targets, 5)
        order = sorted(targets, key=lambda target: (target.bit_count(), target))
        return FromBelow(lambda treadles: decision(order, seeds, treadles, watch), 1, turn, watch)

    return build


ENGINES = {
    "pairs": (1, from_below(PairSearch)),
    "savings": (1, SavingsSearch),
    "prices": (1, lambda targets, _turn, watch: PriceSearch(targets, watch)),
    "runs": (2, from_below(RunSearch)),
}
"""The engines that end by themselves, each with its reach."""


def random_targets(rng):
    """Return some unions of a few columns, so that there is something to save."""
    hidden = [rng.randrange(1, 1 << PULLS) for _ in range(rng.randint(3, 5))]
    return sorted({rng.choice(hidden) | rng.choice(hidden) for _ in range(9)} | {rng.randrange(1, 1 << PULLS)})


def fewest_by_cpsat(targets, reach):
    sheds = [{pull + 1 for pull in range(PULLS) if target >> pull & 1} for target in targets]
    fewest, proven = cpsat.fewest(PULLS, sheds, "rising", reach)
    assert proven
    return fewest


def closed_in(engine, targets, enough=None):
    """Give one engine turn after turn until its bounds meet, each turn checked to loosen nothing."""
    known = Found(len(fooling_set(targets, 5)), tuple(targets))
    for _ in range(10_000):
        after = engine.work(known, enough)
        assert after.at_least >= known.at_least
        assert after.best <= known.best
        known = after
        if known.at_least >= known.best or (enough is not None and not known.at_least <= enough < known.best):
            return known
    raise AssertionError("the engine does not end")


@pytest.mark.parametrize("name", ENGINES)
@pytest.mark.parametrize("turn", [2, 7, 1000])
def test_an_engine_alone_ends_at_the_number_of_cp_sat(name, turn):
    reach, build = ENGINES[name]
    rng = random.Random(f"{name} alone")
    for _ in range(8):
        targets = random_targets(rng)
        known = closed_in(build(targets, turn, Watch(lambda: False)), targets)
        assert known.bounds.proven
        assert known.best == fewest_by_cpsat(targets, reach)
        assert all(feet_for(target, known.columns, reach) for target in targets)


@pytest.mark.parametrize("name", ["pairs", "prices", "runs"])
def test_asked_whether_a_number_is_enough_an_engine_decides_just_that(name):
    reach, build = ENGINES[name]
    rng = random.Random(f"{name} enough")
    for _ in range(5):
        targets = random_targets(rng)
        fewest = fewest_by_cpsat(targets, reach)
        for enough in range(1, len(targets)):
            known = closed_in(build(targets, 7, Watch(lambda: False)), targets, enough)
            assert (known.best <= enough) == (enough >= fewest)
            assert known.at_least <= fewest


@pytest.mark.parametrize("name", ENGINES)
def test_a_stopped_engine_hands_back_what_was_known_and_leaves_the_watch_stopped(name):
    _, build = ENGINES[name]
    targets = random.Random("stopped").sample(range(1, 1 << 10), 30)
    watch = Watch(lambda: True)
    engine = build(targets, 1000, watch)
    known = Found(len(fooling_set(targets, 5)), tuple(targets))
    while not watch.stopped:
        assert not known.bounds.proven
        before, known = known, engine.work(known, None)
    assert known.columns == before.columns
    assert before.at_least <= known.at_least < known.best


def test_corners_make_one_answer_and_then_have_no_more():
    """A double-faced twill of six shafts: six single shafts and four corners at the most (found by `shares`)."""
    every = (1 << 6) - 1
    targets = [1 << k for k in range(6)] + [every & ~(1 << k) for k in range(6)]
    engine = Corners(targets, fooling_set(targets, 0), 4)
    known = Found(0, tuple(targets))
    after = engine.work(known, None)
    assert after.best == 10
    assert all(feet_for(target, after.columns, 1) for target in targets)
    assert engine.work(known, None) is known


def test_the_number_asked_for_lies_in_the_gap():
    known = Found(3, (1, 2, 4, 8, 16, 32))
    assert [number_to_ask(known, enough) for enough in (1, 3, 4, 5, 9)] == [3, 3, 4, 5, 5]
