"""The questions of dressing, walked as a weaver walks them: what each way ends in."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.sley import Sley, parse_reed
from companion.draft.units import Units
from companion.present.asking import Answered, Asked, AskedToWrite, Elsewhere
from companion.present.deeds import answer_words
from companion.present.dress_questions import ask_groups, ask_looks_so, ask_tasks
from companion.present.dressing_words import dressing_deed_words
from companion.present.threads_picture import ThreadInks
from companion.remap.loom.loom import Tie
from companion.weaving.decide import pause
from companion.weaving.dressing import FRONT_TO_BACK
from companion.weaving.dressing_commands import begin_task, go_on_dressing, plan_sley
from companion.weaving.dressing_events import (
    DressingTakenOut,
    DressingTask,
    SleyPlanned,
    TaskBegun,
    TaskSettled,
    TaskState,
)
from companion.weaving.dressing_way import BY_ENDS, DressingWay
from companion.weaving.events import Resumed, ReTied
from tests.weaving.test_dressing_view import asset_warp
from tests.weaving.world import AtLoom, two_stage_warp

THREADING = DressingTask.THREADING
INKS = ThreadInks((10, 10, 10), (40, 40, 40), (90, 90, 90), (200, 200, 200))
WAY = DressingWay()


def threaded(done=20):
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    loom.do(begin_task, task=THREADING)
    loom.do(go_on_dressing, task=THREADING, count=done)
    return loom


def walk(asked, *words, typed=None):
    """Give these answers one after another (digits on the pad one by one); return what the flow ends in."""
    step = asked
    for word in words:
        assert isinstance(step, Asked), word
        answers = (*step.answers, *step.foot, *step.pad)
        step = next(answer for answer in answers if answer.words == word).leads_to()
    if typed is not None:
        assert isinstance(step, AskedToWrite)
        step = step.leads_to(typed)
    return step


def tasks(loom, way=WAY):
    return ask_tasks(loom.warp, loom.progress, way, Units.METRIC, FROM_LEFT)


def done_by(loom, step):
    """Carry out what a flow ended in; return the events."""
    assert isinstance(step, Answered)
    return [loom.do(command).event for command in step.result]


@pytest.mark.parametrize(
    ("words", "event"),
    [
        ("Go on with it", TaskBegun(DressingTask.SLEYING)),
        ("It is done", TaskSettled(DressingTask.SLEYING, TaskState.DONE)),
        ("Leave it out", TaskSettled(DressingTask.SLEYING, TaskState.SKIPPED)),
    ],
)
def test_a_task_is_turned_to_ended_or_left_out(words, event):
    loom = threaded()
    asked = tasks(loom)
    assert "Threading: 20 of 90" in [answer.words for answer in asked.answers]
    assert done_by(loom, walk(asked, "Sleying: to do", words)) == [event]


def test_a_task_that_was_left_out_is_opened_again():
    loom = threaded()
    done_by(loom, walk(tasks(loom), "Heading: to do", "Leave it out"))
    events = done_by(
        loom,
        walk(tasks(loom), "Heading: skipped", "Open it again"),
    )
    assert events == [TaskSettled(DressingTask.HEADING, TaskState.TO_DO), TaskBegun(DressingTask.HEADING)]


def test_the_other_side_is_offered_while_nothing_is_done():
    loom = threaded()
    asked = tasks(loom)
    assert "From the other side" not in [answer.words for answer in walk(asked, "Threading: 20 of 90").answers]
    assert done_by(loom, walk(asked, "Winding: to do", "From the other side")) == [
        TaskBegun(DressingTask.WINDING, from_last=True)
    ]


def test_dents_are_planned_all_alike_or_typed_and_a_slip_is_told():
    loom = threaded()
    asked = tasks(loom)
    again = walk(asked, "Dents", "Not all alike", typed="(1 2")
    assert "his bracket is not closed" in again.lines[0]
    assert again.main.words == "Not all alike"
    assert (again.main.leads_to().written, again.refused[1]) == ("(1 2", "(1 2")
    assert done_by(loom, walk(asked, "Dents", "Not all alike", typed="(1 2 0)x30")) == [SleyPlanned((1, 2, 0) * 30)]
    assert done_by(loom, walk(asked, "Dents", "2 ends in a dent")) == [SleyPlanned((2,) * 45)]


def test_a_plan_for_other_ends_is_refused_with_how_to_mend_it_and_what_was_typed_stays():
    loom = threaded()
    dents = walk(tasks(loom), "Dents")
    refused = walk(dents, "Not all alike", typed="(1 2 0)x20")
    assert refused.lines == ("This plan has dents for 60 ends, and the warp has 90: repeat it until they agree",)
    # It is asked in the place of the question before, so that the way back leads past both.
    assert refused.bit_by_bit == dents.bit_by_bit
    assert refused.main.words == "Not all alike"
    assert walk(refused, "Not all alike").written == "(1 2 0)x20"
    assert done_by(loom, walk(refused, "Not all alike", typed="(1 2 0)x30")) == [SleyPlanned((1, 2, 0) * 30)]


@pytest.mark.parametrize(("units", "reed"), [(Units.METRIC, "120/10 cm"), (Units.INCH, "12/in")])
def test_the_reed_is_told_by_touch_in_the_weavers_own_measure(units, reed):
    loom = threaded()
    loom.do(plan_sley, sley=Sley((2,) * 45))
    asked = ask_tasks(loom.warp, loom.progress, WAY, units, FROM_LEFT)
    assert done_by(loom, walk(asked, "Dents", "The reed", "1", "2", "Done")) == [
        SleyPlanned((2,) * 45, parse_reed(reed))
    ]
    told = ask_tasks(loom.warp, loom.progress, WAY, units, FROM_LEFT)
    assert f"The reed: {reed}" in [answer.words for answer in walk(told, "Dents").answers]


def test_the_counts_are_told_with_what_lacks_and_where_to_begin():
    loom = threaded()
    heddled = replace(loom.warp.loom, heddles=(20, 20, 30, 30), weaving_width_cm=80.0)
    warp = replace(loom.warp, loom=heddled)
    loom.do(plan_sley, sley=Sley((2,) * 45, 4.0))
    counts = walk(ask_tasks(warp, loom.progress, WAY, Units.METRIC, FROM_LEFT), "Counts")
    assert counts.lines == (
        "90 ends: 90 natural",
        "heddles on 1: 18   2: 27   3: 27   4: 18; too few: 7 on 2",
        "to wind: 90 natural",
        # 320 dents in 80 cm, 275 of them empty: 137 before.
        "45 dents, 11.2 cm wide",
        "centred: begin in dent 138 from the left end of the reed",
    )
    spread = walk(counts, "Raddle", "1", "Done")
    # 45 dents of 4 to the cm: eleven spaces of 8 ends, and 2 ends over (worked by hand).
    assert spread.lines == (*counts.lines, "in the spaces of the raddle: (8)x11 2")


def test_a_reed_alone_is_no_plan_of_dents():
    said = [dressing_deed_words(SleyPlanned(dents, reed)) for dents, reed in (((), 4.0), ((2, 2), 4.0), ((2, 2), None))]
    assert said == ["a reed of 40/10 cm", "sley plan of 2 dents, a reed of 40/10 cm", "sley plan of 2 dents"]


def test_the_order_is_the_weavers_own():
    loom = threaded()
    # The button says how it is, like those of the settings, and a touch changes it.
    step = walk(tasks(loom), "Order: back to front")
    assert step.result.order == FRONT_TO_BACK
    assert "Order: front to back" in [answer.words for answer in tasks(loom, step.result).foot]


def test_groups_are_as_long_as_the_weaver_likes():
    loom = threaded()
    asked = ask_groups(WAY, loom.warp, THREADING)
    assert walk(asked, "At most 8").result.group == 8
    assert walk(asked, "Another number", "7", "Done").result.group == 7
    assert walk(asked, "End by end").result.one_by_one
    assert walk(ask_groups(WAY, loom.warp, DressingTask.WINDING), "2 at once").result.at_once == 2


def test_a_threading_that_is_done_end_by_end_is_opened_again_by_taking_ends_out():
    loom = threaded(90)
    assert walk(tasks(loom), "Threading: done").detail == "done"
    events = done_by(loom, walk(tasks(loom), "Threading: done", "Take out the last group"))
    assert [type(event) for event in events] == [DressingTakenOut]
    assert loom.now.dressing.task is THREADING
    loom = threaded(90)
    again = walk(tasks(loom), "Threading: done", "Take out more", "3", "0", "Done")
    assert done_by(loom, again) == [DressingTakenOut(THREADING, 30)]


def test_a_tie_up_that_is_said_to_be_done_is_tied_for_weaving_too():
    loom = AtLoom(two_stage_warp(present=(Tie(), Tie())))
    events = done_by(loom, walk(tasks(loom), "Tie-up: to do", "It is done"))
    assert events == [ReTied(0), TaskSettled(DressingTask.TIE_UP, TaskState.DONE)]


def test_a_loom_with_levers_has_no_treadles_to_tie():
    loom = threaded()
    assert [answer.words.partition(":")[0] for answer in tasks(loom).answers] == [
        "Winding",
        "Beaming",
        "Threading",
        "Sleying",
        "Test weave",
        "Heading",
    ]


def test_after_a_break_fewer_ends_may_hang_than_the_journal_has():
    loom = threaded()
    loom.do(pause)
    asked = ask_looks_so(loom.warp, loom.progress, WAY, 3 * 86_400_000)
    assert asked.words == "Does your threading look like this?"
    assert "3 days ago" in asked.detail
    assert asked.detail.endswith("4:\N{NO-BREAK SPACE}14")
    events = done_by(loom, walk(asked, "Many fewer", "1", "2", "Done"))
    assert events == [Resumed(looked_right=False), DressingTakenOut(THREADING, 12)]


def test_after_a_break_everything_may_hang_as_it_did():
    loom = threaded()
    loom.do(pause)
    asked = ask_looks_so(loom.warp, loom.progress, WAY, 0)
    assert done_by(loom, walk(asked, "Yes, go on")) == [Resumed()]
    assert [answer.leads_to().result for answer in asked.foot] == [
        Elsewhere.OTHER_WARP,
        Elsewhere.RECORD,
        Elsewhere.WEAVING,
        Elsewhere.SETTINGS,
    ]


def test_where_nothing_hangs_yet_the_next_task_is_named():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    loom.do(pause)
    assert ask_looks_so(loom.warp, loom.progress, WAY, 0).words == "Next: winding"


def test_every_deed_is_answered_in_a_line():
    loom = threaded()
    before = loom.progress
    event = loom.do(go_on_dressing, task=THREADING, count=4).event
    assert answer_words(loom.warp, before, event, Units.METRIC) == "4 ends threaded"


@pytest.mark.parametrize("task", BY_ENDS)
def test_after_a_break_it_is_asked_of_what_was_in_hand(task):
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    if task is DressingTask.SLEYING:
        loom.do(plan_sley, sley=Sley((2,) * 45, 4.0))
    loom.do(begin_task, task=task)
    loom.do(go_on_dressing, task=task, count=3)
    assert ask_looks_so(loom.warp, loom.progress, WAY, 0).words == f"Does your {task.value} look like this?"
