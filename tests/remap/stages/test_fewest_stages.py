"""Where to stop and re-tie: against every way of cutting short treadlings into stages."""

from __future__ import annotations

import random
from itertools import combinations, pairwise

import pytest

from companion.remap.stages.fewest_stages import Furthest, fewest_stages


def best_by_trying_all(treadling, fits, ends):
    """(stages, stops at section ends) of the best of all ways to cut, by trying every one."""
    picks = len(treadling)
    for stops in range(picks):
        kept = [
            sum(cut in ends for cut in cuts)
            for cuts in combinations(range(1, picks), stops)
            if all(fits(frozenset(treadling[start:stop])) for start, stop in pairwise((0, *cuts, picks)))
        ]
        if kept:
            return stops + 1, max(kept)
    raise AssertionError("no cut fits")


def fitting_within(families):
    return lambda targets: len(targets) == 1 or any(targets <= family for family in families)


@pytest.mark.parametrize("first_seed", range(0, 250, 50))
def test_stages_are_as_few_and_stops_as_often_at_section_ends_as_any_cutting_allows(first_seed):
    for seed in range(first_seed, first_seed + 50):
        chance = random.Random(seed)
        picks = chance.randint(1, 9)
        treadling = [chance.randint(1, 5) for _ in range(picks)]
        families = [frozenset(chance.sample(range(1, 6), chance.randint(1, 4))) for _ in range(4)]
        fits = fitting_within(families)
        ends = [end for end in range(1, picks) if chance.random() < 0.4]
        stages = fewest_stages(Furthest(treadling, fits), ends)
        assert [pick for stage in stages for pick in stage] == list(range(picks))
        assert all(fits(frozenset(treadling[stage.start : stage.stop])) for stage in stages)
        kept = sum(stage.start in ends for stage in stages[1:])
        assert (len(stages), kept) == best_by_trying_all(treadling, fits, ends), seed


def test_a_stop_moves_to_the_section_end_where_that_costs_no_stage():
    assert fewest_stages(Furthest([1, 2, 1, 3], lambda targets: len(targets) <= 2), [2]) == (range(2), range(2, 4))


def test_a_treadling_that_fits_is_one_stage_and_none_is_none():
    assert fewest_stages(Furthest([1, 2, 3] * 40, lambda targets: True), [60]) == (range(120),)
    assert fewest_stages(Furthest([], lambda targets: False)) == ()


def test_thousands_of_stages_are_no_trouble():
    stages = fewest_stages(Furthest([1, 2, 3] * 1000, lambda targets: len(targets) <= 1))
    assert len(stages) == 3000
