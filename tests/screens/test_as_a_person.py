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

from companion.weaving.events import Entry, NoteWritten, PickTakenOut, PickWoven, Resumed
from drivers.double_guard import GuardTimes
from tests.screens.stage import virtual_display

ROOT = Path(__file__).resolve().parents[2]
WIDTH, HEIGHT = 1024, 600
PATIENCE_S = 30.0
NOTE = "bend on the left edge"
"""Its letters and spaces mean next and back where nobody writes."""
NOTE_BUTTON = (321, 557)
OWN_WORDS_BUTTON = (173, 231)
FRAMES_S = 1.0
"""Some frames of the program on a busy machine: another process draws, and nothing tells when it has."""

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
            # The demo begins with its tie-up accepted and tied.
            return list(journal.entries(after=2))
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


def write_note(surroundings, words):
    """Write a note as a person with a keyboard does: two touches, the words, and Return."""
    for place in (NOTE_BUTTON, OWN_WORDS_BUTTON):
        xdotool(surroundings, "mousemove", *place, "click", 1)
        time.sleep(FRAMES_S)
    xdotool(surroundings, "type", "--delay", 40, words)
    xdotool(surroundings, "key", "Return")


def test_thirty_picks_by_touch_and_key_survive_a_kill_and_the_next_start_asks_about_the_cloth(surroundings):
    def touch_next():
        xdotool(surroundings, "mousemove", WIDTH * 0.75, HEIGHT * 0.5, "click", 1)

    program = started(surroundings)
    try:
        until_journal_holds(surroundings, 1, do=touch_next)
        while len(found := entries(surroundings)) < 30:
            before = len(found)
            time.sleep(GuardTimes().least_ms / 1000)  # no weaver's pick is shorter, and the program knows it
            touch_next() if before % 2 else xdotool(surroundings, "key", "space")
            until_journal_holds(surroundings, before + 1)
        write_note(surroundings, NOTE)
        assert until_journal_holds(surroundings, 31)[30].event == NoteWritten(NOTE)
        xdotool(surroundings, "key", "BackSpace")
        found = until_journal_holds(surroundings, 32)
    finally:
        os.killpg(program.pid, signal.SIGKILL)
        program.wait()
    woven = [entry.event.pick for entry in found if isinstance(entry.event, PickWoven)]
    assert woven == list(range(len(woven)))
    assert found[-1].event == PickTakenOut(woven[-1])

    program = started(surroundings)
    try:
        # The main answer to "does your cloth look like this?" goes on; the next press weaves the pick taken out.
        found = until_journal_holds(surroundings, 33, do=lambda: xdotool(surroundings, "key", "Return"))
    finally:
        os.killpg(program.pid, signal.SIGKILL)
        program.wait()
    after = [entry.event for entry in found[32:]]
    assert next(event for event in after if not isinstance(event, Resumed)) == PickWoven(woven[-1])
