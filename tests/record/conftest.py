"""A warp that was woven with faults, notes and words that would do harm on a page or in a spreadsheet."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.model import Section
from companion.weaving import decide
from companion.weaving.events import FaultKind, FaultState
from tests.weaving.world import AtLoom, lever_draft, lever_warp

HARMFUL = "<script>alert('x')</script> & \"more\""
FORMULA = '=HYPERLINK("http://example.invalid","look")'


@pytest.fixture
def woven():
    """Two pieces; in the first 8 picks woven, 2 taken out, 1 woven again, a jump; the second just begun."""
    first = lever_draft([0, 1] * 5, [Section("hem " + HARMFUL, 4), Section("body", 6)])
    warp = lever_warp(first, lever_draft([2, 2]), picks_per_cm=2.0)
    loom = AtLoom(replace(warp, name="runner " + HARMFUL), gap_ms=60_000)
    loom.weave(8)
    loom.do(decide.note_fault, FaultKind.SKIPPED_END, 6, 2, FaultState.FOUND, HARMFUL)
    loom.do(decide.take_out)
    loom.do(decide.take_out)
    loom.weave(1)
    loom.do(decide.settle_fault, 0, FaultState.MENDED, FORMULA)
    loom.do(decide.write_note, FORMULA)
    loom.do(decide.write_note, "a mistake")
    loom.do(decide.undo)
    loom.do(decide.measure, 3.5)
    loom.do(decide.change_bobbin, 0, 12.0)
    loom.do(decide.jump, 2, "motif once more")
    loom.weave(2)
    loom.do(decide.finish_piece)
    loom.do(decide.start_piece)
    loom.weave(1)
    return loom
