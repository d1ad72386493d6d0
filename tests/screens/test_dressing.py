"""Dressing in a real window: touched, pressed, on disk, and there again after a break."""

from __future__ import annotations

import threading
from contextlib import contextmanager
from dataclasses import replace

import pytest

from companion.draft.facing import FROM_RIGHT
from companion.draft.sley import Sley
from companion.journal.store import Journal
from companion.present.dress import CUE_PLAN, DressButton
from companion.present.dressing_words import MAKING_READY
from companion.present.preferences import Preferences
from companion.weaving.decide import pause, resume
from companion.weaving.dressing import state_of
from companion.weaving.dressing_commands import begin_task, go_on_dressing, settle_task
from companion.weaving.dressing_events import Dressed, DressingTakenOut, DressingTask, TaskBegun, TaskSettled, TaskState
from companion.weaving.events import Paused, Resumed, ReTied
from companion.workshop.voice import SPEAKER
from tests.draft.drafts import KEPT
from tests.screens.stage import Stage
from tests.screens.test_window import SIZES, texts_clipped, touch_targets

THREADING = DressingTask.THREADING


@pytest.fixture
def shelf(tmp_path, monkeypatch, display):
    """A shelf with an overshot on it, and a weaver who works from the right."""
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path))
    from companion.draft.reading import read_draft
    from companion.remap.loom.loom import Loom
    from companion.weaving.warp import LoomProfile
    from companion.workshop import app
    from companion.workshop.dressing import dress
    from companion.workshop.preference_file import preference_file, save_preferences

    save_preferences(preference_file(), Preferences(sounds=False, facing=FROM_RIGHT))
    draft = read_draft((KEPT / "overshot-four-shaft.txt").read_bytes())
    profile = LoomProfile("floor loom", Loom(4, 6))
    app.put_on_shelf(dress("cover", [draft], profile, app.answers_for([draft], profile)), tied=True)
    return app.shelf()


def begun(*commands):
    """Begin the threading in the journal, as if some time ago."""
    from companion.workshop import app

    with app.sit_down("cover") as loom:
        for command in (*commands, pause):
            loom.do(command)


def thread(count):
    return lambda warp, progress: go_on_dressing(warp, progress, THREADING, count)


def begin(warp, progress):
    return begin_task(warp, progress, THREADING)


@contextmanager
def window(name="cover"):
    from companion.wiring.screen_app import ScreenApp

    program = ScreenApp(name, guard=None)
    with program, Stage(program.window) as stage:
        stage.until(lambda: not is_made_ready(stage))
        yield stage


def is_made_ready(stage):
    return stage.app.place.ask is not None and stage.app.place.ask.asked.words == MAKING_READY


def events(shelf):
    with Journal.open_to_read(shelf.path("cover")) as journal:
        return [entry.event for entry in journal.entries()]


def holds(shelf, wanted):
    def held():
        return wanted in events(shelf)

    return held


def shows(stage, text):
    def seen():
        return stage.app.place.dress.ids.count.text == text

    seen.__name__ = text
    return seen


def test_a_warp_that_is_being_dressed_opens_on_its_dressing_and_is_threaded_by_touch_key_and_press(shelf):
    begun(begin)
    with window() as stage:
        place = stage.app.place
        stage.touch(place.ask.button("Go on"))
        stage.until(shows(stage, "0 of 90 ends"))
        assert place.dress.ids.large.text == "4 1 4 3 4 3 2 3 2 1 2 1"
        stage.touch(place.dress.ids.next_area)
        stage.until(shows(stage, "12 of 90 ends"))
        stage.key("space")
        stage.until(shows(stage, "24 of 90 ends"))
        stage.app.post(place.go_on)
        stage.until(shows(stage, "33 of 90 ends"))
        stage.key("page_up")
        stage.until(shows(stage, "24 of 90 ends"))
        assert Dressed(THREADING, 24, 9) in events(shelf)
        assert events(shelf)[-1] == DressingTakenOut(THREADING, 9)


def test_after_a_break_the_last_threads_are_shown_and_fewer_may_hang(shelf):
    begun(begin, thread(20))
    with window() as stage:
        place = stage.app.place
        assert place.ask.asked.words == "Does your threading look like this?"
        assert place.ask.cloth is not None
        stage.touch(place.ask.button("2 ends fewer"))
        stage.until(shows(stage, "18 of 90 ends"))
    assert [event for event in events(shelf) if not isinstance(event, Paused)][-2:] == [
        Resumed(looked_right=False),
        DressingTakenOut(THREADING, 2),
    ]


def test_from_the_first_question_of_the_loom_the_way_leads_to_the_dressing_and_back(shelf):
    begun()
    with window() as stage:
        stage.touch(stage.app.place.ask.button("Dress the loom"))
        stage.until(lambda: hasattr(stage.app.place, "dress"))
        # Nothing hangs yet that could look otherwise: the first step stands there at once.
        assert stage.app.place.ask is None
        stage.touch(stage.app.place.dress.button(DressButton.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        stage.touch(stage.app.place.ask.button("Weave"))
        stage.until(lambda: hasattr(stage.app.place, "weave"))


def test_the_tie_up_is_the_list_of_cords_and_then_the_test_weave_is_next(shelf):
    from companion.present.cords import TIED_ALREADY, TIED_TOO
    from companion.workshop import app

    with Journal.open_to_read(shelf.path("cover")) as journal:
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
    with Journal.open_to_read(shelf.path("untied")) as journal:
        told = [entry.event for entry in journal.entries()]
    assert told.index(ReTied(0)) < told.index(TaskSettled(DressingTask.TIE_UP, TaskState.DONE))


def test_where_no_dents_are_planned_a_touch_leads_to_their_plan_and_never_says_sleyed(shelf):
    from companion.workshop import app

    with Journal.open_to_read(shelf.path("cover")) as journal:
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
        stage.touch(place.ask.button("2 ends in a dent"))
        stage.until(shows(stage, "0 of 45 dents"))
        sleying = state_of(place._warp, place._progress.now.dressing, DressingTask.SLEYING)
        assert sleying is TaskState.TO_DO


def test_undo_names_what_it_takes_back(shelf):
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


def test_the_list_of_warps_and_the_first_question_say_how_far_the_dressing_is(shelf):
    begun(begin, thread(20))

    def told(stage):
        rows = stage.app.place.ask.asked.answers
        return [row.detail.partition(" · ")[0] for row in rows if row.words == "cover"]

    with window(None) as stage:
        stage.until(lambda: told(stage) == ["threading 20 of 90"])
        stage.touch(stage.app.place.ask.button("cover"))
        stage.until(lambda: hasattr(stage.app.place, "dress"))
        assert "threading 20 of 90" in stage.app.place.ask.asked.detail
    begun(
        resume,
        lambda warp, progress: settle_task(warp, progress, THREADING, TaskState.DONE),
        lambda warp, progress: settle_task(warp, progress, DressingTask.WINDING, TaskState.SKIPPED),
    )
    with window(None) as stage:
        stage.until(lambda: told(stage) == ["next: beaming"])


def test_a_new_warps_first_question_says_what_is_first_of_its_dressing(shelf):
    begun()
    with window() as stage:
        assert "dressing: winding first" in stage.app.place.ask.asked.detail
        assert texts_clipped(stage.app.place) == []


@pytest.fixture
def slow_groups(monkeypatch):
    """Groups that are made ready only when the test lets them, and the names of the threads in which they were."""
    from companion.weaving import dressing_way

    gate, threads, work_of = threading.Event(), [], dressing_way.work_of

    def slow(*told):
        threads.append(threading.current_thread())
        assert gate.wait(20)
        return work_of(*told)

    monkeypatch.setattr(dressing_way, "work_of", slow)
    return gate, threads


def test_the_screen_answers_while_the_groups_of_a_long_warp_are_made_ready(shelf, slow_groups):
    gate, threads = slow_groups
    begun(begin)
    from companion.wiring.screen_app import ScreenApp

    program = ScreenApp("cover", guard=None)
    with program, Stage(program.window) as stage:
        stage.until(lambda: is_made_ready(stage))
        stage.key("space")
        assert is_made_ready(stage)
        gate.set()
        stage.until(lambda: not is_made_ready(stage))
        stage.touch(stage.app.place.ask.button("Go on"))
        stage.until(shows(stage, "0 of 90 ends"))
        gate.clear()
        stage.touch(stage.app.place.dress.button(DressButton.GROUPS))
        stage.touch_and_go(stage.app.place.ask.button("At most 6"))
        assert stage.app.place.dress.message == MAKING_READY
        assert len(stage.app.place.dress.ids.large.text.split()) == 12
        gate.set()
        stage.until(lambda: len(stage.app.place.dress.ids.large.text.split()) <= 6)
        assert stage.app.place.dress.message == ""
        stage.touch(stage.app.place.dress.ids.place_part)
        stage.touch(stage.app.place.ask.button("Winding: to do"))
        stage.touch(stage.app.place.ask.button("Go on with it"))
        stage.until(holds(shelf, TaskBegun(DressingTask.WINDING)))
        stage.until(lambda: stage.app.place.dress.ids.large.text.split()[0].isdigit() and len(threads) == 3)
    assert threading.main_thread() not in threads


def test_another_warp_is_a_touch_away_while_the_groups_are_made_ready(shelf, slow_groups):
    gate, _ = slow_groups
    begun(begin)
    from companion.wiring.screen_app import ScreenApp

    program = ScreenApp("cover", guard=None)
    with program, Stage(program.window) as stage:
        stage.until(lambda: is_made_ready(stage))
        stage.touch_and_go(stage.app.place.ask.button("Another warp"))
        stage.until(lambda: stage.app.place.ask.asked.words == "Which warp?")
        gate.set()
        posted = threading.Event()
        stage.app.post(posted.set)
        stage.until(posted.is_set)
        assert stage.app.place.ask.asked.words == "Which warp?"
        assert not any(isinstance(event, Dressed) for event in events(shelf))


def test_the_counts_of_a_wide_warp_are_worked_out_beside_the_screen(shelf, monkeypatch):
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


def test_a_new_warp_that_is_not_tied_says_first_what_is_next_and_every_task_can_be_left_out(shelf):
    from companion.present.first_look import THREADED
    from companion.workshop import app

    with Journal.open_to_read(shelf.path("cover")) as journal:
        warp = journal.warp
    app.put_on_shelf(replace(warp, name="untied"), tied=False)
    with window("untied") as stage:
        assert stage.app.place.ask.asked.words == "Next: winding"
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(stage.app.place) == []
        stage.touch(stage.app.place.ask.button(THREADED))
        assert stage.app.place.cords is not None
        stage.touch(stage.app.place.cords.button("Dress the loom"))
        stage.until(lambda: hasattr(stage.app.place, "dress"))
        place = stage.app.place
        # Nothing hangs that could look otherwise: the first step stands there at once.
        assert place.ask is None
        for task in DressingTask:
            stage.touch(place.dress.ids.place_part)
            (row,) = [row.words for row in place.ask.asked.answers if row.words.lower().startswith(task.value + ":")]
            stage.touch(place.ask.button(row))
            stage.touch(place.ask.button("Leave it out"))
            stage.until(lambda task=task: place._progress.now.dressing.of(task).state is TaskState.SKIPPED)
        stage.touch(place.dress.ids.next_area)
        stage.until(lambda: hasattr(stage.app.place, "weave"))


def test_the_demo_is_dressed_and_nothing_is_said_of_its_dressing(tmp_path, monkeypatch, display):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path))
    from companion.weaving.dressing_way import DressingWay
    from companion.wiring.dressing import dressing_in_brief
    from companion.workshop import app
    from companion.workshop.demo import put_demo_on_shelf

    name = put_demo_on_shelf(FROM_RIGHT)
    with app.sit_down(name) as loom:
        loom.do(pause)
    assert dressing_in_brief(name, DressingWay()) == ""
    with window(name) as stage:
        assert "dressing" not in stage.app.place.ask.asked.detail


def test_in_the_test_weave_the_wrong_end_is_found_by_touching_the_cloth(shelf):
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
        stage.until(lambda: isinstance(events(shelf)[-1], DressingMistake))


def test_another_length_of_the_groups_holds_for_the_next_day_too(shelf):
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


def test_going_to_another_task_is_a_touch_on_the_place_line(shelf):
    begun(begin)
    with window() as stage:
        place = stage.app.place
        stage.touch(place.ask.button("Go on"))
        stage.until(shows(stage, "0 of 90 ends"))
        stage.touch(place.dress.ids.place_part)
        stage.touch(place.ask.button("Beaming: to do"))
        stage.touch(place.ask.button("Go on with it"))
        stage.until(holds(shelf, TaskBegun(DressingTask.BEAMING)))
        stage.until(lambda: place.dress.ids.large.text == "Beaming")


@pytest.mark.parametrize("task", [THREADING, DressingTask.BEAMING, DressingTask.TEST_WEAVE, DressingTask.WINDING])
@pytest.mark.parametrize("text_scale", [1.0, 1.3], ids=["usual", "large"])
def test_nothing_is_cut_and_every_target_is_large_at_every_size(shelf, task, text_scale):
    from companion.workshop.preference_file import preference_file, save_preferences

    save_preferences(preference_file(), Preferences(sounds=False, facing=FROM_RIGHT, text_scale=text_scale))
    begun(lambda warp, progress: begin_task(warp, progress, task))
    with window() as stage:
        place = stage.app.place
        stage.touch(place.ask.button("Go on"))
        stage.until(lambda: place.ask is None)
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(place.dress) == []
            for target in touch_targets(place.dress):
                assert min(target.size) >= 48
            # What is done now is read from the bench: capitals of a fourteenth of the shorter side and more.
            assert place.dress.ids.large.font_size * 0.711 >= min(size) / 20


@pytest.fixture
def heard(tmp_path, monkeypatch):
    """A stand-in for the speech program that writes down what it is told; returns the lines so far."""
    out, program = tmp_path / "heard", tmp_path / "bin" / SPEAKER
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\necho "$2" >> "{out}"\nexec sleep 30\n', encoding="utf-8")
    program.chmod(0o755)
    monkeypatch.setenv("PATH", f"{program.parent}:/usr/bin:/bin")
    return lambda: out.read_text(encoding="utf-8").splitlines() if out.exists() else []


def test_again_says_the_group_once_more_in_the_order_of_the_work_where_the_voice_is_set(shelf, heard):
    from companion.workshop.preference_file import preference_file, save_preferences

    begun(begin)
    # Worked from the right, the ends lie the other way round on the screen.
    group = "1 2 1 2 3 2 3 4 3 4 1 4"
    for wanted, said in ((False, 0), (True, 2)):
        save_preferences(preference_file(), Preferences(sounds=False, facing=FROM_RIGHT, voice=wanted))
        with window() as stage:
            place = stage.app.place
            stage.touch(place.ask.button("Go on"))
            stage.until(shows(stage, "0 of 90 ends"))
            assert place.dress.ids.large.text == group[::-1]
            for times in (1, 2):
                stage.touch(place.dress.ids.large_part)
                expected = [group] * min(times, said)
                stage.until(lambda expected=expected: heard() == expected)
