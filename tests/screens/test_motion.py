"""The pick that is woven slides in at the fell, briefly, and only where the weaver wants it and can see it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.screens.at_the_loom import at_the_screen, events_in, shows
from tests.screens.stage import Stage


@pytest.fixture
def journal_path(tmp_path, display):
    return tmp_path / "towel.journal"


def test_motion_needs_frames_to_be_seen(display):
    from companion.screens.window import moves

    assert [moves(True, frames) for frames in (0, 15, 30, 60)] == [False, False, True, True]
    assert not moves(False, 60)


def test_a_woven_pick_slides_in_within_120_ms_and_one_taken_out_does_not(journal_path):
    from companion.screens.widgets.cloth_picture import SLIDE_S

    assert SLIDE_S < 0.12
    with at_the_screen(journal_path) as stage:
        place, cloth = stage.app.place, stage.app.place.weave.ids.cloth
        slid = []
        cloth.bind(slide=lambda _cloth, share: slid.append(share))
        # On a screen that nobody looks at nothing moves.
        stage.key("space")
        stage.until(shows(stage, "pick 2 of 12"))
        assert slid == []
        place._around = replace(place._around, motion=True)
        stage.key("space")
        stage.until(shows(stage, "pick 3 of 12"))
        stage.until(lambda: slid and cloth.slide == 0)
        assert slid[0] == pytest.approx(place.weave.cloth_marked_share)
        assert slid == sorted(slid, reverse=True)
        slid.clear()
        stage.key("backspace")
        stage.touch(place.ask.button("It is out"))
        stage.until(lambda: place.ask.small_line.startswith("pick 2 taken out"))
        assert slid == []
    assert len(events_in(journal_path)) == 3


def test_a_press_holds_a_sliding_pick_and_nothing_slides_on_when_it_comes_out(journal_path, monkeypatch):
    from companion.screens.widgets import cloth_picture

    monkeypatch.setattr(cloth_picture, "SLIDE_S", 1000.0)
    with at_the_screen(journal_path) as stage:
        place, cloth = stage.app.place, stage.app.place.weave.ids.cloth
        place._around = replace(place._around, motion=True)
        stage.key("space")
        stage.until(shows(stage, "pick 2 of 12"))
        begun = cloth.slide
        stage.until(lambda: cloth.slide < begun)
        # The frame of the pick that the press leads to is the next one to be drawn.
        monkeypatch.setattr(place, "_ends", replace(place._ends, submit=lambda _command: None))
        place.go_on()
        held = cloth.slide
        stage.pump(20)
        assert cloth.slide == held > 0
        place.told(place.progress, place._view, "nothing new")
        assert cloth.slide == 0


def test_while_it_slides_the_older_cloth_stays_where_it_lay(display):
    from companion.screens.widgets.cloth_picture import _lowered

    # Corners as Kivy has them, (u, v) four times, and v = 0 is the first row of the image.
    assert _lowered((0.0, 1.0, 1.0, 1.0, 1.0, 0.0, 0.0, 0.0), 0.25) == [0.0, 1.25, 1.0, 1.25, 1.0, 0.25, 0.0, 0.25]


def test_motion_is_switched_off_in_the_settings_and_stays_off(home):
    from companion.wiring.screen_app import ScreenApp
    from companion.workshop.preference_file import load_preferences, preference_file
    from tests.screens.newcomer import choose, choose_listed

    program = ScreenApp(None, guard=None)
    with program, Stage(program.window) as stage:
        assert program.window.motion
        choose(stage, "Settings")
        choose_listed(stage, "Motion: on")
        assert not program.window.motion
        assert stage.app.place.ask.button("Motion: off")
    assert load_preferences(preference_file()).motion is False
