"""What lies under a finger that came too soon, or that was down before, does not answer."""

from __future__ import annotations

import pytest

from companion.weaving.events import FaultNoted, LengthMeasured, Paused, PickWoven
from drivers.double_guard import GuardTimes
from tests.screens.at_the_loom import at_the_screen, events_in, shows
from tests.screens.stage import Stage


@pytest.fixture
def journal_path(tmp_path, display):
    return tmp_path / "towel.journal"


class Clock:
    """A clock that goes only when it is told to."""

    now = 100.0

    def __call__(self):
        return self.now


@pytest.fixture
def ground(display):
    """A ground with one button on it, in a window, and the touches that it counted."""
    from kivy.app import App
    from kivy.uix.button import Button

    from companion.screens.settling import Ground

    clock = Clock()

    class Bare(App):
        def build(self):
            ground = Ground(clock=clock)
            self.button = Button(text="Touch")
            self.button.bind(on_release=lambda _button: pressed.append(clock.now))
            ground.add_widget(self.button)
            return ground

    pressed = []
    with Stage(Bare(), settle_s=0.3) as stage:
        yield stage, stage.app.root, stage.app.button, clock, pressed


def test_a_finger_that_comes_too_soon_after_a_change_is_nobodys(ground):
    stage, root, button, clock, pressed = ground
    root.changed()
    for wait in (0.0, 0.29):
        clock.now = 100.0 + wait
        stage.touch(button)
    assert pressed == []
    clock.now = 100.3
    stage.touch(button)
    assert pressed == [100.3]


def test_a_finger_that_was_down_before_the_change_touches_nothing_when_it_is_lifted(ground):
    stage, root, button, clock, pressed = ground

    def change():
        clock.now += 1.0
        root.changed()

    stage.drag([button.center, button.center], each=change)
    assert (pressed, button.state) == ([], "normal")
    clock.now += 1.0
    stage.touch(button)
    assert len(pressed) == 1


def test_without_a_change_every_finger_is_answered_however_fast(ground):
    stage, _, button, _, pressed = ground
    for _ in range(5):
        stage.touch(button)
    assert len(pressed) == 5


def test_two_quick_touches_on_woven_are_one_pick_and_that_is_told(journal_path):
    with at_the_screen(journal_path, guard=GuardTimes(least_ms=60_000, most_ms=60_000)) as stage:
        area = stage.app.place.weave.ids.next_area
        stage.touch(area)
        stage.until(shows(stage, "pick 2 of 12"))
        stage.touch(area)
        stage.until(lambda: "not counted" in stage.app.place.weave.message)
    assert events_in(journal_path) == [PickWoven(0)]


@pytest.mark.parametrize("name", ["PAUSE", "FAULT", "MEASURE"])
def test_the_same_button_twice_does_nothing_that_was_not_meant(journal_path, name):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        stage.touch(stage.app.place.weave.ids.next_area)
        stage.until(shows(stage, "pick 2 of 12"))
        button = stage.app.place.weave.button(WeaveButton[name])
        spot = button.to_window(*button.center)
        stage.drag([spot])
        stage.until(lambda: stage.app.place.ask is not None)
        stage.app.root.settle_s = 60.0
        stage.drag([spot])
        assert stage.app.place.ask is not None
    events = events_in(journal_path)
    assert not any(isinstance(event, FaultNoted | LengthMeasured) for event in events)
    assert sum(isinstance(event, Paused) for event in events) == (name == "PAUSE")


def test_yes_weave_on_twice_weaves_nothing(journal_path):
    from companion.present.weave import WeaveButton
    from companion.weaving.events import Resumed

    with at_the_screen(journal_path) as stage:
        stage.touch(stage.app.place.weave.ids.next_area)
        stage.until(shows(stage, "pick 2 of 12"))
        stage.touch(stage.app.place.weave.button(WeaveButton.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        main = next(answer for answer in stage.app.place.ask.asked.answers if answer.main)
        button = stage.app.place.ask.button(main.words)
        spot = button.to_window(*button.center)
        stage.drag([spot])
        stage.app.root.settle_s = 60.0
        stage.drag([spot])
        stage.until(lambda: Resumed() in events_in(journal_path))
        stage.pump(5)
    assert [event for event in events_in(journal_path) if isinstance(event, PickWoven)] == [PickWoven(0)]
