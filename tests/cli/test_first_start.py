"""What the window opens on: a first start offers what can be begun, every later one the warp woven last."""

from __future__ import annotations

import pytest

from companion.cli.commands import run
from companion.cli.weave import demo_warp_name
from companion.screens import environment
from companion.workshop import app


@pytest.fixture
def opened_on(tmp_path, monkeypatch):
    """The name of the warp that each window was opened on; no window comes up."""
    from companion.wiring import screen_app

    names = []

    class Window:
        def __init__(self, name, pedal=None, trouble=""):
            names.append(name)

        def run(self):
            pass

    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path))
    monkeypatch.setattr(environment, "has_display", lambda: True)
    monkeypatch.setattr(environment, "prepare", lambda size: None)
    monkeypatch.setattr(screen_app, "ScreenApp", Window)
    return names


def test_a_first_start_opens_on_the_choice_and_puts_nothing_on_the_shelf(opened_on):
    assert run([]) == run(["weave"]) == 0
    assert opened_on == [None, None]
    assert app.shelf().last_used() is None


def test_once_a_warp_is_there_the_window_opens_on_it(opened_on):
    demo_warp_name()
    assert run([]) == run(["weave", "Demo"]) == 0
    assert opened_on == ["Demo", "Demo"]


def test_a_name_for_a_new_warp_without_a_draft_is_told_of_as_ever(opened_on, capsys):
    assert run(["weave", "--name", "Shawl"]) == 2
    assert opened_on == []
    assert "--name is for a new warp" in capsys.readouterr().err
