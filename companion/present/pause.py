"""The pause: a calm page with the name and the cloth of the warp, where it stands, and the ways on from here.

A pause that ends a session leads to the loom by the look at the fell that a start leads to: in that time a pick may
have been woven or taken out that nobody told.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from companion.draft.facing import Facing
from companion.draft.treadling import TreadlingReading
from companion.draft.units import Units
from companion.present.asking import Answer, Answered, Asked, AtLoom, Elsewhere, FlowStep
from companion.present.button_words import DRESS_LOOM, WEAVE_ON
from companion.present.dressing_words import to_mend_words
from companion.present.find import ask_place
from companion.present.icons import CLOTH, NOTE, SHUTTLE, TREADLE
from companion.present.loom_drawing import Shape
from companion.present.resume import ask_resume
from companion.present.sheet_page import ITS_SHEET
from companion.present.squares import SQUARES
from companion.present.weave_words import place_wordings, time_spent_words
from companion.present.wording import BETWEEN, last_words
from companion.weaving.coming_back import coming_back
from companion.weaving.decide import resume
from companion.weaving.dressing import to_mend
from companion.weaving.history import SESSION_GAP_MS
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp


def ask_pause(
    warp: Warp,
    progress: Progress,
    units: Units,
    facing: Facing,
    reading: TreadlingReading | None = None,
    squares: bool = False,
    away_ms: Callable[[], int] = lambda: 0,
) -> Asked[AtLoom]:
    """Ask where to go from a pause; at the end of a piece, what comes next.

    `reading` is the treadling of the piece on the loom read as repeats, where it is known yet. `squares`: the piece is
    a gamp. `away_ms` tells, whenever it is asked, the time since the journal's last entry.
    """
    view = this_pick(warp, progress)
    if view is None:
        return ask_resume(warp, progress, facing, units, 0, squares)

    def weave_on() -> FlowStep[AtLoom]:
        away = away_ms()
        if away <= SESSION_GAP_MS or not progress.now.cloth.picks:
            return Answered((resume,))
        return ask_resume(warp, progress, facing, units, away, squares)

    on: Answer[AtLoom] = Answer(WEAVE_ON, weave_on, main=True, icon=SHUTTLE)
    where = place_wordings(view, units, None if reading is None else reading.place(view.pick))[0]
    last = last_words(coming_back(warp, progress, progress.now.at_ms).last)
    waiting = to_mend_words(to_mend(progress.now.dressing))
    told = (waiting, f"next: {where}", last, time_spent_words(progress.now))
    return Asked(
        warp.name,
        (
            on,
            Answer("Find my place", partial(ask_place, warp, progress, facing, units), icon=CLOTH),
            _elsewhere("See the record", Elsewhere.RECORD, icon=NOTE),
            _elsewhere("Tie-up", Elsewhere.TIE_UP, icon=TREADLE),
            _elsewhere("Settings", Elsewhere.SETTINGS),
            _elsewhere("Another warp", Elsewhere.OTHER_WARP),
        ),
        detail=BETWEEN.join(part for part in told if part),
        with_cloth=True,
        # Before anything is woven the warp may not even be threaded.
        foot=(
            *(() if progress.now.woven else (_elsewhere(DRESS_LOOM, Elsewhere.DRESSING),)),
            _elsewhere(ITS_SHEET, Elsewhere.SHEET),
            *((_elsewhere(SQUARES, Elsewhere.SQUARES),) if squares else ()),
            Answer("Switch off", _ask_switch_off),
        ),
        own=(warp.name,),
        topic="Pause",
    )


def _ask_switch_off() -> Asked[AtLoom]:
    return Asked(
        "Switch off?",
        (_elsewhere("Switch off", Elsewhere.SWITCHED_OFF, main=True),),
        detail="Every pick is on disk; the next start asks whether the cloth looks right",
    )


def _elsewhere(words: str, where: Elsewhere, main: bool = False, icon: tuple[Shape, ...] = ()) -> Answer[AtLoom]:
    return Answer(words, lambda: Answered(where), main, icon=icon)
