"""Every command that does not apply is refused in one line, and a refused command changes nothing."""

from __future__ import annotations

from functools import partial

import pytest

from companion.weaving import decide
from companion.weaving.errors import WeavingError
from companion.weaving.events import FaultKind, FaultState, Jumped
from tests.weaving.world import AtLoom, lever_draft, lever_warp


def begun(picks=2):
    loom = AtLoom(lever_warp(lever_draft([0] * 4)))
    loom.weave(picks)
    return loom


def paused():
    loom = begun()
    loom.do(decide.pause)
    return loom


def finished():
    loom = begun()
    loom.do(decide.finish_piece)
    return loom


@pytest.mark.parametrize(
    ("loom", "command", "line"),
    [
        (begun(4), decide.weave_pick, "the last pick of piece 1 is woven"),
        (begun(4), decide.end_section, "none after it"),
        (begun(0), decide.take_out, "none to take out"),
        (begun(0), decide.repeat_section, "none to repeat"),
        (begun(0), decide.undo, "nothing to undo"),
        (begun(0), partial(decide.measure, centimetres=3.0), "no cloth of this piece"),
        (begun(), partial(decide.measure, centimetres=0.0), "no length of cloth"),
        (begun(), partial(decide.measure, centimetres=float("inf")), "no length of cloth"),
        (begun(), partial(decide.measure, centimetres=1e-9), "no length of cloth"),
        (begun(), partial(decide.jump, pick=5), "has no pick 6"),
        (begun(), partial(decide.skip, picks=0), "cannot skip 0"),
        (begun(), partial(decide.skip, picks=3), "has no pick 6"),
        (begun(), partial(decide.write_note, text=" \n"), "empty note"),
        (begun(), partial(decide.note_fault, kind=FaultKind.OTHER, pick=4), "has no pick 5"),
        (begun(), partial(decide.settle_fault, fault=0, state=FaultState.MENDED), "fault 1 is not open"),
        (begun(), partial(decide.undo, number=7), "entry 7 is not among"),
        (begun(), partial(decide.undo, number=1), "undo those first"),
        (begun(), decide.start_piece, "is on the loom"),
        (begun(), decide.re_tie, "nothing to tie"),
        (finished(), decide.start_piece, "is the last piece"),
        (finished(), decide.weave_pick, "is finished"),
        (finished(), decide.finish_piece, "is finished"),
        (paused(), decide.weave_pick, "on a pause"),
        (paused(), decide.pause, "on a pause already"),
    ],
)
def test_a_command_that_does_not_apply_is_refused_in_one_line(loom, command, line):
    before = loom.progress
    with pytest.raises(WeavingError, match=line) as refusal:
        loom.do(command)
    assert "\n" not in str(refusal.value)
    assert loom.progress is before


def test_a_fault_is_settled_only_once():
    loom = begun()
    loom.do(decide.note_fault, FaultKind.OTHER, 0)
    with pytest.raises(WeavingError, match="found already"):
        loom.do(decide.settle_fault, 0, FaultState.FOUND)
    loom.do(decide.settle_fault, 0, FaultState.LEFT)
    with pytest.raises(WeavingError, match="not open"):
        loom.do(decide.settle_fault, 0, FaultState.MENDED)


def test_a_fault_is_not_undone_under_a_later_one():
    loom = begun()
    noted = loom.do(decide.note_fault, FaultKind.OTHER, 0)
    loom.do(decide.note_fault, FaultKind.OTHER, 1)
    with pytest.raises(WeavingError, match="a later fault"):
        loom.do(decide.undo, noted.number)


def test_skipping_and_finishing_early_are_events_that_can_be_undone():
    loom = begun()
    assert loom.do(decide.skip, 2).event == Jumped(4, "skipped")
    loom.do(decide.undo)
    loom.do(decide.finish_piece)
    loom.do(decide.undo)
    assert (loom.now.next_pick, loom.now.finished) == (2, False)


def test_coming_back_is_always_possible():
    loom = paused()
    loom.do(decide.resume, False)
    loom.weave(1)
    assert loom.now.cloth.picks == 3
