"""The record tells of the dressing: what was done in what time, what was wrong and how it was mended, notes by task."""

from __future__ import annotations

from companion.draft.facing import FROM_LEFT
from companion.draft.sley import Sley
from companion.draft.units import Units
from companion.record.outline import outline
from companion.record.sheet import sheet
from companion.record.tables import to_document
from companion.weaving.decide import undo, write_note
from companion.weaving.dressing_commands import (
    begin_task,
    find_shed_wrong,
    go_on_dressing,
    note_mistake,
    plan_sley,
    settle_task,
)
from companion.weaving.dressing_events import DressingTask, TaskState
from tests.weaving.world import AtLoom, lever_draft, lever_warp

THREADING = DressingTask.THREADING


def dressed():
    loom = AtLoom(lever_warp(lever_draft([0, 1] * 4)), gap_ms=120_000)
    loom.do(settle_task, DressingTask.BEAMING, TaskState.SKIPPED)
    loom.do(begin_task, THREADING)
    loom.do(go_on_dressing, THREADING, 5)
    loom.do(write_note, "light was poor")
    loom.do(note_mistake, THREADING, 2, 3, True, "crossed; threaded again")
    loom.do(note_mistake, THREADING, 0)
    loom.do(undo)
    loom.do(find_shed_wrong, 1, "cord slipped")
    loom.weave(1)
    loom.do(write_note, "first pick")
    return loom


def chapter(loom, title):
    chapters = outline(sheet(loom.warp, loom.entries), Units.METRIC, FROM_LEFT)
    return next((one for one in chapters if one.title == title), None)


def test_each_task_that_was_begun_has_its_state_and_time():
    tasks, mistakes = chapter(dressed(), "Dressing the loom").parts
    assert tasks.rows == (
        ("Beaming", "skipped", "", ""),
        ("Threading", "to do", "5 of 8", "14 min"),
        ("Test weave", "to do", "0 of 6", "2 min"),
    )
    assert [row[1:] for row in mistakes.rows] == [
        ("threading", "ends 3 to 4", "mended", "crossed; threaded again"),
        ("test weave", "shed 2", "found", "cord slipped"),
    ]


def test_of_a_task_that_was_only_said_to_be_done_no_count_is_told():
    loom = AtLoom(lever_warp(lever_draft([0, 1] * 4)))
    loom.do(settle_task, DressingTask.WINDING, TaskState.DONE)
    (tasks,) = chapter(loom, "Dressing the loom").parts
    assert tasks.rows == (("Winding", "done", "", ""),)


def test_the_plan_of_the_dents_is_told_and_what_is_drawn_lies_by_it():
    loom = AtLoom(lever_warp(lever_draft([0, 1] * 4)))
    assert chapter(loom, "Dressing the loom") is None
    loom.do(plan_sley, Sley((1, 1, 2, 0, 2, 2), 4.0))
    (plan,) = chapter(loom, "Dressing the loom").parts
    assert plan.rows == (("Reed", "40 dents per 10 cm"), ("Sley", "ends in each dent from end 1: 1 1 2 0 2 2"))
    loom.weave(1)
    (piece,) = sheet(loom.warp, loom.entries).pieces
    assert piece.piece.draft.sley == Sley((1, 1, 2, 0, 2, 2), 4.0)


def test_a_note_says_what_was_in_hand_when_it_was_written():
    (notes,) = chapter(dressed(), "Notes").parts
    assert [row[2:] for row in notes.rows] == [
        ("while at the threading", "light was poor"),
        ("before pick 2", "first pick"),
    ]


def test_the_document_has_the_same():
    document = to_document(sheet(dressed().warp, dressed().entries))["dressing"]
    assert [(task["task"], task["done"], task["minutes"]) for task in document["tasks"]] == [
        ("beaming", 0, 0.0),
        ("threading", 5, 14.0),
        ("test weave", 0, 2.0),
    ]
    assert [mistake["where"] for mistake in document["mistakes"]] == ["ends 3 to 4", "shed 2"]


def test_of_a_warp_whose_dressing_was_not_told_nothing_is_said():
    loom = AtLoom(lever_warp(lever_draft([0, 1] * 4)))
    loom.weave(2)
    assert chapter(loom, "Dressing the loom") is None
    assert to_document(sheet(loom.warp, loom.entries))["dressing"] == {"tasks": [], "mistakes": []}
