"""Shuttles: where they lie, how far the bobbin goes, what is asked and warned."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.facing import Side
from companion.draft.model import Section
from companion.weaving import decide
from companion.weaving.errors import WeavingError
from companion.weaving.shuttles import WeftSource, shuttles
from tests.weaving.world import AtLoom, lever_draft, lever_warp


def at_a_loom_50_cm_wide(weft):
    warp = lever_warp(lever_draft(weft))
    return AtLoom(replace(warp, width_cm=50.0))


def test_each_shuttle_has_its_side_and_its_next_use():
    loom = AtLoom(lever_warp(lever_draft([0, 1, 1, 0, 2])))
    loom.weave(2)
    sand, sea, rust = shuttles(loom.warp, loom.progress)
    assert (sand.side, sand.picks, sand.next_use) == (Side.LEFT, 1, 3)
    assert (sea.side, sea.next_use) == (Side.LEFT, 2)
    assert (rust.side, rust.next_use) == (Side.RIGHT, 4)
    loom.weave(1)
    assert shuttles(loom.warp, loom.progress)[1].next_use is None


@pytest.mark.parametrize("per_cm", [2.0, None])
def test_the_next_use_of_a_shuttle_lies_in_the_next_lap_until_a_section_has_its_length(per_cm):
    weft = [0, 1, 1, 2, 0]
    sections = [Section("body", 4, until_cm=6.0), Section("edge", 1)]
    loom = AtLoom(lever_warp(lever_draft(weft, sections), picks_per_cm=per_cm))
    # By hand: 6 cm at 2 picks per cm are 3 laps of body; without picks per cm it goes on until the weaver ends it.
    woven = [0, 1, 2, 3] * 3 + ([4] if per_cm else [0, 1, 2, 3])
    for done in range(12 if per_cm else 8):
        for shuttle in shuttles(loom.warp, loom.progress):
            coming = (pick for pick in woven[done:] if weft[pick] == shuttle.yarn)
            assert shuttle.next_use == next(coming, None)
        loom.weave(1)


def test_picks_left_on_the_bobbin_come_from_the_width_until_a_bobbin_was_woven_up():
    loom = at_a_loom_50_cm_wide([0] * 100)
    assert shuttles(loom.warp, loom.progress)[0].ask_length
    loom.do(decide.change_bobbin, 0, 22.0)
    # 50 cm and a tenth more are 0.55 m a pick: 40 picks.
    view = shuttles(loom.warp, loom.progress)[0]
    assert (view.picks_left, view.per_pick.source, view.ask_length) == (40, WeftSource.WIDTH, False)
    loom.weave(30)
    view = shuttles(loom.warp, loom.progress)[0]
    assert (view.picks_left, view.running_out) == (10, True)
    loom.weave(4)
    loom.do(decide.change_bobbin, 0, 22.0)
    # The bobbin gave 34 picks, so 22 m are 34 picks from now on.
    view = shuttles(loom.warp, loom.progress)[0]
    assert (view.picks_left, view.per_pick.source, view.running_out) == (34, WeftSource.LEARNED, False)
    assert (view.per_pick.least, view.per_pick.most) == pytest.approx((0.5, 22 / 34))


def test_weft_that_is_taken_out_is_on_the_bobbin_again():
    loom = at_a_loom_50_cm_wide([0] * 100)
    loom.do(decide.change_bobbin, 0, 22.0)
    loom.weave(10)
    for _ in range(4):
        loom.do(decide.take_out)
    assert shuttles(loom.warp, loom.progress)[0].picks_left == 34


def test_a_bobbin_without_length_tells_nothing_and_a_shuttle_must_exist():
    loom = at_a_loom_50_cm_wide([0] * 10)
    loom.do(decide.change_bobbin, 0)
    assert shuttles(loom.warp, loom.progress)[0].picks_left is None
    with pytest.raises(WeavingError, match="no shuttle of yarn 2"):
        loom.do(decide.change_bobbin, 1)
    with pytest.raises(WeavingError, match="no length of yarn"):
        loom.do(decide.change_bobbin, 0, float("nan"))
