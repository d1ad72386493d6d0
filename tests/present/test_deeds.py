"""Every deed is answered in one line, and undo says beforehand what it takes back."""

from __future__ import annotations

import pytest

from companion.draft.units import Units
from companion.present.deeds import answer_words, ask_undo, deed_words
from companion.weaving import decide
from companion.weaving.events import FaultKind, FaultState, PickWoven
from companion.weaving.progress import begin
from tests.weaving.world import AtLoom, lever_draft, lever_warp


@pytest.fixture
def loom():
    loom = AtLoom(lever_warp(lever_draft([0, 1, 2] * 5)))
    loom.weave(6)
    return loom


def answered(loom, command, *arguments):
    before = loom.progress
    loom.do(command, *arguments)
    return answer_words(loom.warp, before, loom.entries[-1].event, Units.METRIC)


def test_deeds_are_answered_by_what_became_of_them(loom):
    assert answered(loom, decide.take_out) == "pick 6 taken out"
    assert answered(loom, decide.note_fault, FaultKind.WRONG_SHED, 3) == "fault in pick 4: wrong shed, found"
    assert answered(loom, decide.settle_fault, 0, FaultState.MENDED) == "fault in pick 4: mended"
    assert answered(loom, decide.write_note, "tension set again") == 'note "tension set again"'
    assert answered(loom, decide.measure, 12.5) == "12.5 cm measured"
    assert answered(loom, decide.change_bobbin, 0) == "new bobbin: sand"
    assert answered(loom, decide.jump, 9) == "next is pick 10"


def test_what_the_screen_itself_shows_needs_no_line(loom):
    assert answered(loom, decide.weave_pick) == ""
    assert answered(loom, decide.pause) == ""


def test_undo_names_what_it_takes_back_before_and_after(loom):
    loom.do(decide.write_note, "tension set again")
    assert ask_undo(loom.warp, loom.progress, Units.METRIC).words == 'Undo: note "tension set again"?'
    assert answered(loom, decide.undo) == 'undone: note "tension set again"'
    assert ask_undo(loom.warp, loom.progress, Units.METRIC).words == "Undo: pick 6 woven?"


def test_a_settled_fault_is_named_by_its_pick_when_that_is_undone(loom):
    loom.do(decide.note_fault, FaultKind.BROKEN_END, 2, 1)
    loom.do(decide.settle_fault, 0, FaultState.LEFT)
    assert ask_undo(loom.warp, loom.progress, Units.METRIC).words == "Undo: fault in pick 3: left as it is?"


def test_on_an_unwoven_warp_there_is_nothing_to_undo():
    warp = lever_warp(lever_draft([0]))
    assert ask_undo(warp, begin(warp), Units.METRIC) is None


def test_a_long_note_is_quoted_by_its_beginning(loom):
    words = deed_words(loom.warp, loom.progress, decide.write_note(loom.warp, loom.progress, "n" * 100), Units.METRIC)
    assert len(words) <= 50
    assert words.endswith('…"')
    assert deed_words(loom.warp, loom.progress, PickWoven(6), Units.METRIC) == "pick 7 woven"
