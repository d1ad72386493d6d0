"""What is wrong while the loom is dressed, found by touching where: what each way ends in."""

from __future__ import annotations

import numpy as np
import pytest

from companion.draft.facing import FROM_LEFT, FROM_RIGHT
from companion.draft.sley import Sley
from companion.present.asking import Asked
from companion.present.dressing_wrong import COUNT_INSTEAD, ask_mistake
from companion.present.threads_touched import WHICH_DENT, WHICH_END, heddles_picture, reed_picture
from companion.weaving.dressing_commands import begin_task, go_on_dressing, plan_sley, settle_task
from companion.weaving.dressing_events import (
    DressingMistake,
    DressingTakenOut,
    DressingTask,
    ShedFoundWrong,
    TaskState,
)
from tests.present.test_dress_questions import INKS, THREADING, done_by, threaded, walk
from tests.present.test_plain_weave import touch
from tests.weaving.test_dressing_view import asset_warp
from tests.weaving.world import AtLoom, two_stage_warp

SLEYING = DressingTask.SLEYING


def touched(question, number):
    """Touch an end or a dent (index) on picture after picture; return the question after the last."""
    while question.pointed is not None:
        question = touch(question, number)
    return question


@pytest.mark.parametrize("facing", [FROM_LEFT, FROM_RIGHT])
@pytest.mark.parametrize("from_last", [False, True])
def test_while_threading_the_end_that_hangs_otherwise_is_touched(facing, from_last):
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    loom.do(begin_task, task=THREADING, from_last=from_last)
    loom.do(go_on_dressing, task=THREADING, count=40)
    threading = loom.warp.pieces[0].draft.threading
    for end in range(50, 90) if from_last else range(40):
        asked = ask_mistake(loom.warp, loom.progress, THREADING, facing, INKS)
        at_end = touched(asked, end)
        assert at_end.detail.startswith(f"end {end + 1} belongs on shaft {threading[end] + 1}: ")
        assert done_by(loom, walk(at_end, "A repair heddle is in"))[0].first == end


def test_few_ends_are_asked_for_with_their_shafts_in_numbers_as_they_lie():
    loom = threaded(12)
    asked = ask_mistake(loom.warp, loom.progress, THREADING, FROM_RIGHT, INKS)
    assert asked.words == WHICH_END
    assert asked.lines == ("on shafts 4 1 4 3 4 3 2 3 2 1 2 1",)


def test_several_ends_are_touched_from_the_first_to_the_last_and_come_out_together():
    loom = threaded(20)
    asked = touched(ask_mistake(loom.warp, loom.progress, THREADING, FROM_LEFT, INKS), 9)
    several = touched(walk(asked, "Several ends, up to …"), 6)
    assert several.words == "ends 7 to 10 from the left"
    assert several.detail.startswith("ends 7 to 10 belong on 3 4 3 4: put repair heddles there, or take out 14 ends")
    assert done_by(loom, walk(several, "Take out 14 ends")) == [
        DressingMistake(THREADING, 6, 9, True, "threaded again"),
        DressingTakenOut(THREADING, 14),
    ]


def test_while_sleying_the_dent_is_touched_or_the_heddle():
    loom = threaded(90)
    loom.do(plan_sley, sley=Sley((1, 2, 0, 2) * 18, 4.0))
    loom.do(begin_task, task=SLEYING)
    loom.do(go_on_dressing, task=SLEYING, count=30)
    asked = ask_mistake(loom.warp, loom.progress, SLEYING, FROM_RIGHT, INKS)
    assert walk(asked, "A heddle").words.startswith("Touch where")
    at_dent = touched(walk(asked, "The ends in a dent"), 25)
    assert at_dent.detail == "dent 26 takes ends 32 to 33: take out 5 dents and sley them again"
    assert done_by(loom, walk(at_dent, "Take out 5 dents")) == [
        DressingMistake(SLEYING, 25, 25, True, "sleyed again"),
        DressingTakenOut(SLEYING, 5),
    ]


def test_the_last_picture_of_dents_shows_each_as_wide_with_its_ends():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    draft, sley = loom.warp.pieces[0].draft, Sley((1, 2, 0, 2) * 18)
    pixels = reed_picture(draft, sley, range(4), FROM_LEFT, INKS, 400, 200).pixels
    row, colour = pixels[pixels.shape[0] // 2], draft.yarns[draft.warp[0]].colour
    quarter = row.shape[0] // 4
    for dent, held in enumerate((1, 2, 0, 2)):
        thread = (row[dent * quarter : (dent + 1) * quarter] == colour).all(axis=1).astype(int)
        assert (np.diff(np.concatenate(([0], thread, [0]))) == 1).sum() == held
    assert WHICH_DENT != WHICH_END


def test_many_dents_stand_as_bars_as_high_as_they_hold_ends():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    held = (1, 2, 0, 3) * 15
    pixels = reed_picture(loom.warp.pieces[0].draft, Sley(held), range(60), FROM_LEFT, INKS, 600, 90).pixels
    bars = (pixels == INKS.mark).all(axis=2).sum(axis=0)
    assert bars.tolist() == [30 * ends for ends in held for _ in range(10)]


@pytest.mark.parametrize("width", [2_000, 780, 60])
def test_a_drawing_in_of_many_ends_has_every_end_on_its_shaft(width):
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    draft = loom.warp.pieces[0].draft
    pixels = heddles_picture(draft, range(90), INKS, width, 200).pixels
    marks = (pixels == INKS.mark).all(axis=2)
    rows = marks.shape[0] // 4
    for end, shaft in enumerate(draft.threading):
        column = end * marks.shape[1] // 90 + marks.shape[1] // 360
        assert marks[(3 - shaft) * rows + rows // 2, column], "the eye stands on its own shaft"


@pytest.mark.parametrize("place", [3, 8, 13, 22])
def test_in_a_drawing_in_of_many_ends_each_eye_lies_round_its_own_thread(place):
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    draft = loom.warp.pieces[0].draft
    pixels = heddles_picture(draft, range(90), INKS, 90 * place, 200).pixels
    rows = pixels.shape[0] // 4
    for end, shaft in enumerate(draft.threading):
        here = pixels[:, end * place : (end + 1) * place]
        middle = (3 - shaft) * rows + rows // 2
        eye = np.flatnonzero((here[middle] == INKS.mark).all(axis=1))
        other = (3 - (shaft + 1) % 4) * rows + rows // 2
        thread = np.flatnonzero((here[other] == draft.yarns[draft.warp[end]].colour).all(axis=1))
        assert eye.size > thread.size > 0
        assert eye[0] + eye[-1] == thread[0] + thread[-1], "the thread goes through the middle of its eye"


def test_where_nothing_hangs_the_end_is_counted_and_what_hangs_can_be_counted_too():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    loom.do(begin_task, task=THREADING)
    nothing = ask_mistake(loom.warp, loom.progress, THREADING, FROM_LEFT, INKS)
    assert nothing.words == "Which end?"
    asked = ask_mistake(threaded().warp, threaded().progress, THREADING, FROM_LEFT, INKS)
    assert walk(asked, COUNT_INSTEAD).words == "Which end?"


def test_a_threading_that_was_only_said_to_be_done_is_mended_without_taking_counted_ends_out():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    loom.do(settle_task, task=THREADING, state=TaskState.DONE)
    loom.do(begin_task, task=DressingTask.BEAMING)
    at_end = touched(ask_mistake(loom.warp, loom.progress, DressingTask.BEAMING, FROM_LEFT, INKS), 4)
    assert at_end.detail == "end 5 belongs on shaft 3: put a repair heddle on that shaft, or thread it again"
    assert done_by(loom, walk(at_end, "It is threaded again")) == [
        DressingMistake(THREADING, 4, 4, True, "threaded again")
    ]


def test_a_mistake_found_later_is_noted_with_how_it_was_mended():
    loom = threaded()
    asked = ask_mistake(loom.warp, loom.progress, THREADING, FROM_LEFT, INKS)
    at_end = walk(asked, COUNT_INSTEAD, "Count from the left", "5", "Done")
    assert at_end.detail.startswith("end 5 belongs on shaft 3: put a repair heddle on that shaft, or take out 16 ends")
    assert at_end.lines == ("end 3 on 1, end 4 on 2, end 5 on 3, end 6 on 2, end 7 on 3",)
    assert done_by(loom, walk(at_end, "A repair heddle is in")) == [
        DressingMistake(THREADING, 4, 4, True, "repair heddle")
    ]


def test_threading_anew_takes_the_ends_out():
    loom = threaded()
    asked = ask_mistake(loom.warp, loom.progress, THREADING, FROM_LEFT, INKS)
    events = done_by(loom, walk(asked, COUNT_INSTEAD, "Count from the left", "5", "Done", "Take out 16 ends"))
    assert events == [DressingMistake(THREADING, 4, 4, True, "threaded again"), DressingTakenOut(THREADING, 16)]
    assert loom.now.dressing.of(THREADING).done == 4


def test_an_end_that_is_not_threaded_yet_is_only_noted():
    loom = threaded()
    at_end = walk(
        ask_mistake(loom.warp, loom.progress, THREADING, FROM_LEFT, INKS),
        COUNT_INSTEAD,
        "Count from the left",
        "5",
        "0",
        "Done",
    )
    assert [answer.words for answer in at_end.answers] == ["Noted; mended later"]


def test_a_wrong_shed_names_the_cords_and_is_noted_in_words_or_without():
    loom = AtLoom(two_stage_warp())
    loom.do(begin_task, task=DressingTask.TEST_WEAVE)
    asked = ask_mistake(loom.warp, loom.progress, DressingTask.TEST_WEAVE, FROM_LEFT, INKS)
    assert asked.detail == "look at the ties of treadle 1: tied to 1 2, and to nothing else"
    assert done_by(loom, walk(asked, "In your own words", typed="tied to 3 too")) == [
        ShedFoundWrong(0, "tied to 3 too")
    ]
    assert done_by(loom, walk(asked, "Note it")) == [ShedFoundWrong(0)]
    assert isinstance(walk(asked, "Say which end"), Asked)


@pytest.mark.parametrize("facing", [FROM_LEFT, FROM_RIGHT])
def test_in_plain_weave_the_end_is_touched_where_two_stand_together_and_its_neighbours_are_named(facing):
    loom = threaded()
    loom.do(begin_task, task=DressingTask.TEST_WEAVE)
    loom.do(go_on_dressing, task=DressingTask.TEST_WEAVE, count=4)
    where = walk(ask_mistake(loom.warp, loom.progress, DressingTask.TEST_WEAVE, facing, INKS), "Show where")
    # End 5 hangs so far from the side where the first end lies.
    while where.pointed is not None:
        first = int(where.detail.split()[1]), int(where.detail.split()[3].rstrip(","))
        lying = abs(first[0] - first[1]) + 1
        share = (4.5 - min(first) + 1) / lying
        where = where.pointed.leads_to(share if facing is FROM_LEFT else 1 - share, 0.5)
    assert where.detail.startswith("end 5 belongs on shaft 3: put a repair heddle on that shaft")
    assert where.lines[0] == "Look: it belongs on shaft 3, beside end 4 on 2 and end 6 on 2"
    assert done_by(loom, walk(where, "A repair heddle is in")) == [
        DressingMistake(THREADING, 4, 4, True, "repair heddle")
    ]
