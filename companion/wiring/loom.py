"""A warp woven in the window: the journal's worker, sensed feet, sounds and voice, tied to the loom side."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from contextlib import ExitStack
from functools import partial

from companion.draft.gamp import gamp_of
from companion.draft.model import Draft
from companion.draft.treadling import read_treadling
from companion.journal.words_beside import read_words
from companion.present.asking import Elsewhere
from companion.present.cue import Sound, sound_of
from companion.present.deeds import answer_words
from companion.present.preferences import dressing_way
from companion.present.squares import MarkWanted
from companion.present.tie_up import TieUpDeed
from companion.present.trade_words import in_trade_words, own_words
from companion.present.wording import LIFT_FIRST, spoken_words
from companion.screens.at_loom import LoomPlace
from companion.screens.loom_ends import LoomEnds
from companion.screens.tie_up import TieUpScreen
from companion.screens.window import FellsideWindow
from companion.weaving.answer_woven import answer_woven
from companion.weaving.decide import pause, weave_pick
from companion.weaving.errors import error_words
from companion.weaving.events import NearMiss, PickTakenOut, PickWoven, Resumed
from companion.weaving.marking import mark_square
from companion.weaving.pick_view import this_pick
from companion.weaving.sensing import FeetState, Judgement
from companion.weaving.state import MarkedSquare
from companion.weaving.warp import Warp
from companion.wiring.cards import save_card_of
from companion.wiring.ear import Ear
from companion.wiring.navigator import Navigator
from companion.wiring.preferences import PreferencesWay
from companion.wiring.squares import Marks, SquaresWay
from companion.workshop import app
from companion.workshop.loomside import CommandResult, LoomWorker
from companion.workshop.sensed_feet import Felt, SensedFeet

FEET_EVERY_S = 0.05
"""How often the feet on the treadles are judged anew; feet are not faster."""


class LoomWay:
    """The loom that the weaver sits at, one warp at a time; `go` is called with where else the weaver wants to be."""

    def __init__(
        self,
        window: FellsideWindow,
        kept: PreferencesWay,
        ear: Ear,
        go: Callable[[Elsewhere, str], None],
    ) -> None:
        self._window = window
        self._kept = kept
        self._ear = ear
        self._go = go
        self._at_loom = ExitStack()
        self._worker: LoomWorker | None = None
        self._squares: SquaresWay | None = None
        self._sat_at: tuple[str, LoomPlace] | None = None

    def close(self) -> None:
        """Leave the loom, on a pause; harmless where nobody sits at it."""
        self._at_loom.close()

    def side(self, name: str) -> LoomPlace:
        """Sit down at the warp called `name`; raises JournalError."""

        def show(told: CommandResult) -> None:
            self._window.post(lambda: self._told(side, feet, worker.warp, told))

        rested = self._sat_at is not None and self._sat_at[0] == name and self._sat_at[1].rests
        self.close()
        worker = self._at_loom.enter_context(LoomWorker(lambda: app.sit_down(name), show))
        self._worker, self._squares = worker, None
        # Whoever goes elsewhere or closes the window leaves the loom; on a pause already, this is refused and harmless.
        self._at_loom.callback(worker.submit, pause)
        kept = self._kept.now
        feet = SensedFeet(worker.warp, kept.advance_by_treadles, kept.beater, kept.beater_with_treadles)
        feet.stand_at(worker.at_start, this_pick(worker.warp, worker.at_start), time.monotonic())
        self._ear.light(feet.lamps)

        def outcome(felt: Sequence[Felt]) -> None:
            for one in felt:
                if one.judgement is not None:
                    self._show_feet(side, one.judgement)
                if one.command is not None:
                    worker.submit(one.command)
                if one.not_counted:
                    side.say(LIFT_FIRST)

        def beaten(at_s: float) -> None:
            felt = feet.beaten(at_s)
            outcome(felt)
            if any(one.command is weave_pick for one in felt):
                self._ear.beat_counted(at_s)

        # Some of what the feet do is certain only when it has lasted.
        self._at_loom.callback(
            self._window.every(FEET_EVERY_S, lambda: outcome(feet.passed(time.monotonic(), side.weaves)))
        )
        side = LoomPlace(
            worker.warp,
            worker.at_start,
            LoomEnds(
                worker.submit,
                app.now_ms,
                leave_for=lambda where: self._leave_for(where, name),
                feel=lambda down, at_s: outcome(feet.felt(down, at_s, side.weaves)),
                beat=beaten,
                turned=self._kept.turn_cloth,
                pressed=lambda: self._ear.touched(self._window),
            ),
            self._window.surroundings,
            away_ms=app.now_ms() - worker.at_start.now.at_ms,
            surface=self._kept.now.cloth,
            # Made anew for other settings, it is the page that the weaver left.
            on_pause=rested,
            order=dressing_way(self._kept.now).order,
        )
        self._sat_at = name, side
        side.show_pedal(self._ear.words)
        side.say(worker.notice)
        self._read_treadlings(side, worker.warp, first=worker.at_start.now.piece)
        return side

    def begin(self) -> None:
        """Begin to weave where the weaver comes from the dressing."""
        if isinstance(self._window.place, LoomPlace):
            self._window.place.begin()

    def _leave_for(self, where: Elsewhere, name: str) -> None:
        if where is Elsewhere.OTHER_WARP:
            self._sat_at = None
        self._go(where, name)

    def show_tie_up(self, ways: Navigator) -> None:
        """Show the tie-up of the piece on the loom, on top of the loom's own place."""
        side = self._window.place
        if isinstance(side, LoomPlace):
            signs, piece = side.tie_up, side.piece

            def wanted(screen: TieUpScreen, deed: object) -> None:
                if deed is TieUpDeed.SAVE:
                    loom = side.warp.loom.loom
                    words = read_words(app.shelf().path(side.warp.name))
                    save_card_of(ways, screen, side.warp.name, piece.draft, lambda: answer_woven(piece, loom), words)
                else:
                    ways.pop()

            def make() -> TieUpScreen:
                screen = TieUpScreen(ways.around, lambda deed: wanted(screen, deed))
                screen.signs = signs
                return screen

            ways.push(make)

    def show_squares(self, ways: Navigator, show: Callable[[str, Draft], None]) -> None:
        """Show the squares of the piece on the loom, to be marked; `show` gets one that is made a draft."""
        side, worker = self._window.place, self._worker
        if not isinstance(side, LoomPlace) or worker is None:
            return
        number = side.progress.now.piece
        piece = worker.warp.pieces[number]

        def marked() -> list[MarkedSquare]:
            return [one for one in side.progress.now.squares if one.piece == number]

        def put(wanted: MarkWanted) -> None:
            worker.submit(
                partial(mark_square, area=wanted.area, starred=wanted.starred, text=wanted.text, piece=number)
            )

        def lying() -> set[int]:
            return set(side.progress.now.cloth.newest_first())

        self._squares = SquaresWay(ways, piece.draft.title or piece.name, piece.draft, show, Marks(marked, put, lying))

    def double_tapped(self) -> None:
        """Do what the weaver has chosen for a double tap of the pedal, where a warp is on the screen."""
        button = self._kept.now.double_tap
        if button is not None and isinstance(self._window.place, LoomPlace):
            self._window.place.act(button)

    def _read_treadlings(self, side: LoomPlace, warp: Warp, first: int) -> None:
        def read() -> None:
            for piece in range(first, len(warp.pieces)):
                reading = read_treadling(warp.pieces[piece].draft)
                self._window.post(partial(side.take_reading, piece, reading))
                gamp = gamp_of(warp.pieces[piece].draft)
                if min(len(gamp.blocks), len(gamp.sections)) > 1:
                    self._window.post(partial(side.take_gamp, piece))

        # A treadling of many thousand picks takes a second or more to read; weaving need not wait for it.
        threading.Thread(target=read, name="treadling reader", daemon=True).start()

    def _show_feet(self, side: LoomPlace, judgement: Judgement) -> None:
        if judgement.is_warning:
            self._kept.sounds.play(Sound.REFUSED)
        if judgement.feet is not FeetState.WOVEN:
            side.show_feet(judgement)

    def _told(self, side: LoomPlace, feet: SensedFeet, warp: Warp, told: CommandResult) -> None:
        feet.stand_at(told.progress, told.view, time.monotonic())
        self._ear.light(feet.lamps)
        event = None if told.entry is None else told.entry.event
        sound = sound_of(event, told.view)
        if sound is not None:
            self._kept.sounds.play(sound)
        view = told.view
        if isinstance(event, PickWoven | PickTakenOut | Resumed) and view is not None:
            own = own_words(warp, told.progress)
            self._kept.voice.say(in_trade_words(spoken_words(view), self._kept.now.trade, own))
        # A near miss is only written down: the warning that goes with it stands until the feet are right.
        if not isinstance(event, NearMiss):
            units = self._window.units
            answer = "" if event is None else answer_words(warp, told.before, event, units)
            problem = error_words(told.problem, units)
            side.told(told.progress, view, problem or answer)
            if self._squares is not None:
                # The table itself shows what was marked.
                self._squares.look_again(problem)
