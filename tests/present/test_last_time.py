"""What is read on coming back."""

from __future__ import annotations

from companion.present.last_time import last_time_lines
from companion.weaving import decide
from companion.weaving.coming_back import coming_back
from companion.weaving.events import FaultKind
from tests.weaving.world import AtLoom, lever_draft, lever_warp, two_stage_warp


def test_the_last_pick_its_feet_its_shuttle_notes_and_open_faults():
    loom = AtLoom(two_stage_warp())
    loom.weave(2)
    loom.do(decide.write_note, "weft joined")
    loom.do(decide.note_fault, FaultKind.SKIPPED_END, 1, 3, note="left edge")
    assert last_time_lines(coming_back(loom.warp, loom.progress, loom.at_ms + 3 * 86_400_000)) == (
        "3 days ago · last pick 2 · R 2 · shafts up: 2 3 · sand lies on the right",
        "note before pick 3: weft joined",
        "open fault: skipped end at pick 2, end 4: left edge",
    )


def test_before_the_first_pick_there_is_nothing_to_tell():
    loom = AtLoom(lever_warp(lever_draft([0] * 3)))
    assert last_time_lines(coming_back(loom.warp, loom.progress, 0)) == ()
