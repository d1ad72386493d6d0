"""The program with a window: shelf, start flow, search for a tie-up and the loom, wired to the screens."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from contextlib import ExitStack
from dataclasses import replace
from functools import partial
from pathlib import Path
from types import TracebackType
from typing import Self

from companion import app
from companion.draft.errors import DraftError
from companion.draft.model import Draft
from companion.draft.reading import read_draft
from companion.draft.treadling import read_treadling
from companion.draft_at_window import look_over
from companion.dressing import CannotDressError, dress
from companion.journal.errors import JournalError
from companion.journal.shelf import tidy_name
from companion.loomside import LoomWorker, Told
from companion.pedal_at_window import PedalAtWindow, pedal_settings
from companion.places import asset, drafts_to_choose_from
from companion.preference_file import load_preferences, save_preferences
from companion.present.asking import Elsewhere
from companion.present.cue import Sound, sound_of
from companion.present.preferences import Preferences, Teach, ask_preferences
from companion.present.start import Choice, LookAtDraft, OpenWarp, PutOnLoom, Settings, Start, ask_start
from companion.present.tie_up import NOT_DONE, said_signs, searching_signs, tie_up_signs
from companion.present.weave import Action
from companion.present.wording import spoken_words
from companion.remap.answers import Progress
from companion.remap.loom import Loom
from companion.screens.flow_side import FlowSide
from companion.screens.loom_side import LoomSide
from companion.screens.sounds import Sounds
from companion.screens.teach_side import TeachSide
from companion.screens.theme import DARK, THEMES
from companion.screens.tie_up import TieUpScreen
from companion.screens.window import FellsideWindow
from companion.sensed_feet import Felt, SensedFeet
from companion.tie_up_search import TieUpSearch
from companion.voice import Voice
from companion.watchdog import SignsOfLife
from companion.weaving.decide import pause
from companion.weaving.errors import WeavingError
from companion.weaving.events import NearMiss, PickTakenOut, PickWoven, Resumed
from companion.weaving.pick_view import this_pick
from companion.weaving.sensing import Feet, Judgement
from companion.weaving.warp import LoomProfile, Warp
from drivers.discovery import find_ports
from drivers.events import Press
from drivers.keys import USUAL_KEYS, KeyLesson

FEET_EVERY_S = 0.05
"""How often the feet on the treadles are judged anew; feet are not faster."""


class ScreenApp:
    """The window, opened on the warp called `name`, or on the choice of warps where it is None.

    `pedal` is a serial port to listen to today, whatever the settings say.
    """

    def __init__(self, name: str | None, pedal: str | None = None) -> None:
        self._name = name
        self._at_loom = ExitStack()
        self._preferences = load_preferences(app.preference_file())
        self._today = pedal
        self._pedal = PedalAtWindow(
            swallowed=lambda: self._sounds.play(Sound.REFUSED), double_tapped=self._double_tapped
        )
        self.window = FellsideWindow(self._first_place)
        self._sounds = Sounds(asset, self._preferences.sounds)
        self._voice = Voice(self._preferences.voice)
        self._change_looks()

    def __enter__(self) -> Self:
        self._listen(self._today or self._preferences.pedal)
        return self

    def _listen(self, port: str) -> None:
        self._pedal.listen_to(port, self.window, pedal_settings(self._preferences))

    def _double_tapped(self) -> None:
        wanted = self._preferences.double_tap
        action = next((action for action in Action if action.value == wanted), None)
        if action is not None and isinstance(self.window.place, LoomSide):
            self.window.place.act(action)

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._pedal.close()
        self._voice.close()
        self._at_loom.close()

    def run(self) -> None:
        """Stay until the window is closed; raises JournalError where the first warp cannot be opened."""
        with self, SignsOfLife(self.window.post):
            self.window.run()

    def _first_place(self, _window: FellsideWindow) -> LoomSide | FlowSide:
        return self._start_side() if self._name is None else self._loom_side(self._name)

    def _start_side(self) -> FlowSide:
        self._at_loom.close()
        shelf = app.shelf()
        last = shelf.last_used()
        names = sorted(shelf.names(), key=lambda name: name != last)
        drafts = drafts_to_choose_from(Path.home())
        asked = ask_start(
            [Choice(name, name) for name in names], [Choice(str(path), path.stem.replace("-", " ")) for path in drafts]
        )
        return FlowSide(asked, self.window.look, self.window.sizes, self._chosen)

    def _chosen(self, start: Start) -> None:
        match start:
            case OpenWarp(name):
                self._open(name)
            case PutOnLoom(key):
                self._with_draft(key, lambda name, draft: self._try_loom(name, draft, start.loom(draft.shafts)))
            case LookAtDraft(key):
                self._with_draft(key, lambda name, draft: self._look_at_draft(key, name, draft))
            case Settings():
                ports = [port.name for port in find_ports()]
                asked = ask_preferences(self._preferences, ports)
                self.window.show(FlowSide(asked, self.window.look, self.window.sizes, self._set))

    def _set(self, wanted: Preferences | Teach) -> None:
        if isinstance(wanted, Teach):
            self.window.show(
                TeachSide(
                    self.window.look,
                    self.window.sizes,
                    self._taught,
                    leave=lambda: self.window.show(self._start_side()),
                )
            )
        else:
            self._keep(wanted)

    def _taught(self, lesson: KeyLesson) -> None:
        def codes(wanted: Press) -> tuple[int, ...]:
            return tuple(code for code, press in lesson.meanings.items() if press is wanted)

        self._keep(replace(self._preferences, next_keys=codes(Press.ADVANCE), back_keys=codes(Press.BACK)))

    def _keep(self, preferences: Preferences) -> None:
        before, self._preferences = self._preferences, preferences
        if preferences.pedal != before.pedal or pedal_settings(preferences) != pedal_settings(before):
            self._listen(preferences.pedal)
        self._sounds = Sounds(asset, preferences.sounds)
        self._voice.close()
        self._voice = Voice(preferences.voice)
        self._change_looks()
        try:
            save_preferences(app.preference_file(), preferences)
        except OSError as error:
            self._say(f"the settings hold for today but could not be kept: {error.strerror or error}")
        else:
            self.window.show(self._start_side())

    def _change_looks(self) -> None:
        kept = self._preferences
        self.window.change_looks(THEMES.get(kept.theme, DARK), kept.mirrored, kept.text_scale)
        taught = dict.fromkeys(kept.next_keys, Press.ADVANCE) | dict.fromkeys(kept.back_keys, Press.BACK)
        self.window.change_keys({**USUAL_KEYS, **taught})

    def _open(self, name: str) -> None:
        try:
            place = self._loom_side(name)
        except (JournalError, WeavingError) as error:
            self._say(str(error))
        else:
            self.window.show(place)

    def _loom_side(self, name: str) -> LoomSide:
        def show(told: Told) -> None:
            self.window.post(lambda: self._told(side, feet, worker.warp, told))

        self._at_loom.close()
        worker = self._at_loom.enter_context(LoomWorker(lambda: app.sit_down(name), show))
        # Whoever goes elsewhere or closes the window leaves the loom; on a pause already, this is refused and harmless.
        self._at_loom.callback(worker.submit, pause)
        feet = SensedFeet(worker.warp, self._preferences.advance_by_treadles)
        feet.stand_at(worker.at_start)
        self._pedal.light(feet.lamps)

        def outcome(felt: Sequence[Felt]) -> None:
            for one in felt:
                if one.judgement is not None:
                    self._show_feet(side, one.judgement)
                if one.command is not None:
                    worker.submit(one.command)

        # Some of what the feet do is certain only when it has lasted.
        self._at_loom.callback(self.window.every(FEET_EVERY_S, lambda: outcome(feet.passed(time.monotonic()))))
        side = LoomSide(
            worker.warp,
            worker.at_start,
            worker.submit,
            lambda where: self._go(where, name),
            lambda down, at_s: outcome(feet.felt(down, at_s)),
            self.window.look,
            self.window.sizes,
            away_ms=app.now_ms() - worker.at_start.now.at_ms,
            mirrored=self.window.mirrored,
        )
        side.show_pedal(self._pedal.words)
        side.say(worker.notice)
        self._read_treadlings(side, worker.warp, first=worker.at_start.now.piece)
        return side

    def _read_treadlings(self, side: LoomSide, warp: Warp, first: int) -> None:
        def read() -> None:
            for piece in range(first, len(warp.pieces)):
                reading = read_treadling(warp.pieces[piece].draft)
                self.window.post(partial(side.take_reading, piece, reading))

        # A treadling of many thousand picks takes a second or more to read; weaving need not wait for it.
        threading.Thread(target=read, name="treadling reader", daemon=True).start()

    def _go(self, where: Elsewhere, name: str) -> None:
        if where is Elsewhere.OTHER_WARP:
            self.window.show(self._start_side())
            return
        try:
            page = app.save_record(name, Path.home() / "Documents" / "Fellside")
        except (JournalError, OSError) as error:
            self._say(f"the record could not be saved: {error}")
        else:
            self._say(f"{page} and the table beside it", "The record is saved")

    def _show_feet(self, side: LoomSide, judgement: Judgement) -> None:
        if judgement.is_warning:
            self._sounds.play(Sound.REFUSED)
        if judgement.feet is not Feet.WOVEN:
            side.show_feet(judgement)

    def _told(self, side: LoomSide, feet: SensedFeet, warp: Warp, told: Told) -> None:
        feet.stand_at(told.progress)
        self._pedal.light(feet.lamps)
        event = None if told.entry is None else told.entry.event
        sound = sound_of(warp, told.progress, event)
        if sound is not None:
            self._sounds.play(sound)
        view = this_pick(warp, told.progress)
        if isinstance(event, PickWoven | PickTakenOut | Resumed) and view is not None:
            self._voice.say(spoken_words(view))
        # A near miss is only written down: the warning that goes with it stands until the feet are right.
        if not isinstance(event, NearMiss):
            side.told(told.progress, told.problem)

    def _with_draft(self, key: str, use: Callable[[str, Draft], None]) -> None:
        """Read the draft file `key` and use it under its title; a file that cannot be read is told of."""
        try:
            draft = read_draft(Path(key).read_bytes())
        except (OSError, DraftError) as error:
            self._say(f"{Path(key).name}: {error}")
        else:
            use(draft.title or Path(key).stem, draft)

    def _look_at_draft(self, key: str, name: str, draft: Draft) -> None:
        look_over(
            self.window,
            Path(key).stem,
            draft,
            put_on=lambda changed, wanted: self._try_loom(name, changed, wanted.loom(changed.shafts)),
            leave=lambda: self.window.show(self._start_side()),
        )

    def _try_loom(self, name: str, draft: Draft, loom: Loom) -> None:
        search = TieUpSearch(draft, LoomProfile("loom", loom))
        screen = TieUpScreen(
            self.window.look,
            self.window.sizes,
            accept=lambda: self._put_on_shelf(name, search),
            leave=lambda: self._leave(search),
            stop=search.stop,
            try_loom=lambda other: self._try_loom(name, draft, other),
        )

        def progressed(progress: Progress) -> None:
            self.window.post(lambda: setattr(screen, "signs", searching_signs(progress)))

        def ended() -> None:
            signs = said_signs(NOT_DONE, search.problem) if search.answer is None else tie_up_signs(search.answer)
            self.window.post(lambda: setattr(screen, "signs", signs))

        self.window.show(screen)
        search.start(progressed, ended)

    def _leave(self, search: TieUpSearch) -> None:
        search.stop()
        self.window.show(self._start_side())

    def _put_on_shelf(self, name: str, search: TieUpSearch) -> None:
        if search.answer is None:
            return
        shelf = app.shelf()
        try:
            name = _free_name(tidy_name(name), shelf.names())
            warp = dress(name, search.draft, search.profile, search.answer, re_tie=True)
            shelf.create(name, warp, app.now_ms()).close()
        except (JournalError, WeavingError, CannotDressError) as error:
            self._say(str(error))
        else:
            self._open(name)

    def _say(self, line: str, headline: str = NOT_DONE) -> None:
        screen = TieUpScreen(
            self.window.look,
            self.window.sizes,
            accept=lambda: None,
            leave=lambda: self.window.show(self._start_side()),
            stop=lambda: None,
            try_loom=lambda _loom: None,
        )
        screen.signs = said_signs(headline, line)
        self.window.show(screen)


def _free_name(name: str, taken: tuple[str, ...]) -> str:
    """Return the name, with a number behind it where a warp has it already: a second warp of one draft is usual."""
    known = {other.casefold() for other in taken}
    number, free = 1, name
    while free.casefold() in known:
        number += 1
        free = f"{name} {number}"
    return free
