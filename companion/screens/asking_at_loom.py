"""What is asked about a warp at the loom, and what comes of the answers: pages of a pause, cords, deeds on disk."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from companion.draft.treadling import TreadlingReading
from companion.present import wording
from companion.present.asked_at_loom import AskedAtLoom
from companion.present.asking import AndThen, Asked, AtLoom, Elsewhere
from companion.present.button_words import DRESS_LOOM
from companion.present.square_table import may_have_squares
from companion.screens.asking_place import AskingPlace
from companion.screens.awaited import Awaited
from companion.screens.flow import FlowEnds
from companion.screens.loom_ends import LoomEnds
from companion.screens.surroundings import Surroundings
from companion.screens.widgets.foot_row import FootKey
from companion.weaving.decide import Command, re_tie, resume
from companion.weaving.errors import WeavingError
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import Progress
from companion.weaving.state import re_tie_due
from companion.weaving.warp import Warp


class AskingAtLoom(AskingPlace):
    """One warp whose questions end in commands, in another place, or in a question once the commands are on disk.

    `away_ms` is the time since the journal's last entry. What the draft is read as comes later, and is put into what
    is asked already.
    """

    def __init__(
        self, warp: Warp, progress: Progress, ends: LoomEnds, around: Surroundings, away_ms: int, **properties: Any
    ) -> None:
        # On a pause the weaver says first whether the cloth looks right.
        out = FlowEnds(self._answered, self._left, lambda: not (self._progress.now.paused and self._at_pause))
        super().__init__(warp, progress, around, out, **properties)
        self._view = this_pick(warp, progress)
        self._ends = ends
        self._readings: dict[int, TreadlingReading] = {}
        self._gamps: set[int] = set()
        self._coming_back: Asked[AtLoom] | None = None
        self._pause: Asked[AtLoom] | None = None
        self._away_ms = away_ms
        self._awaited = Awaited()
        self._at_pause = False
        self._rests = False

    @property
    def weaves(self) -> bool:
        """Whether what feet and beater do is weaving: no question stands on the screen, and nothing is to be tied."""
        return self._flow.asking is None and self.cords is None and not self._must_tie

    def _asked(self) -> AskedAtLoom:
        piece, around = self._progress.now.piece, self._around
        squares = piece in self._gamps or may_have_squares(self._warp.pieces[piece].draft)
        reading = self._readings.get(piece)
        return AskedAtLoom(
            self._warp,
            self._progress,
            self._view,
            around.facing,
            around.units,
            reading,
            squares,
            away_ms=lambda: self._ends.now_ms() - self._progress.now.at_ms,
        )

    def take_reading(self, piece: int, reading: TreadlingReading) -> None:
        """Say from now on where in its repeats a pick of this piece stands."""
        self._readings[piece] = reading
        if self._pause is not None and piece == self._progress.now.piece:
            told_so_far, self._pause = self._pause, self._asked().at_pause()
            self._flow.instead(told_so_far, self._pause)

    def take_gamp(self, piece: int) -> None:
        """Offer the squares of this piece from now on: it was found to repeat several of its threadings."""
        self._gamps.add(piece)
        if self._coming_back is not None and self._view is None and piece == self._progress.now.piece:
            self._flow.instead(self._coming_back, self._asked().coming_back(self._away_ms))

    @property
    def _must_tie(self) -> bool:
        """Whether treadles are to be tied before the next pick."""
        now = self._progress.now
        return not now.finished and re_tie_due(self._warp, now) is not None

    def _begin_tying(self) -> None:
        if self._progress.now.paused:
            self._ends.submit(resume)
        self._show_cords()

    def _show_cords(self, others: tuple[FootKey, ...] = ()) -> None:
        # Before anything is woven the ends may not even be threaded.
        dress = FootKey(DRESS_LOOM, lambda: self._ends.leave_for(Elsewhere.DRESSING))
        super()._show_cords(others if self._progress.now.woven else (*others, dress))

    def _submit(self, command: Command) -> None:
        self._ends.submit(command)

    def _all_tied(self) -> None:
        self._ends.submit(re_tie)
        self._show_own()

    def _ask(self, asked: Asked[AtLoom], at_pause: bool = False) -> None:
        self._at_pause = at_pause
        super()._ask(asked)

    def _ask_on(self, number: int, line: str) -> None:
        """Go on with a flow once all that it did is on disk, or leave it where something could not be done.

        `number` is that of the newest entry when last told of.
        """
        if self._progress.now.number <= number:
            self._show_own()
            return
        # What was asked before is asked of cloth that is no longer so: back leads to the pick.
        try:
            asked = self._awaited.one_done(self._warp, self._progress)
        except WeavingError:
            # The loom was left, or the cloth changed otherwise, before this was on disk.
            self._show_own()
            return
        if isinstance(asked, Asked):
            # The answer to the deed stands before what is to be known for the next one, and hides nothing of it.
            detail = wording.BETWEEN.join(part for part in (line, asked.detail) if part)
            self._flow.begin(replace(asked, detail=detail))

    @property
    def rests(self) -> bool:
        """Whether this is a pause whose page was shown: the cloth was asked about, or has just been woven."""
        return self._progress.now.paused and self._rests

    def _ask_pause(self) -> None:
        self._rests = True
        self._pause = self._asked().at_pause()
        self._ask(self._pause, at_pause=True)

    def _left(self) -> None:
        """Leave the questions: to the pick or, where another was asked on a pause, to the page of the pause."""
        if self._progress.now.paused:
            self._ask_pause()
        else:
            self._show_own()

    def _show_own(self) -> None:
        self._awaited.forget()
        super()._show_own()

    def _answered(self, result: AtLoom) -> None:
        if self._awaited:
            # A second answer while the disk is still at work on the first means nothing.
            return
        if result is Elsewhere.CORDS:
            self._flow.end()
            self._begin_tying()
        elif isinstance(result, Elsewhere):
            self._ends.leave_for(result)
        elif isinstance(result, AndThen):
            self._awaited.begin(result)
            for command in result.commands:
                self._ends.submit(command)
        else:
            for command in result:
                self._ends.submit(command)
            self._show_own()
