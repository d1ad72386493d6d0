"""The questions of dressing in a real window: dents, counts, groups, tasks, and what is wrong, by touch."""

from __future__ import annotations

import threading
from dataclasses import replace

from companion.draft.sley import Sley
from companion.journal.store import Journal
from companion.present.dress import CUE_PLAN, DressButton
from companion.weaving.decide import pause
from companion.weaving.dressing import state_of
from companion.weaving.dressing_commands import begin_task, go_on_dressing
from companion.weaving.dressing_events import DressingTask, TaskBegun, TaskSettled, TaskState
from companion.weaving.events import ReTied
from tests.screens.dressed import begin, begun, events, holds, shows, thread, window
from tests.screens.looked_at import SIZES, texts_clipped
from tests.screens.newcomer import choose


def test_the_tie_up_is_the_list_of_cords_and_then_the_test_weave_is_next(cover_shelf):
    from companion.present.cords import TIED_ALREADY, TIED_TOO
    from companion.workshop import app

    with Journal.open_to_read(cover_shelf.path("cover")) as journal:
        warp = journal.warp

    app.put_on_shelf(replace(warp, name="untied"), tied=False)
    with app.sit_down("untied") as loom:
        loom.do(lambda warp, progress: begin_task(warp, progress, DressingTask.TIE_UP))
        loom.do(pause)
    with window("untied") as stage:
        place = stage.app.place
        stage.touch(place.ask.button("Go on"))
        stage.until(lambda: place.ask is None)
        stage.touch(place.dress.ids.next_area)
        stage.until(lambda: place.cords is not None)
        # Two of the six treadles are on the next page.
        stage.touch(place.cords.button(TIED_ALREADY))
        stage.touch(place.cords.button(TIED_TOO))
        stage.until(lambda: state_of(place._warp, place._progress.now.dressing, DressingTask.TIE_UP) is TaskState.DONE)
    with Journal.open_to_read(cover_shelf.path("untied")) as journal:
        told = [entry.event for entry in journal.entries()]
    assert told.index(ReTied(0)) < told.index(TaskSettled(DressingTask.TIE_UP, TaskState.DONE))


def test_where_no_dents_are_planned_a_touch_leads_to_their_plan_and_never_says_sleyed(cover_shelf):
    from companion.workshop import app

    with Journal.open_to_read(cover_shelf.path("cover")) as journal:
        warp = journal.warp
    (first, *others) = warp.pieces
    unplanned = replace(first, draft=replace(first.draft, sley=Sley()))
    app.put_on_shelf(replace(warp, name="unplanned", pieces=(unplanned, *others)), tied=True)
    with app.sit_down("unplanned") as loom:
        loom.do(lambda warp, progress: begin_task(warp, progress, DressingTask.SLEYING))
        loom.do(pause)
    with window("unplanned") as stage:
        place = stage.app.place
        stage.touch(place.ask.button("Go on"))
        stage.until(lambda: place.ask is None)
        assert place.dress.signs.cue == CUE_PLAN
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(place) == []
        stage.touch(place.dress.ids.next_area)
        assert place.ask.asked.words == "How many ends in each dent?"
        stage.touch(place.ask.button("Not all alike"))
        # What is refused stands there to be mended, also for whoever leaves it and comes back.
        for key in ("(", "1", ")", "×", "7"):
            stage.touch(place.write.ids.board.button(key))
        stage.touch(place.write.foot.button("Done"))
        stage.touch(place.ask.button("Back"))
        stage.touch(place.dress.ids.next_area)
        stage.touch(place.ask.button("Not all alike"))
        assert place.write.writing.text == "(1)×7"
        for _ in range(len("(1)×7")):
            stage.key("backspace")
        for key in ("(", "1", "space", "2", ")", "×", "3", "0"):
            # The board begins with the digits and signs that a plan is written in.
            stage.touch(place.write.ids.board.button(key))
        stage.touch(place.write.foot.button("Done"))
        stage.until(shows(stage, "0 of 60 dents"))
        sleying = state_of(place._warp, place._progress.now.dressing, DressingTask.SLEYING)
        assert sleying is TaskState.TO_DO


def test_whoever_touches_on_before_the_disk_has_answered_can_leave_what_is_asked(cover_shelf):
    begun(begin, thread(20))
    with window() as stage:
        place = stage.app.place
        # The disk takes its time.
        place._ends = replace(place._ends, submit=lambda _command: None)
        stage.touch(place.ask.button("Yes, go on"))
        stage.touch(place.dress.button(DressButton.MISTAKE))
        choose(stage, "Back")
        assert place.ask is None


def test_undo_names_what_it_takes_back(cover_shelf):
    begun(begin, thread(12))
    with window() as stage:
        place = stage.app.place
        stage.touch(place.ask.button("Yes, go on"))
        stage.touch(place.dress.ids.next_area)
        stage.until(shows(stage, "24 of 90 ends"))
        stage.touch(place.dress.button(DressButton.UNDO))
        assert place.ask.asked.words == "Undo: 12 ends threaded?"
        stage.touch(place.ask.button("Undo it"))
        stage.until(shows(stage, "12 of 90 ends"))
        assert place.dress.message == "undone: 12 ends threaded"


def test_the_counts_of_a_wide_warp_are_worked_out_beside_the_screen(cover_shelf, monkeypatch):
    from companion.present import dress_questions

    gate, threads, count = threading.Event(), [], dress_questions.count_dressing

    def slow(*told):
        threads.append(threading.current_thread())
        assert gate.wait(20)
        return count(*told)

    monkeypatch.setattr(dress_questions, "count_dressing", slow)
    begun(begin)
    with window() as stage:
        place = stage.app.place
        stage.touch(place.ask.button("Go on"))
        stage.until(shows(stage, "0 of 90 ends"))
        stage.touch(place.dress.ids.place_part)
        stage.touch_and_go(place.ask.button("Counts"))
        assert place.ask.asked.words == dress_questions.COUNTING
        # Who does not wait goes back, and nothing is put in the way later.
        stage.touch_and_go(place.ask.button("Back"))
        assert place.ask.asked.words == "Which task?"
        stage.touch_and_go(place.ask.button("Counts"))
        gate.set()
        stage.until(lambda: place.ask.asked.words == "Counts")
        assert place.ask.asked.lines[0].startswith("90 ends: ")
    assert threading.main_thread() not in threads


def test_while_threading_the_wrong_end_is_found_by_touching_the_threads_that_hang(cover_shelf):
    from companion.present.threads_touched import WHERE, WHICH_END
    from companion.weaving.dressing_events import DressingMistake

    begun(begin, thread(60))
    with window() as stage:
        place = stage.app.place
        stage.touch(place.ask.button("Yes, go on"))
        stage.until(lambda: place.ask is None)
        stage.touch(place.dress.button(DressButton.MISTAKE))
        for asked in (WHERE, WHICH_END):
            assert place.ask.asked.words == asked
            for size in SIZES:
                stage.resize(*size)
                assert texts_clipped(place) == []
            picture = place.ask._pointed
            stage.touch(picture)
        assert picture.across()[1] / 12 >= 48, "an end is as wide as a finger"
        stage.touch(place.ask.button("Noted; mended later"))
        stage.until(lambda: isinstance(events(cover_shelf)[-1], DressingMistake))
        # What waits is the first row of the tasks, and leads to what is to be done.
        stage.touch(place.dress.button(DressButton.TASKS))
        row = place.ask.asked.answers[0].words
        assert row.startswith("1 to mend: end ")
        stage.touch(place.ask.button(row))
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(place) == []
        stage.touch(place.ask.button("It is mended"))
        stage.until(lambda: events(cover_shelf)[-1].mended)
        stage.touch(place.dress.button(DressButton.TASKS))
        assert "to mend" not in place.ask.asked.answers[0].words


def test_in_the_test_weave_the_wrong_end_is_found_by_touching_the_cloth(cover_shelf):
    from companion.present.plain_weave import WHERE, WHICH
    from companion.weaving.dressing_events import DressingMistake

    trial = DressingTask.TEST_WEAVE
    begun(
        lambda warp, progress: begin_task(warp, progress, trial),
        lambda warp, progress: go_on_dressing(warp, progress, trial, 6),
    )
    with window() as stage:
        place = stage.app.place
        stage.touch(place.ask.button("Go on"))
        stage.until(lambda: place.ask is None)
        stage.touch(place.dress.button(DressButton.MISTAKE))
        stage.touch(place.ask.button("Show where"))
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(place) == []
        picture = place.ask._pointed
        assert place.ask.asked.words == WHERE
        stage.touch(picture)
        picture = place.ask._pointed
        while place.ask.asked.words == WHERE:
            stage.touch(picture)
        for size in SIZES:
            stage.resize(*size)
            assert place.ask.asked.words == WHICH
            assert picture.across()[1] / 12 >= 48, "an end is as wide as a finger"
        stage.touch(picture)
        assert place.ask.asked.words.startswith("end ")
        stage.touch(place.ask.button("Noted; mended later"))
        stage.until(lambda: isinstance(events(cover_shelf)[-1], DressingMistake))


def test_another_length_of_the_groups_holds_for_the_next_day_too(cover_shelf):
    from companion.workshop.preference_file import load_preferences, preference_file

    begun(begin)
    with window() as stage:
        place = stage.app.place
        stage.touch(place.ask.button("Go on"))
        stage.until(shows(stage, "0 of 90 ends"))
        stage.touch(place.dress.button(DressButton.GROUPS))
        stage.touch(place.ask.button("At most 6"))
        stage.until(lambda: len(place.dress.ids.large.text.split()) <= 6)
    assert load_preferences(preference_file()).group == 6


def test_going_to_another_task_is_a_touch_on_the_place_line(cover_shelf):
    begun(begin)
    with window() as stage:
        place = stage.app.place
        stage.touch(place.ask.button("Go on"))
        stage.until(shows(stage, "0 of 90 ends"))
        stage.touch(place.dress.ids.place_part)
        stage.touch(place.ask.button("Beaming: to do"))
        stage.touch(place.ask.button("Go on with it"))
        stage.until(holds(cover_shelf, TaskBegun(DressingTask.BEAMING)))
        stage.until(lambda: place.dress.ids.large.text == "Beaming")
