"""The whole program as a process of its own, worked by real X events, killed, and started again."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from companion.weaving.dressing_events import DressingEvent
from companion.weaving.events import Entry, PickTakenOut, PickWoven, Resumed
from tests.screens.stage import virtual_display

ROOT = Path(__file__).resolve().parents[2]
WIDTH, HEIGHT = 1024, 600
PATIENCE_S = 30.0

pytestmark = pytest.mark.skipif(shutil.which("xdotool") is None, reason="xdotool is not installed")


@pytest.fixture
def surroundings(tmp_path):
    """A display of the window's size (so that no window manager is needed) and a home of its own."""
    with virtual_display(WIDTH, HEIGHT) as display:
        yield os.environ | {
            "DISPLAY": display,
            "HOME": str(tmp_path),
            "FELLSIDE_HOME": str(tmp_path / "fellside"),
            "KIVY_HOME": str(tmp_path / "kivy"),
            "SDL_AUDIODRIVER": "dummy",
            "PYTHONPATH": str(ROOT),
        }


def started(surroundings):
    return subprocess.Popen(
        [sys.executable, "-m", "companion"], env=surroundings, cwd=surroundings["HOME"], start_new_session=True
    )


def xdotool(surroundings, *words):
    subprocess.run(["xdotool", *map(str, words)], env=surroundings, check=True, timeout=20)


def entries(surroundings) -> list[Entry]:
    from companion.journal.errors import JournalError
    from companion.journal.shelf import Shelf

    try:
        with Shelf(Path(surroundings["FELLSIDE_HOME"]) / "journal").open_to_read("Demo") as journal:
            # The demo begins dressed, with its tie-up accepted and tied.
            return [one for one in journal.entries() if not isinstance(one.event, DressingEvent)][2:]
    except JournalError:
        return []


def until_journal_holds(surroundings, number, do=lambda: None):
    """Wait for so many entries, doing something between looks: a window that is not up yet hears no key."""
    end = time.monotonic() + PATIENCE_S
    while len(found := entries(surroundings)) < number:
        assert time.monotonic() < end, f"the journal holds {len(found)} entries, not {number}"
        do()
        time.sleep(0.1)  # the journal belongs to another process: nothing here can be awaited
    return found


def test_thirty_picks_by_touch_and_key_survive_a_kill_and_the_next_start_asks_about_the_cloth(surroundings):
    def touch_next():
        xdotool(surroundings, "mousemove", WIDTH * 0.75, HEIGHT * 0.8, "click", 1)

    def press_space():
        xdotool(surroundings, "key", "space")

    program = started(surroundings)
    try:
        # A press too soon after another is not counted, and a window that is not up yet hears none: press until it is.
        while len(found := entries(surroundings)) < 30:
            until_journal_holds(surroundings, len(found) + 1, do=touch_next if len(found) % 2 else press_space)
        woven = len(found)
        until_journal_holds(surroundings, woven + 1, do=lambda: xdotool(surroundings, "key", "BackSpace"))
        found = entries(surroundings)
    finally:
        os.killpg(program.pid, signal.SIGKILL)
        program.wait()
    woven = [entry.event.pick for entry in found if isinstance(entry.event, PickWoven)]
    assert woven == list(range(len(woven)))
    out = [entry.event.pick for entry in found if isinstance(entry.event, PickTakenOut)]
    assert out == woven[: -len(out) - 1 : -1]

    program = started(surroundings)
    try:
        # The main answer to "does your cloth look like this?" goes on; the next press weaves the pick taken out.
        again = until_journal_holds(surroundings, len(found) + 1, do=lambda: xdotool(surroundings, "key", "Return"))
    finally:
        os.killpg(program.pid, signal.SIGKILL)
        program.wait()
    after = [entry.event for entry in again[len(found) :]]
    assert next(event for event in after if not isinstance(event, Resumed)) == PickWoven(out[-1])
