"""Times and durations as a person reads them."""

from __future__ import annotations

import time
from dataclasses import replace
from datetime import UTC
from typing import get_args

import pytest

from companion.draft.masks import shed_of
from companion.draft.units import Units
from companion.present.loom_kinds import loom_in_full
from companion.record.wording import EVENT_KINDS, event_words, tie_words, time_words
from companion.remap.loom.loom import Action, Loom, Tie
from companion.weaving.events import Event, ReTied, TreadleTied
from tests.weaving.world import two_stage_warp

JANUARY_MS = 1_767_265_200_000
"""2026-01-01 11:00 UTC."""
JULY_MS = 1_782_903_600_000
"""2026-07-01 11:00 UTC."""


def test_times_are_those_of_the_clock_on_the_wall_in_winter_and_summer(monkeypatch):
    monkeypatch.setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0/3")
    time.tzset()
    try:
        assert time_words(JANUARY_MS, None) == "2026-01-01 12:00"
        assert time_words(JULY_MS, None) == "2026-07-01 13:00"
    finally:
        monkeypatch.undo()
        time.tzset()
    assert time_words(JULY_MS, UTC, seconds=True) == "2026-07-01 11:00:00"


@pytest.mark.parametrize("at_ms", [None, 10**18, -(10**18)])
def test_a_time_that_no_calendar_has_is_not_known(at_ms):
    assert time_words(at_ms) == "not known"


def test_looms_and_cords():
    assert loom_in_full(Loom(4, 6, Action.SINKING, reach=2)) == (
        "4 shafts, 6 treadles, counterbalance, up to 2 adjacent treadles under a foot"
    )
    assert loom_in_full(Loom(8, 0, Action.LEVERS)) == "8 shafts, table loom with levers"
    assert loom_in_full(Loom(2, 1)) == "2 shafts, 1 treadle, jack, one treadle under a foot"
    assert tie_words(Tie(up=shed_of([1, 3]), down=shed_of([2]))) == "up 1 3, down 2"
    assert tie_words(Tie()) == "nothing tied"


def test_a_tie_up_that_is_tied_once_has_no_stage():
    piece = two_stage_warp().pieces[0]
    alone = replace(piece, stages=(replace(piece.stages[0], last=7),))
    for tied, said, said_alone in (
        (ReTied(0), "for stage 1", ""),
        (TreadleTied(0, 1), "treadle 2 for stage 1", "treadle 2"),
        (TreadleTied(0, 1, False), "treadle 2 for stage 1, taken back", "treadle 2, taken back"),
    ):
        assert event_words(tied, piece, Units.METRIC) == said
        assert event_words(tied, alone, Units.METRIC) == said_alone


def test_every_event_has_words_of_its_own_for_its_kind():
    assert set(EVENT_KINDS) == set(get_args(Event))
    assert len(set(EVENT_KINDS.values())) == len(EVENT_KINDS)
    assert all(len(words.split()) <= 2 for words in EVENT_KINDS.values())
