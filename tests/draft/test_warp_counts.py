"""Heddles, ends of each colour and the winding list, against exercises reckoned by hand and by other rules."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.errors import DraftError
from companion.draft.model import Colour, Yarn
from companion.draft.shorthand import parse_shorthand
from companion.draft.warp_counts import EndsOfYarn, ShaftShort, ends_per_yarn, heddles_needed, heddles_short
from companion.draft.winding_list import WoundTurn, read_winding, winding_words, wound_turns
from tests.draft.drafts import INDIGO, WHITE, draft_of
from tests.oracles.reading_expanded import expand

ROSE = Yarn("rose", Colour(200, 60, 90))
STRIPES = (
    "yarn: sand\nyarn: sea\nthreading: (1 2)x25\nwarp: sand x24 sea x2 (sand sea)x12\ntie-up: 1, 2\ntreadling: 1 2"
)


@pytest.mark.parametrize(
    ("threading", "heddles"),
    [
        # A straight draw of 400 ends on four shafts takes 100 heddles on each; on eight, 50.
        ("(1-4)x100", (100,) * 4),
        ("(1-8)x50", (50,) * 8),
        # A point draw of n repeats and one end to balance: the inner shafts carry twice as many. Handbook exercise of
        # the point twill, from memory: 12 repeats of six and one end are 73 ends, 13 + 24 + 24 + 12.
        ("point (1 2 3 4) x12 1", (13, 24, 24, 12)),
        # Summer-and-winter of four shafts, blocks A = 1 3 2 3 and B = 1 4 2 4, ties on 1 and 2, from memory: half of
        # all ends are ties, shared by two shafts; 10 A and 6 B are 64 ends.
        ("(1 3 2 3)x10 (1 4 2 4)x6", (16, 16, 20, 12)),
        # Overshot, blocks overlap on a shared shaft; 1 2 1 2 3 2 3 4 3 4 1 4 has each shaft three times.
        ("(1 2 1 2 3 2 3 4 3 4 1 4)x8", (24,) * 4),
    ],
)
def test_heddles_of_exercises(threading, heddles):
    draft = parse_shorthand(f"threading: {threading}\ntie-up: 1\ntreadling: 1")
    assert heddles_needed(draft) == heddles
    assert sum(heddles) == draft.ends


def test_an_end_on_no_shaft_takes_no_heddle():
    assert heddles_needed(parse_shorthand("shafts: 3\nthreading: 0 1 2 0\ntie-up: 1\ntreadling: 1")) == (1, 1, 0)


def test_only_shafts_of_which_something_is_told_can_be_short():
    assert heddles_short((30, 20, 10), (25, 20)) == (ShaftShort(0, 5),)


def test_ends_of_each_yarn_in_the_order_of_first_use():
    assert ends_per_yarn(parse_shorthand(STRIPES)) == (EndsOfYarn(0, 36), EndsOfYarn(1, 14))


def test_the_winding_list_is_read_in_repeats():
    draft = parse_shorthand(STRIPES)
    assert winding_words(read_winding(wound_turns(draft)), draft.yarns) == "24 sand, 2 sea, (1 sand 1 sea)x12"


def test_two_ends_wound_at_once_are_turns_of_two_neighbours():
    draft = parse_shorthand(STRIPES)
    words = winding_words(read_winding(wound_turns(draft, 2)), draft.yarns)
    assert words == "12 sand+sand, 1 sea+sea, 12 sand+sea"


@given(st.lists(st.integers(0, 2), max_size=40), st.integers(1, 5))
def test_every_end_is_wound_once_and_in_order_however_many_at_once(warp, at_once):
    draft = draft_of(threading=[1] * len(warp), tieup=[[1]], treadling=[], yarns=(WHITE, INDIGO, ROSE))
    reading = read_winding(wound_turns(replace(draft, warp=tuple(warp)), at_once))
    turns = [reading.items[symbol] for symbol in expand(reading.part)]
    assert [yarn for turn in turns for _ in range(turn.times) for yarn in turn.yarns] == warp
    assert all(len(turn.yarns) == at_once for turn in turns[:-1])


@pytest.mark.parametrize("at_once", [0, -1, 25])
def test_nobody_winds_so_many_at_once(at_once):
    with pytest.raises(DraftError, match="wound at once"):
        wound_turns(parse_shorthand(STRIPES), at_once)


def test_counts_of_ends_and_turns_agree():
    draft = parse_shorthand(STRIPES)
    by_turns = Counter()
    for turn in wound_turns(draft, 3):
        assert isinstance(turn, WoundTurn)
        for yarn in turn.yarns:
            by_turns[yarn] += turn.times
    assert dict(by_turns) == {one.yarn: one.ends for one in ends_per_yarn(draft)}
