"""The facts of a record, counted by hand from what was done at the loom."""

from __future__ import annotations

from companion.draft.facing import FROM_LEFT
from companion.draft.units import Units
from companion.record.page import to_html
from companion.record.sheet import FootingRow, sheet
from companion.record.tables import to_document
from companion.remap.loom.loom import Footing
from companion.weaving import decide
from tests.weaving.world import TWILL, AtLoom, two_stage_warp


def test_what_lies_in_the_cloth_is_what_was_woven_not_what_was_planned(woven):
    first, second = sheet(woven.warp, woven.entries).pieces
    assert first.lying == (0, 1, 2, 3, 4, 5, 6, 2, 3)
    assert [row.lying for row in first.sections] == [6, 3]
    assert [(row.name, row.picks, row.bobbins) for row in first.shuttles] == [("sand", 5, 1), ("sea", 4, 0)]
    assert second.lying == (0,)
    assert first.told.finished
    assert not second.told.finished


def test_each_shed_has_its_feet_and_its_picks_by_stage():
    loom = AtLoom(two_stage_warp())
    loom.weave(4)
    loom.do(decide.re_tie)
    loom.weave(1)
    (piece,) = sheet(loom.warp, loom.entries).pieces
    assert piece.footings == (
        FootingRow(0, TWILL[0], Footing(left=(0,)), 2),
        FootingRow(0, TWILL[1], Footing(right=(1,)), 2),
        FootingRow(1, TWILL[2], Footing(left=(0,)), 1),
        FootingRow(1, TWILL[3], Footing(right=(1,)), 0),
    )


def test_near_misses_are_counted_and_told():
    loom = AtLoom(two_stage_warp())
    loom.do(decide.note_near_miss, (1,), (0,))
    loom.weave(1)
    record = sheet(loom.warp, loom.entries)
    assert record.told.near_misses == 1
    assert to_document(record)["near_misses"] == 1
    assert "shown by sensors before the beat" in to_html(record, Units.METRIC, FROM_LEFT)


def test_a_warp_on_which_nothing_happened_has_a_record_too(woven):
    record = sheet(woven.warp, [])
    assert (record.began_ms, record.ended_ms, len(record.pieces)) == (None, None, 1)
    assert record.pieces[0].lying == ()
