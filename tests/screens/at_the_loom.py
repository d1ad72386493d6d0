"""The window at the loom on a journal of its own, without the ways to other pages."""

from __future__ import annotations

from contextlib import contextmanager

from companion.journal.store import Journal
from companion.present.deeds import answer_words
from companion.workshop.loomside import AtTheLoom, LoomWorker
from drivers.keys import USUAL_KEYS
from tests.screens.stage import Stage
from tests.screens.warps import twill_warp


@contextmanager
def at_the_screen(path, warp=None, guard=None, shown=False, now_ms=lambda: 0, **looks):
    """Open the window on the journal at `path`, made first where it is not there; without `guard`, tests press fast.

    `shown`: every frame is drawn and flipped, for who measures it. `now_ms` is the weaver's clock.
    """
    from companion.screens.at_loom import LoomPlace
    from companion.screens.loom_ends import LoomEnds
    from companion.screens.window import FellsideWindow
    from companion.wiring.ear import Ear

    if not path.exists():
        Journal.create(path, warp or twill_warp(), at_ms=0).close()
    clock = iter(range(1, 10**9, 1000))

    def at_loom(window):
        return LoomPlace(
            worker.warp,
            worker.at_start,
            LoomEnds(worker.submit, now_ms, pressed=None if guard is None else lambda: ear.touched(window)),
            window.surroundings,
        )

    window, ear = FellsideWindow(at_loom, **looks), Ear(guard=guard)
    ear.listen_to_keys(window, USUAL_KEYS)

    def answered(told):
        return "" if told.entry is None else answer_words(worker.warp, told.before, told.entry.event, window.units)

    def show(told):
        window.post(lambda: window.place.told(told.progress, told.view, str(told.problem) or answered(told)))

    with (
        LoomWorker(lambda: AtTheLoom(Journal.open(path), lambda: next(clock)), show) as worker,
        Stage(window, shown=shown) as stage,
    ):
        yield stage


def events_in(path):
    with Journal.open_to_read(path) as journal:
        return [entry.event for entry in journal.entries()]


def shows(stage, text):
    def seen():
        return stage.app.place.weave.ids.count.text == text

    seen.__name__ = text
    return seen
