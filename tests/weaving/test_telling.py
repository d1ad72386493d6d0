"""What the weaver says of the cloth afterwards: what must have happened, what counts, and what is refused."""

from __future__ import annotations

import pytest

from companion.draft.model import Section
from companion.weaving import decide, telling
from companion.weaving.errors import WeavingError
from companion.weaving.events import ClothTold, PickTakenOut, PickWoven
from companion.weaving.forecast import forecast
from companion.weaving.history import history
from companion.weaving.picks_moved import BLOCK_PICKS
from companion.weaving.telling import Meanwhile, ways_there
from tests.weaving.world import AtLoom, lever_draft, lever_warp


@pytest.fixture
def loom():
    loom = AtLoom(lever_warp(lever_draft([0, 1] * 40)))
    loom.weave(6)
    return loom


def ways(loom, pick):
    return [
        (way.meanwhile, way.taken_out, way.woven) for way in ways_there(loom.warp.pieces[0], loom.progress.now, pick)
    ]


def test_further_on_and_back_in_the_cloth_the_way_is_clear(loom):
    assert ways(loom, 5) == [(Meanwhile.NOTHING, 0, ())]
    assert ways(loom, 9) == [(Meanwhile.WOVEN_ON, 0, (6, 7, 8, 9))]
    assert ways(loom, 3) == [(Meanwhile.TAKEN_OUT, 2, ())]


def test_after_a_jump_the_weaver_is_asked_what_lies_between(loom):
    loom.do(decide.jump, 20)
    assert ways(loom, 22) == [(Meanwhile.WOVEN_ON, 0, (20, 21, 22)), (Meanwhile.LEFT_OUT, 0, (22,))]
    assert ways(loom, 20) == [(Meanwhile.WOVEN_ON, 0, (20,))]


def test_a_pick_that_never_lay_there_was_woven_again_or_alone(loom):
    loom.do(decide.jump, 20)
    loom.weave(1)
    assert ways(loom, 10)[0] == (Meanwhile.WOVEN_AGAIN, 0, tuple(range(11)))
    assert ways(loom, 10)[1] == (Meanwhile.LEFT_OUT, 0, (10,))


def test_in_a_section_woven_to_a_length_a_lap_more_or_picks_out_are_both_thought_of():
    draft = lever_draft([0, 1, 2, 0], [Section("body", 3, until_cm=50.0), Section("end", 1)])
    loom = AtLoom(lever_warp(draft, picks_per_cm=2.0))
    loom.weave(5)
    meanwhile = {way.meanwhile for way in ways_there(loom.warp.pieces[0], loom.progress.now, 0)}
    assert meanwhile == {Meanwhile.WOVEN_ON, Meanwhile.LEFT_OUT, Meanwhile.TAKEN_OUT}


def test_one_undo_takes_back_all_that_was_told(loom):
    before = loom.progress.now
    loom.do(telling.tell_cloth, 2, (7, 8))
    loom.do(decide.undo)
    now = loom.progress.now
    assert (now.cloth, now.next_pick, now.shuttles) == (before.cloth, before.next_pick, before.shuttles)


def test_picks_told_of_count_as_woven_but_never_as_pace():
    loom = AtLoom(lever_warp(lever_draft([0] * (8 * BLOCK_PICKS))), gap_ms=3_000)
    loom.weave(3 * BLOCK_PICKS)
    told = forecast(loom.warp, loom.progress)
    loom.do(telling.tell_cloth, 0, tuple(range(3 * BLOCK_PICKS, 3 * BLOCK_PICKS + 7)))
    assert (loom.progress.now.woven, loom.progress.now.told) == (3 * BLOCK_PICKS + 7, 7)
    loom.weave(BLOCK_PICKS)
    assert len(loom.progress.now.block_ms) == 4
    assert forecast(loom.warp, loom.progress).likely_ms < told.likely_ms
    assert sum(sitting.picks for sitting in history(loom.warp, loom.entries).sittings) == 4 * BLOCK_PICKS


@pytest.mark.parametrize(("out", "woven"), [(0, ()), (7, ()), (-1, ()), (0, (80,)), (0, (-1,)), (0, (0,) * 10_001)])
def test_what_cannot_be_is_refused_and_nothing_changes(loom, out, woven):
    before = loom.progress
    with pytest.raises(WeavingError):
        loom.do(telling.tell_cloth, out, woven)
    assert loom.progress == before


def test_the_record_counts_what_was_told_and_marks_it(loom):
    loom.do(telling.tell_cloth, 1, (5, 6, 7))
    woven = history(loom.warp, loom.entries).woven
    assert [pick.told for pick in woven] == [False] * 6 + [True] * 3
    assert [pick.taken_out for pick in woven] == [False] * 5 + [True] + [False] * 3
    events = [entry.event for entry in loom.entries]
    assert events[-1] == ClothTold(1, (5, 6, 7))
    assert not any(isinstance(event, PickTakenOut) for event in events)
    assert sum(isinstance(event, PickWoven) for event in events) == 6
