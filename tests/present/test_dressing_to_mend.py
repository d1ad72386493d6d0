"""What was noted while dressing stands wherever the weaver looks, at dressing and weaving, until it is mended."""

from __future__ import annotations

from companion.draft.facing import FROM_LEFT
from companion.draft.units import Units
from companion.present.dress import dress_signs
from companion.present.dress_questions import ask_looks_so
from companion.present.dressing_wrong import COUNT_INSTEAD, ask_mistake
from companion.present.fault import ask_fault
from companion.present.pause import ask_pause
from companion.present.resume import ask_resume
from companion.record.dressing_told import dressing_told
from companion.weaving.decide import undo
from companion.weaving.dressing import TASKS, to_mend
from companion.weaving.dressing_commands import begin_task, find_shed_wrong, go_on_dressing, note_mistake, settle_task
from companion.weaving.dressing_events import DressingMistake, DressingTask, ShedPutRight, TaskState
from companion.weaving.history import history
from companion.weaving.to_mend import ToMend
from tests.present.test_dress_questions import INKS, THREADING, WAY, done_by, tasks, threaded, walk
from tests.weaving.world import AtLoom, two_stage_warp

TEST_WEAVE = DressingTask.TEST_WEAVE
ONE = "1 to mend: end 5"


def with_end_5_noted():
    loom = threaded()
    asked = ask_mistake(loom.warp, loom.progress, THREADING, FROM_LEFT, INKS)
    done_by(loom, walk(asked, COUNT_INSTEAD, "Count from the left", "5", "Done", "Noted; mended later"))
    return loom


def mended(loom):
    return [
        (row.where, row.mended, row.note) for row in dressing_told(loom.warp, history(loom.warp, loom.entries)).mistakes
    ]


def everywhere(loom):
    """Return what each page says that a weaver passes on the way from the dressing to the weaving."""
    warp, progress = loom.warp, loom.progress
    dressed = dress_signs(warp, progress, WAY, FROM_LEFT, INKS)
    fault = ask_fault(warp, progress, FROM_LEFT)
    return {
        "tasks": " ".join(answer.words for answer in tasks(loom).answers),
        "dressed": dressed.warning,
        "coming back to the dressing": ask_looks_so(warp, progress, WAY, 0).detail,
        "coming back": ask_resume(warp, progress, FROM_LEFT, Units.METRIC, 0).detail,
        "pause": ask_pause(warp, progress, Units.METRIC, FROM_LEFT).detail,
        "fault": " ".join(answer.words for answer in fault.answers),
    }


def test_what_is_mended_later_is_named_on_every_page_until_it_is_mended():
    loom = with_end_5_noted()
    for task in TASKS:
        loom.do(settle_task, task=task, state=TaskState.DONE)
    assert dress_signs(loom.warp, loom.progress, WAY, FROM_LEFT, INKS).large == "The loom is dressed"
    assert {page: ONE in says for page, says in everywhere(loom).items()} == dict.fromkeys(everywhere(loom), True)
    question = walk(tasks(loom), ONE)
    assert question.detail.startswith("end 5 belongs on shaft 3: put a repair heddle on that shaft")
    assert question.main is None, "no foot says by the way that it is mended"
    assert done_by(loom, walk(question, "It is mended")) == [DressingMistake(THREADING, 4, 4, True)]
    assert not any("to mend" in says for says in everywhere(loom).values())
    assert mended(loom) == [("end 5", True, "")]


def test_at_the_loom_it_is_mended_from_the_list_of_faults():
    loom = with_end_5_noted()
    loom.weave(2)
    done_by(loom, walk(ask_fault(loom.warp, loom.progress, FROM_LEFT), ONE, "It is mended"))
    assert to_mend(loom.now.dressing) == ()
    assert loom.now.cloth.picks == 2


def test_of_several_each_is_mended_by_itself_and_undo_makes_it_wait_again():
    loom = with_end_5_noted()
    loom.do(note_mistake, task=THREADING, first=9, last=11, note="crossed")
    row = "2 to mend: end 5, ends 10 to 12"
    done_by(loom, walk(tasks(loom), row, "Ends 10 to 12", "It is mended"))
    assert to_mend(loom.now.dressing) == (ToMend(THREADING, 4, 4),)
    assert mended(loom) == [("end 5", False, ""), ("ends 10 to 12", True, "crossed")]
    loom.do(undo)
    assert [one.place for one in to_mend(loom.now.dressing)] == [(THREADING, 4, 4), (THREADING, 9, 11)]


def test_a_repair_heddle_in_several_ends_settles_what_was_noted_among_them_and_no_more():
    loom = with_end_5_noted()
    loom.do(note_mistake, task=THREADING, first=3, last=8)
    loom.do(note_mistake, task=THREADING, first=2, last=6, mended=True, note="repair heddle")
    assert [one.place for one in to_mend(loom.now.dressing)] == [(THREADING, 3, 8)]
    assert mended(loom) == [
        ("end 5", True, "repair heddle"),
        ("ends 4 to 9", False, ""),
        ("ends 3 to 7", True, "repair heddle"),
    ]


def with_shed_wrong():
    loom = AtLoom(two_stage_warp())
    loom.do(begin_task, task=TEST_WEAVE)
    loom.do(find_shed_wrong, test=0, note="tied to 3 too")
    return loom


def test_a_wrong_shed_that_is_woven_right_afterwards_is_mended_in_the_record():
    loom = with_shed_wrong()
    assert mended(loom) == [("shed 1", None, "tied to 3 too")]
    loom.do(go_on_dressing, task=TEST_WEAVE)
    assert mended(loom) == [("shed 1", True, "tied to 3 too")]
    assert to_mend(loom.now.dressing) == ()


def test_a_wrong_shed_waits_on_the_list_and_is_put_right_there():
    loom = with_shed_wrong()
    loom.do(settle_task, task=TEST_WEAVE, state=TaskState.DONE)
    question = walk(tasks(loom), "1 to mend: shed 1 of the test weave")
    assert question.detail == "look at the ties of treadle 1: tied to 1 2, and to nothing else"
    assert done_by(loom, walk(question, "It is mended")) == [ShedPutRight(0)]
    assert to_mend(loom.now.dressing) == ()
    assert mended(loom) == [("shed 1", True, "tied to 3 too")]
