"""Dressing in a real window: touched, pressed, on disk, and there again after a break."""

from __future__ import annotations

import threading
from dataclasses import replace

import pytest

from companion.draft.facing import FROM_RIGHT
from companion.journal.store import Journal
from companion.present.dress import DressButton
from companion.present.dressing_words import MAKING_READY
from companion.present.preferences import Preferences
from companion.weaving.decide import pause, resume
from companion.weaving.dressing_commands import begin_task, settle_task
from companion.weaving.dressing_events import Dressed, DressingTakenOut, DressingTask, TaskBegun, TaskState
from companion.weaving.events import Paused, Resumed
from companion.workshop.voice import SPEAKER
from tests.screens.dressed import THREADING, begin, begun, events, holds, is_made_ready, shows, thread, window
from tests.screens.looked_at import SIZES, texts_clipped, touch_targets
from tests.screens.stage import Stage


def test_a_warp_that_is_being_dressed_opens_on_its_dressing_and_is_threaded_by_touch_key_and_press(cover_shelf):
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
        stage.until(shows(stage, "32 of 90 ends"))
        stage.key("page_up")
        stage.until(shows(stage, "24 of 90 ends"))
        assert Dressed(THREADING, 24, 8) in events(cover_shelf)
        assert events(cover_shelf)[-1] == DressingTakenOut(THREADING, 8)


def test_after_a_break_the_last_threads_are_shown_and_fewer_may_hang(cover_shelf):
    begun(begin, thread(20))
    with window() as stage:
        place = stage.app.place
        assert place.ask.asked.words == "Does your threading look like this?"
        assert place.ask.cloth is not None
        stage.touch(place.ask.button("2 ends fewer"))
        stage.until(shows(stage, "18 of 90 ends"))
    assert [event for event in events(cover_shelf) if not isinstance(event, Paused)][-2:] == [
        Resumed(looked_right=False),
        DressingTakenOut(THREADING, 2),
    ]


def test_from_the_first_question_of_the_loom_the_way_leads_to_the_dressing_and_back(cover_shelf):
    begun()
    with window() as stage:
        stage.touch(stage.app.place.ask.button("Dress the loom"))
        stage.until(lambda: hasattr(stage.app.place, "dress"))
        # Nothing hangs yet that could look otherwise: the first step stands there at once.
        assert stage.app.place.ask is None
        stage.touch(stage.app.place.dress.button(DressButton.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        stage.touch(stage.app.place.ask.button("Weave"))
        # Nothing lies in the cloth that could look otherwise: the first pick stands there at once.
        stage.until(lambda: hasattr(stage.app.place, "weave"))
        assert stage.app.place.ask is None
        stage.until(lambda: not stage.app.place.progress.now.paused)


def test_the_list_of_warps_and_the_first_question_say_how_far_the_dressing_is(cover_shelf):
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


def test_a_new_warps_first_question_says_what_is_first_of_its_dressing(cover_shelf):
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


def test_the_screen_answers_while_the_groups_of_a_long_warp_are_made_ready(cover_shelf, slow_groups):
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
        stage.until(holds(cover_shelf, TaskBegun(DressingTask.WINDING)))
        stage.until(lambda: stage.app.place.dress.ids.large.text.split()[0].isdigit() and len(threads) == 3)
    assert threading.main_thread() not in threads


def test_another_warp_is_a_touch_away_while_the_groups_are_made_ready(cover_shelf, slow_groups):
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
        assert not any(isinstance(event, Dressed) for event in events(cover_shelf))


def test_a_new_warp_that_is_not_tied_says_first_what_is_next_and_every_task_can_be_left_out(cover_shelf):
    from companion.present.first_look import THREADED
    from companion.workshop import app

    with Journal.open_to_read(cover_shelf.path("cover")) as journal:
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
        # Nothing is drawn any more of threads that were shown before.
        assert place.dress.ids.threads.canvas.before.children == []
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


@pytest.mark.parametrize("task", [THREADING, DressingTask.BEAMING, DressingTask.TEST_WEAVE, DressingTask.WINDING])
@pytest.mark.parametrize("text_scale", [1.0, 1.3], ids=["usual", "large"])
def test_nothing_is_cut_and_every_target_is_large_at_every_size(cover_shelf, task, text_scale):
    from companion.workshop.preference_file import preference_file, save_preferences

    save_preferences(preference_file(), Preferences(sounds=False, facing=FROM_RIGHT, text_scale=text_scale))
    begun(lambda warp, progress: begin_task(warp, progress, task))
    with window() as stage:
        place = stage.app.place
        stage.touch(place.ask.button("Go on"))
        stage.until(lambda: place.ask is None)
        for size in SIZES:
            stage.resize(*size)
            # What was just done stands before what the next touch means, and never in its place.
            for news in ("", "mistake in threading, ends 112 to 113: found"):
                place.dress.message = news
                assert place.dress.signs.cue in place.dress.ids.cue.text
                assert texts_clipped(place.dress) == []
            place.dress.message = ""
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


def test_again_says_the_group_once_more_in_the_order_of_the_work_where_the_voice_is_set(cover_shelf, heard):
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
