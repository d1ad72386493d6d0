"""The forecast: its arithmetic, its table of t, and how often its range holds the truth."""

from __future__ import annotations

import random

import pytest
from scipy import stats

from companion.weaving import decide
from companion.weaving import forecast as forecasting
from companion.weaving.forecast import forecast
from companion.weaving.picks_moved import BLOCK_PICKS
from tests.weaving.world import AtLoom, lever_draft, lever_warp


def test_the_table_is_students_t():
    assert len(forecasting._T_95) == 19
    for degrees, value in enumerate(forecasting._T_95, 1):
        assert value == pytest.approx(stats.t.ppf(0.95, degrees), abs=6e-4)


def test_nothing_is_foretold_from_a_few_picks():
    loom = AtLoom(lever_warp(lever_draft([0] * 200)))
    loom.weave(3 * BLOCK_PICKS - 1)
    assert forecast(loom.warp, loom.progress) is None
    loom.weave(1)
    assert forecast(loom.warp, loom.progress).picks == 140


def test_an_even_pace_goes_on_evenly():
    loom = AtLoom(lever_warp(lever_draft([0] * 200)), gap_ms=3000)
    loom.weave(101)
    told = forecast(loom.warp, loom.progress)
    assert told.picks == 99
    # The very first entry has no time before it, so the first block is a pick shorter.
    assert told.likely_ms == pytest.approx(99 * 3000, rel=0.02)
    assert told.least_ms <= told.likely_ms <= told.most_ms


def test_the_range_never_goes_below_the_fastest_block():
    loom = AtLoom(lever_warp(lever_draft([0] * 100)))
    for gap_ms in (1_000, 2_000, 9_000):
        loom.gap_ms = gap_ms
        loom.weave(BLOCK_PICKS)
    told = forecast(loom.warp, loom.progress)
    # 40 picks are left: two blocks, each no faster than the first one, which had 19 gaps of a second.
    assert (told.picks, told.least_ms) == (40, 2 * 19_000)
    assert told.likely_ms == pytest.approx(2 * (19_000 + 40_000 + 180_000) / 3, abs=1)


def test_nine_of_ten_ranges_hold_the_truth_when_picks_differ_at_random():
    chance = random.Random(11)
    held, trials = 0, 150
    for _ in range(trials):
        loom = AtLoom(lever_warp(lever_draft([0] * 260)))
        for _ in range(160):
            loom.gap_ms = int(1000 * chance.lognormvariate(1.0, 0.7))
            loom.do(decide.weave_pick)
        told = forecast(loom.warp, loom.progress)
        truth = sum(int(1000 * chance.lognormvariate(1.0, 0.7)) for _ in range(100))
        held += told.least_ms <= truth <= told.most_ms
    # Nine of ten, give or take three standard deviations of that share in 150 trials.
    assert held >= trials * (0.9 - 3 * (0.09 / trials) ** 0.5)
