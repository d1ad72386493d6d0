"""A warp at the loom: the weave screen and its questions; takes touches and presses, hands commands on.

What became of a command comes back through `told`, on Kivy's thread.
"""

from __future__ import annotations

from functools import partial
from typing import Any

from companion.draft.cloth import Surface
from companion.draft.facing import Side
from companion.draft.treadling import TreadlingReading
from companion.present import help_topics, wording
from companion.present.asking import Elsewhere
from companion.present.deeds import NOTHING_TO_UNDO
from companion.present.fell import Picture
from companion.present.first_look import ask_first_look, is_undressed
from companion.present.note import NOTE_WORDS
from companion.present.tie_up import TieUpSigns
from companion.present.tie_up_now import tie_up_now
from companion.present.unweaving import ask_newest_out
from companion.present.weave import WeaveButton, WeavePart, WeaveSigns, weave_signs
from companion.screens.ask import AskScreen
from companion.screens.asking_at_loom import AskingAtLoom
from companion.screens.fell_drawn import FellDrawn
from companion.screens.loom_ends import LoomEnds
from companion.screens.surroundings import Surroundings
from companion.screens.weave import WeaveScreen
from companion.weaving.decide import pause, take_out
from companion.weaving.dressing import BACK_TO_FRONT
from companion.weaving.dressing_events import DressingTask
from companion.weaving.errors import WeavingError
from companion.weaving.onward import onward_tying_apart
from companion.weaving.pick_view import PickView
from companion.weaving.progress import Progress
from companion.weaving.sensing import FeetState, Judgement
from companion.weaving.telling import tell_sides
from companion.weaving.warp import Piece, Warp


class LoomPlace(AskingAtLoom):
    """One warp on the screen; FACE is the surface that lies up on the loom, whichever side that is.

    A question about the cloth always shows what lies up. `away_ms` is the time since the journal's last entry: after a
    break the first thing asked is whether the cloth looks right. Where treadles are to be tied, the list of cords
    stands before the pick; of a warp that nobody dressed or tied, what comes first in this `order`. `on_pause`: the
    weaver comes back to the page of a pause, where that was asked already.
    """

    own_topics = (help_topics.WEAVING,)

    def __init__(
        self,
        warp: Warp,
        progress: Progress,
        ends: LoomEnds,
        around: Surroundings,
        away_ms: int = 0,
        surface: Surface = Surface.FACE,
        on_pause: bool = False,
        order: tuple[DressingTask, ...] = BACK_TO_FRONT,
        **properties: Any,
    ) -> None:
        super().__init__(warp, progress, ends, around, away_ms, **properties)
        self._drawn = FellDrawn(warp, around.facing, surface)
        self._own = self.weave = WeaveScreen(self._signs(), around.look, around.sizes, mirrored=around.mirrored)
        self.weave.bind(
            on_next=lambda *_: ends.pressed() if ends.pressed else self.go_on(),
            on_action=lambda _screen, action: self.act(action),
            on_side=lambda _screen, side: self._shuttle_seen(Side(side)),
            on_part=lambda _screen, part: self._touch_part(part),
        )
        self.weave.ids.cloth.bind(size=lambda *_: self._show_cloth())
        self._drawn.name_surface(self.weave, progress)
        self.add_widget(self.weave)
        if is_undressed(warp, progress):
            self._ask(ask_first_look(warp, progress, order), at_pause=progress.now.paused)
        elif self._must_tie and not progress.now.cloth.picks:
            self._begin_tying()
        elif on_pause and progress.now.paused:
            self._ask_pause()
        elif progress.now.paused or progress.now.piece or progress.now.cloth.picks:
            self._coming_back = self._asked().coming_back(away_ms)
            self._ask(self._coming_back, at_pause=True)

    def begin(self) -> None:
        """The weaver comes from the dressing to weave: of a warp on which nothing lies yet nothing more is asked."""
        if self._coming_back is not None and not self._progress.now.cloth.picks:
            self._flow.go_on()

    @property
    def piece(self) -> Piece:
        """The piece on the loom."""
        return self._warp.pieces[self._progress.now.piece]

    @property
    def tie_up(self) -> TieUpSigns:
        """The tie-up of the piece on the loom, ready to be shown."""
        return self._said(tie_up_now(self._warp, self._progress))

    def go_on(self) -> None:
        """The weaver says "next"; to a question, that is its main answer, and to words half written it is nothing."""
        if self._flow.asking is not None:
            self._flow.go_on()
        elif self.cords is not None:
            self.cords.go_on()
        elif self._must_tie:
            self._show_cords()
        else:
            # A frame of the pick before would hold up that of the next.
            self.weave.ids.cloth.stop_sliding()
            self._ends.submit(onward_tying_apart)

    def act(self, action: WeaveButton) -> None:
        """The weaver touched a button at the foot of the screen, or tapped the pedal twice where that means one."""
        if action is WeaveButton.BACK:
            self._take_out()
        elif action is WeaveButton.TURN:
            self._turn_over()
        elif action is WeaveButton.PAUSE:
            self._ends.submit(pause)
        else:
            asked = self._asked().by_button(action, self._flow.half_written(NOTE_WORDS))
            if asked is None:
                self.say(NOTHING_TO_UNDO)
            else:
                self._ask(asked)

    def _take_out(self) -> None:
        """Show the shed of the newest pick, and the one below it once that is out, however the weaver says so."""
        if self._flow.asking is not None:
            # What else is asked is no cloth that lies before the weaver.
            if self._flow.asking.by_back is not None:
                self._flow.say_back()
            return
        try:
            self._ask(ask_newest_out(self._warp, self._progress))
        except WeavingError:
            # What is refused is told of like any other deed.
            self._ends.submit(take_out)

    def _touch_part(self, part: WeavePart) -> None:
        if part is WeavePart.CLOTH:
            self._turn_over()
        elif part is WeavePart.TREADLES:
            self._ends.leave_for(Elsewhere.TIE_UP)
        elif (asked := self._asked().by_part(part)) is not None:
            self._ask(asked)

    def escape(self) -> None:
        """Go one step back out of questions or cords; where nothing is asked, there is nothing to leave."""
        if self._flow.asking is not None:
            self._flow.go_back()
        elif self.cords is not None:
            self._show_own()

    def go_back(self) -> None:
        """The weaver says "back": one question back, out of the first one to the pick; else the newest pick comes out.

        First its shed is shown; there "back" says that it is out, and the shed of the pick below it is shown.
        """
        if self._flow.asking is not None:
            self._flow.say_back()
        elif self.cords is not None:
            self._show_own()
        else:
            self._take_out()

    def told(self, progress: Progress, view: PickView | None, line: str) -> None:
        """Show how things stand now, with the pick that is next, and a line for the weaver where there is one."""
        left_the_loom = progress.now.paused and not self._progress.now.paused
        another_piece = progress.now.piece != self._progress.now.piece
        number, lay = self._progress.now.number, self._progress.now.cloth.picks
        self._progress, self._view = progress, view
        self.weave.message, self.weave.alarm = self._said(line), ""
        self._mark_feet(None)
        self.weave.signs = self._signs()
        self._drawn.name_surface(self.weave, progress)
        self._show_cloth()
        cloth = self.weave.ids.cloth
        if self._around.motion and progress.now.cloth.picks == lay + 1:
            cloth.slide_in(self.weave.cloth_marked_share)
        else:
            cloth.stop_sliding()
            cloth.slide = 0.0
        if self.cords is not None:
            self._write_cords(line)
        if self._awaited:
            self._ask_on(number, line)
        elif another_piece and self._flow.asking is not None:
            # Whatever is asked is about cloth of the piece before.
            self._show_own()
        if left_the_loom:
            self._ask_pause()

    def take_reading(self, piece: int, reading: TreadlingReading) -> None:
        """Say from now on where in its repeats a pick of this piece stands."""
        super().take_reading(piece, reading)
        self.weave.signs = self._signs()

    def _signs(self) -> WeaveSigns:
        reading, around = self._readings.get(self._progress.now.piece), self._around
        return self._said(weave_signs(self._warp, self._progress, self._view, around.units, reading, around.over_under))

    def say(self, line: str) -> None:
        """Show a line until the next pick; it changes nothing."""
        super().say(line)
        self.weave.alarm = ""

    def show_feet(self, judgement: Judgement) -> None:
        """Show the feet's mistake, or that they stand right."""
        self._mark_feet(judgement)
        self.weave.alarm = wording.feet_words(judgement)

    def _shuttle_seen(self, side: Side) -> None:
        if self._view is not None:
            yarns = (self._view.yarn,)
            left = side is Side.LEFT
            self._ends.submit(partial(tell_sides, left=yarns if left else (), right=() if left else yarns))

    def _mark_feet(self, judgement: Judgement | None) -> None:
        harness = self.weave.ids.harness
        harness.wrong = [] if judgement is None else list(judgement.wrong)
        harness.missing = [] if judgement is None else list(judgement.missing)
        harness.feet_right = judgement is not None and judgement.feet is FeetState.RIGHT

    def feel(self, down: frozenset[int], at_s: float) -> None:
        """Sensors feel these treadles (indices from 0) down since `at_s` (monotonic seconds)."""
        self._ends.feel(down, at_s)

    def feel_beat(self, at_s: float) -> None:
        """The beater came: it weaves, but answers no question and ties no treadle."""
        if self.weaves:
            self._ends.beat(at_s)

    def _turn_over(self) -> None:
        self._drawn.turn_over()
        self._drawn.name_surface(self.weave, self._progress)
        self._show_cloth()
        self._ends.turned(self._drawn.surface)

    def _show_cloth(self) -> None:
        self._drawn.at_fell(self.weave, self._progress, self._view)

    def _draw_asked(self, ask: AskScreen) -> None:
        ask.draw_rows = self._draw_rows
        if ask.asked.with_cloth:
            self._drawn.beside(ask, self._progress)

    def _draw_rows(
        self, picks: tuple[int, ...], beside: list[tuple[int, ...]], width: float, height: float
    ) -> tuple[Picture, str]:
        return self._drawn.to_point_at(self._progress, picks, beside, width, height, self.weave.sizes.crossing)
