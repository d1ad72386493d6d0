"""The program opened without a word about sizes fills the screen that it finds."""

from __future__ import annotations

import os
import shutil
import signal

import pytest

from companion.screens.x_screen import XScreen, x_screen
from companion.weaving.events import Paused
from tests.screens import test_as_a_person as person
from tests.screens.stage import virtual_display


@pytest.mark.skipif(shutil.which("xdotool") is None, reason="xdotool is not installed")
@pytest.mark.parametrize(("width", "height"), [(800, 480), (800, 1280)])
def test_where_nobody_lays_windows_out_the_button_in_the_corner_lies_on_the_screen(
    tmp_path, monkeypatch, width, height
):
    from companion.cli.weave import demo_warp_name

    # A first start asks what to weave; whoever has a warp is led to it.
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    demo_warp_name()
    with virtual_display(width, height) as display:
        surroundings = os.environ | {
            "DISPLAY": display,
            "HOME": str(tmp_path),
            "FELLSIDE_HOME": str(tmp_path / "fellside"),
            "KIVY_HOME": str(tmp_path / "kivy"),
            "SDL_AUDIODRIVER": "dummy",
            "PYTHONPATH": str(person.ROOT),
        }
        program = person.started(surroundings)

        def touch_the_corner():
            person.xdotool(surroundings, "mousemove", width - 20, height - 20, "click", 1)

        try:
            # Pause lies lowest and furthest right.
            found = person.until_journal_holds(surroundings, 1, do=touch_the_corner)
        finally:
            os.killpg(program.pid, signal.SIGKILL)
            program.wait()
        assert found[0].event == Paused()


def test_the_screen_is_asked_for_its_size_and_for_a_window_manager(monkeypatch):
    with virtual_display(640, 360) as display:
        monkeypatch.setenv("DISPLAY", display)
        assert x_screen() == XScreen(640, 360, managed=False)


def test_without_a_display_nothing_is_known(monkeypatch):
    monkeypatch.setenv("DISPLAY", ":4711")
    assert x_screen() is None
