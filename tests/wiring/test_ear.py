"""A foot-switch at the end of a real pseudo-terminal pair drives the real window; the journal is on disk."""

from __future__ import annotations

import json

import pytest

from companion.present.weave import WeaveButton
from companion.weaving.events import PickTakenOut, PickWoven
from drivers.event_facts import facts_of
from drivers.events import LinkUp, Press, Pressed
from drivers.pedal import PedalSettings, Wiring
from tests.screens.at_the_loom import at_the_screen, events_in, shows

FAST_FOOT = PedalSettings()


@pytest.fixture
def pedal(display):
    from companion.wiring.ear import Ear

    # The made-up board lives faster than our clock, so the guard against double advance would swallow its presses.
    pedal = Ear(retry_s=0.01, guard=None)
    yield pedal
    pedal.close()


def test_a_tap_weaves_a_pick_and_a_long_press_takes_it_out(tmp_path, board, pedal):
    path = tmp_path / "towel.journal"
    with at_the_screen(path) as stage:
        pedal.listen_to(board.port, stage.app, FAST_FOOT)
        assert pedal.words == "no pedal"
        board.answer()
        stage.until(lambda: stage.app.place.weave.ids.pedal.text == "pedal")
        board.press(200)
        board.press(200)
        stage.until(shows(stage, "pick 3 of 12"))
        board.press(900)
        stage.until(lambda: stage.app.place.ask is not None)
        board.press(900)
        stage.until(lambda: stage.app.place.weave.message == "pick 2 taken out")
    assert events_in(path) == [PickWoven(0), PickWoven(1), PickTakenOut(1)]


def test_unplugged_weaving_goes_on_by_touch_and_plugged_in_again_by_foot(tmp_path, board, pedal):
    path = tmp_path / "towel.journal"
    with at_the_screen(path) as stage:
        pedal.listen_to(board.port, stage.app, FAST_FOOT)
        board.answer()
        board.press(200)
        stage.until(shows(stage, "pick 2 of 12"))
        board.pull_out()
        stage.until(lambda: stage.app.place.weave.ids.pedal.text == "no pedal")
        assert "Weave on by touch" in stage.app.place.weave.ids.news.text
        stage.touch(stage.app.place.weave.ids.next_area)
        stage.until(shows(stage, "pick 3 of 12"))
        board.plug_in()
        board.answer()
        stage.until(lambda: stage.app.place.weave.ids.pedal.text == "pedal")
        board.press(200)
        stage.until(shows(stage, "pick 4 of 12"))
    assert events_in(path) == [PickWoven(0), PickWoven(1), PickWoven(2)]


def test_the_pedal_answers_a_question_with_its_main_answer(tmp_path, board, pedal):

    path = tmp_path / "towel.journal"
    with at_the_screen(path) as stage:
        pedal.listen_to(board.port, stage.app, FAST_FOOT)
        board.answer()
        board.press(200)
        stage.until(shows(stage, "pick 2 of 12"))
        stage.touch(stage.app.place.weave.button(WeaveButton.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        board.press(200)
        stage.until(lambda: stage.app.place.ask is None)
        board.press(200)
        stage.until(shows(stage, "pick 3 of 12"))
    assert [event for event in events_in(path) if isinstance(event, PickWoven)] == [PickWoven(0), PickWoven(1)]


def test_a_recorded_watch_weaves_as_the_foot_did(tmp_path, pedal):
    path, watch = tmp_path / "towel.journal", tmp_path / "watch.json"
    happened = [
        LinkUp("/dev/a", 0.0),
        Pressed(Press.ADVANCE, 0.1),
        Pressed(Press.ADVANCE, 0.2),
        Pressed(Press.BACK, 0.3),
        Pressed(Press.BACK, 0.4),
    ]
    watch.write_text(json.dumps({"events": [facts_of(event) for event in happened]}), encoding="utf-8")
    with at_the_screen(path) as stage:
        pedal.listen_to(str(watch), stage.app, FAST_FOOT)
        stage.until(lambda: len(events_in(path)) == 3)
        assert stage.app.place.weave.ids.pedal.text == "pedal"
    assert events_in(path) == [PickWoven(0), PickWoven(1), PickTakenOut(1)]


def test_a_file_that_is_no_watch_is_told_of_and_weaving_goes_on_by_touch(tmp_path, pedal):
    notes = tmp_path / "notes.txt"
    notes.write_text("Dear weaver", encoding="utf-8")
    with at_the_screen(tmp_path / "towel.journal") as stage:
        pedal.listen_to(str(notes), stage.app, FAST_FOOT)
        stage.until(lambda: "no recorded watch" in stage.app.place.weave.ids.news.text)
        stage.touch(stage.app.place.weave.ids.next_area)
        stage.until(shows(stage, "pick 2 of 12"))


@pytest.mark.parametrize("two", [False, True], ids=["one pedal", "two pedals"])
@pytest.mark.parametrize("bare", [False, True], ids=["board", "bare switch"])
@pytest.mark.parametrize("double_tap", [None, WeaveButton.NOTE])
def test_the_pedal_is_opened_as_the_weaver_says_it_is_wired(display, bare, two, double_tap):
    from companion.present.preferences import Preferences
    from companion.wiring.ear import pedal_settings

    settings = pedal_settings(Preferences(bare_switch=bare, two_pedals=two, inverted=bare, double_tap=double_tap))
    assert settings.wiring is (Wiring.SWITCH if bare else Wiring.BOARD)
    assert settings.switch.invert == bare
    assert [use.tap for use in settings.uses] == [Press.ADVANCE, Press.BACK][: 1 + two]
    assert (settings.uses[0].hold is Press.BACK) == (not two)
    assert (settings.uses[0].double_tap is Press.HOLD) == (double_tap is not None)


def test_two_pedals_on_a_board_are_next_and_back(tmp_path, board, pedal):
    from companion.present.preferences import Preferences
    from companion.wiring.ear import pedal_settings

    path = tmp_path / "towel.journal"
    with at_the_screen(path) as stage:
        pedal.listen_to(board.port, stage.app, pedal_settings(Preferences(two_pedals=True)))
        board.answer(pedals=2)
        board.press(100, pedals=0b01)
        stage.until(shows(stage, "pick 2 of 12"))
        board.press(100, pedals=0b10)
        stage.until(lambda: stage.app.place.ask is not None)
        board.press(100, pedals=0b10)
        stage.until(shows(stage, "pick 1 of 12"))
    assert events_in(path) == [PickWoven(0), PickTakenOut(0)]
