"""The dressing of a loom in the window: the journal's worker, sounds and voice, tied to the dressing side."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import replace

from companion.journal.snapshots import progress_of
from companion.present.asking import Elsewhere
from companion.present.cue import Sound
from companion.present.deeds import answer_words
from companion.present.dress_questions import making_ready
from companion.present.dressing_words import how_far_words
from companion.present.preferences import dressing_way
from companion.screens.at_dressing import DressingEnds, DressingPlace
from companion.screens.flow_place import FlowPlace
from companion.screens.place import Place
from companion.weaving.decide import pause
from companion.weaving.dressing import FRONT_TO_BACK, is_untouched
from companion.weaving.dressing_events import Dressed, DressingTakenOut, TaskBegun, TaskSettled
from companion.weaving.dressing_way import DressingWay
from companion.weaving.errors import error_words
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp
from companion.wiring.background import beside_screen, in_background, place_with
from companion.wiring.ear import Ear
from companion.wiring.navigator import Navigator
from companion.wiring.preferences import PreferencesWay
from companion.workshop import app
from companion.workshop.loomside import CommandResult, LoomWorker


def dressing_in_brief(name: str, way: DressingWay) -> str:
    """Return what is next of a dressing that was begun and is not done: `threading 112 of 160`; else nothing.

    Once anything is woven, nothing is either. Raises JournalError and WeavingError.
    """
    with app.shelf().open_to_read(name) as journal:
        return dressing_words(journal.warp, progress_of(journal), way)


def dressing_words(warp: Warp, progress: Progress, way: DressingWay) -> str:
    """Return the same of a warp that is read already."""
    now = progress.now
    begun = not is_untouched(now.dressing)
    task = way.task(warp, progress) if begun and not now.woven else None
    return "" if task is None else how_far_words(warp, now.dressing, task)


def is_being_dressed(name: str) -> bool:
    """Tell whether the dressing of a warp was begun and is not done, before anything is woven; raises JournalError."""
    return bool(dressing_in_brief(name, DressingWay()))


class DressingSide:
    """A loom that is dressed, one warp at a time; `go` is called with where else the weaver wants to be."""

    def __init__(self, ways: Navigator, kept: PreferencesWay, ear: Ear, go: Callable[[Elsewhere, str], None]) -> None:
        self._ways = ways
        self._window = ways.window
        self._kept = kept
        self._ear = ear
        self._go = go
        self._at_loom = ExitStack()
        self._way = dressing_way(kept.now)

    def close(self) -> None:
        """Leave the loom, on a pause; harmless where nobody dresses it."""
        self._at_loom.close()

    def side(self, name: str) -> Place:
        """Sit down to dress the loom with the warp called `name`; raises JournalError.

        Where its groups take a while to be made ready, the place says so until they are.
        """

        side: DressingPlace | None = None

        def show(told: CommandResult) -> None:
            # In the worker's thread: another task has other groups. Who leaves waits for none.
            if side is not None and not told.progress.now.paused:
                self._way.make_ready(worker.warp, told.progress)
            self._window.post(lambda: self._told(side, worker.warp, told))

        def make() -> DressingPlace:
            nonlocal side
            side = self._place(name, worker)
            return side

        self.close()
        worker = self._at_loom.enter_context(LoomWorker(lambda: app.sit_down(name), show))
        # Whoever goes elsewhere or closes the window leaves the loom; on a pause already, this is refused and harmless.
        self._at_loom.callback(worker.submit, pause)
        # What was made ready holds for as long as the program runs; only the weaver's choices may be others by now.
        chosen = dressing_way(self._kept.now)
        self._way = way = replace(
            self._way, order=chosen.order, group=chosen.group, at_once=chosen.at_once, one_by_one=chosen.one_by_one
        )
        return place_with(
            self._ways,
            FlowPlace(making_ready(worker.warp), self._window.surroundings, lambda where: self._go(where, name)),
            lambda: way.make_ready(worker.warp, worker.at_start),
            make,
        )

    def _place(self, name: str, worker: LoomWorker) -> DressingPlace:
        side = DressingPlace(
            worker.warp,
            worker.at_start,
            DressingEnds(
                worker.submit,
                leave_for=lambda where: self._go(where, name),
                say_aloud=self._say,
                pressed=lambda: self._ear.touched(self._window),
                way_changed=self._keep,
                beside=lambda waiting, make: in_background(self._ways, side, waiting, make),
                make_ready=lambda way, progress, use: self._make_ready(worker.warp, way, progress, use),
            ),
            self._window.surroundings,
            self._way,
            away_ms=app.now_ms() - worker.at_start.now.at_ms,
        )
        side.show_pedal(self._ear.words)
        side.say(worker.notice)
        return side

    def _say(self, line: str) -> None:
        # The voice is another one when the settings have changed.
        self._kept.voice.say(line)

    def _make_ready(self, warp: Warp, way: DressingWay, progress: Progress, use: Callable[[], None]) -> None:
        if beside_screen(self._ways, lambda: way.make_ready(warp, progress), use):
            use()

    def _keep(self, way: DressingWay) -> None:
        self._way = way
        self._kept.keep_quietly(
            replace(
                self._kept.now,
                front_to_back=way.order == FRONT_TO_BACK,
                group=way.group,
                at_once=way.at_once,
                end_by_end=way.one_by_one,
            )
        )

    def _told(self, side: DressingPlace | None, warp: Warp, told: CommandResult) -> None:
        event = None if told.entry is None else told.entry.event
        if event is None:
            self._kept.sounds.play(Sound.REFUSED)
        elif isinstance(event, Dressed | DressingTakenOut | TaskSettled):
            self._kept.sounds.play(Sound.WOVEN)
        units = self._window.units
        # What is done or begun is seen; only what came of other deeds is said.
        seen = event is None or isinstance(event, Dressed | TaskBegun)
        answer = "" if seen or event is None else answer_words(warp, told.before, event, units)
        if side is not None:
            side.told(told.progress, error_words(told.problem, units) or answer)
