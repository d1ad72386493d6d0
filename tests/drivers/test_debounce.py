from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drivers.debounce import Debounce, DebounceTimes, Edge
from drivers.tally import Ignored, new_tally
from tests.drivers.contact import BouncingSwitch

TIMES = DebounceTimes()


def edges_of(samples, times=TIMES):
    """Edges for samples given as (milliseconds, closed), and the tally."""
    ignored = new_tally()
    debounce = Debounce(times, ignored)
    edges = [edge for at_ms, closed in samples if (edge := debounce.sample(closed, at_ms / 1000))]
    return edges, ignored


def test_a_press_counts_after_five_steady_milliseconds_and_began_when_it_touched():
    edges, _ = edges_of([(0, False), (1, True), (5, True), (6, True)])
    assert edges == [Edge(True, 0.001)]
    assert edges_of([(0, False), (1, True), (5.9, True)])[0] == []


def test_a_shorter_touch_is_bounce_and_counted():
    edges, ignored = edges_of([(0, False), (1, True), (5, False), (100, False)])
    assert edges == []
    assert ignored[Ignored.BOUNCE] == 2


def test_nothing_fires_within_the_refractory_time():
    samples = [(0, False), (1, True), (6, True), (50, False), (60, False), (70, True), (80, True), (400, True)]
    edges, ignored = edges_of(samples)
    assert edges == [Edge(True, 0.001)]
    assert ignored[Ignored.BOUNCE] == 2


def test_a_release_within_the_refractory_time_is_told_after_it_with_its_own_time():
    edges, _ = edges_of([(0, False), (1, True), (6, True), (80, False), (150, False), (156, False)])
    assert edges == [Edge(True, 0.001), Edge(False, 0.08)]


def test_a_foot_already_on_the_pedal_presses_nothing():
    assert edges_of([(0, True), (500, True), (501, False), (510, False)])[0] == [Edge(False, 0.501)]


@pytest.mark.parametrize("poll_ms", [1, 4, 5, 7])
@pytest.mark.parametrize("worst_ms", [6.2, 20])
def test_four_hundred_presses_of_a_bouncing_switch_are_as_many(poll_ms, worst_ms):
    chance = random.Random(poll_ms)
    presses, now_ms = [], 100.0
    for _ in range(400):
        up_ms = now_ms + chance.uniform(180, 500)
        presses.append((now_ms, up_ms))
        now_ms = up_ms + chance.uniform(200, 500)
    switch = BouncingSwitch(presses, seed=poll_ms, worst_ms=worst_ms)
    samples = ((at_ms, switch.closed(at_ms)) for at_ms in range(0, int(now_ms), poll_ms))
    edges, _ = edges_of(samples)
    assert [edge.down for edge in edges] == [True, False] * 400
    for (down_ms, up_ms), press, release in zip(presses, edges[::2], edges[1::2], strict=True):
        assert 0 <= press.at_s * 1000 - down_ms <= worst_ms + poll_ms
        assert 0 <= release.at_s * 1000 - up_ms <= worst_ms + poll_ms


samples = st.lists(st.tuples(st.integers(0, 300), st.booleans()), max_size=60)


@given(samples)
def test_edges_alternate_keep_their_distance_and_account_for_every_change(steps):
    now_ms, changes, raw, timed = 0, 0, False, [(0, False)]
    for step_ms, closed in steps:
        now_ms += step_ms
        changes += closed != raw
        raw = closed
        timed.append((now_ms, closed))
    edges, ignored = edges_of(timed)
    assert [edge.down for edge in edges] == [number % 2 == 0 for number in range(len(edges))]
    pending = raw != (bool(edges) and edges[-1].down)
    assert ignored[Ignored.BOUNCE] + len(edges) + pending == changes
