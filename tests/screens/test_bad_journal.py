"""One bad journal is not the end: the program opens on the other warps, and offers the copies of the bad one."""

from __future__ import annotations

import subprocess
import sys

import pytest

from tests.screens.looked_at import texts_clipped
from tests.screens.stage import Stage


@pytest.fixture
def shelf(tmp_path, display, monkeypatch):
    """Two warps, the demo used last, woven three picks far and copied; then something flipped bits in its journal."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    from companion.cli.weave import demo_warp_name
    from companion.journal.backup import back_up, backup_folder
    from companion.weaving.decide import weave_pick
    from companion.workshop import app
    from tests.journal.warps import small_warp

    app.shelf().create("Blue shawl", small_warp(), at_ms=0).close()
    with app.sit_down(demo_warp_name()) as loom:
        for _ in range(3):
            loom.do(weave_pick)
    back_up(app.shelf().path("Demo"), backup_folder())
    path = app.shelf().path("Demo")
    path.write_bytes(path.read_bytes().replace(b'"pick":1', b'"pick":7'))
    return app.shelf()


def opened(name, **more):
    from companion.wiring.screen_app import ScreenApp

    return ScreenApp(name, guard=None, **more)


def test_a_damaged_last_used_warp_opens_on_its_copies_and_weaves_on_from_one(shelf):
    program = opened("Demo")
    with program, Stage(program.window) as stage:
        ask = stage.app.place.ask
        assert ask.ids.words.text == "Demo cannot be opened"
        assert ask.ids.detail.text == "It is damaged (entry 11 is not as it was written)"
        assert texts_clipped(stage.app.place) == []
        stage.touch(ask.button("Put back 12 entries"))
        stage.until(lambda: type(stage.app.place).__name__ == "LoomPlace")
        stage.until(lambda: stage.app.place.ask is not None)
        assert "Last pick 3" in stage.app.place.ask.ids.detail.text
    assert [path.name for path in shelf.folder.glob("*.set-aside-1")] == ["Demo.journal.set-aside-1"]


def test_from_there_the_other_warps_are_one_touch_away(shelf):
    program = opened("Demo")
    with program, Stage(program.window) as stage:
        stage.touch(stage.app.place.ask.button("Back"))
        assert stage.app.place.ask.ids.words.text == "Which warp?"
        stage.touch(stage.app.place.ask.button("Blue shawl"))
        assert type(stage.app.place).__name__ == "LoomPlace"


def test_a_warp_that_shows_its_damage_at_a_glance_is_marked_in_the_choice(shelf):
    shelf.path("Demo").write_bytes(b"rubbish")
    program = opened(None)
    with program, Stage(program.window) as stage:
        stage.until(lambda: stage.app.place.ask.button("Demo").detail == "cannot be opened")
        assert stage.app.place.ask.button("Blue shawl").detail.startswith("not begun")
        stage.touch(stage.app.place.ask.button("Demo"))
        assert stage.app.place.ask.ids.detail.text == "It is not a journal of Fellside"


def test_without_a_copy_that_is_said(shelf):
    shelf.path("Blue shawl").write_bytes(b"rubbish")
    program = opened("Blue shawl")
    with program, Stage(program.window) as stage:
        assert stage.app.place.ask.asked.lines == ("No copy is on this device or on a stick in it",)


def test_a_warp_in_use_elsewhere_opens_on_the_choice_and_says_so(shelf):
    with shelf.open("Blue shawl"):
        program = opened("Blue shawl")
        with program, Stage(program.window) as stage:
            assert "is already open in process" in stage.app.place.ids.detail.text
            stage.app.place.go_out()
            assert stage.app.place.ask.ids.words.text == "Which warp?"


def test_what_keeps_the_demo_from_being_made_is_said_on_the_choice(shelf):
    program = opened(None, trouble="the disk is full")
    with program, Stage(program.window) as stage:
        assert stage.app.place.ids.detail.text == "the disk is full"


def test_the_program_without_arguments_opens_its_window_on_a_damaged_warp(shelf, monkeypatch):
    from companion.cli.commands import run
    from companion.wiring import screen_app

    asked = []

    class NoWindow:
        def __init__(self, *what, **more):
            asked.append((what, more))

        def run(self):
            return None

    monkeypatch.setattr(screen_app, "ScreenApp", NoWindow)
    shelf.path("Demo").write_bytes(b"rubbish")
    (shelf.folder / "last-used").write_text("Demo\n")
    assert run([]) == 0
    assert asked == [(("Demo", None), {"trouble": ""})]


def test_in_the_terminal_the_other_warps_are_named(shelf):
    shelf.path("Demo").write_bytes(b"rubbish")
    words = [sys.executable, "-m", "companion", "weave", "--text"]
    done = subprocess.run(words, check=False, capture_output=True, text=True, timeout=60)
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)
    assert "is not a journal of Fellside" in done.stderr
    assert done.stderr.endswith("another warp: fellside weave NAME, of Blue shawl\n")
