"""Coming back after a while: what the weaver sees first."""

from __future__ import annotations

from companion.draft.facing import Side
from companion.weaving import decide
from companion.weaving.coming_back import coming_back
from companion.weaving.events import FaultKind
from tests.weaving.world import TWILL, AtLoom, lever_draft, lever_warp, two_stage_warp

WEEK_MS = 7 * 86_400_000


def test_a_week_later_the_last_pick_its_side_and_the_next_are_there():
    loom = AtLoom(lever_warp(lever_draft([0, 1, 0, 2])))
    loom.weave(3)
    loom.do(decide.write_note, "weft joined at the left")
    loom.do(decide.note_fault, FaultKind.SKIPPED_END, 1, 3)
    loom.do(decide.pause)
    back = coming_back(loom.warp, loom.progress, loom.at_ms + WEEK_MS)
    assert back.away_ms == WEEK_MS
    assert (back.last.pick, back.last.shed, back.last.shuttle, back.last.lies) == (2, TWILL[2], "sand", Side.RIGHT)
    assert [row.pick for row in back.rows] == [2, 1, 0]
    assert (back.next.pick, back.next.shuttle) == (3, "rust")
    assert [note.text for note in back.notes] == ["weft joined at the left"]
    assert [fault.end for fault in back.open_faults] == [3]


def test_the_feet_of_the_last_pick_are_told_on_a_treadle_loom():
    loom = AtLoom(two_stage_warp())
    loom.weave(2)
    assert coming_back(loom.warp, loom.progress, loom.at_ms).last.footing.right == (1,)


def test_before_the_first_pick_there_is_nothing_to_compare_and_a_clock_set_back_is_no_time_away():
    loom = AtLoom(lever_warp(lever_draft([0] * 3)))
    back = coming_back(loom.warp, loom.progress, 5)
    assert (back.away_ms, back.last, back.rows, back.next.pick) == (None, None, (), 0)
    loom.weave(1)
    assert coming_back(loom.warp, loom.progress, loom.at_ms - 99).away_ms == 0
