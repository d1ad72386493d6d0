"""A loom that is being dressed in a real window: how tests begin it, look at it, and read what is on disk."""

from __future__ import annotations

from contextlib import contextmanager

from companion.journal.store import Journal
from companion.present.dressing_words import MAKING_READY
from companion.weaving.decide import pause
from companion.weaving.dressing_commands import begin_task, go_on_dressing
from companion.weaving.dressing_events import DressingTask
from tests.screens.stage import Stage

THREADING = DressingTask.THREADING


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
