"""The measure flow: how long the piece is now, from a first guess by the picks per cm; one touch where it is right."""

from __future__ import annotations

from functools import partial

from companion.draft.units import length_words, measured_words, picks_words
from companion.present.asking import NEVER_MIND, Answer, Answered, Asked, AtLoom, empty_slot
from companion.weaving.decide import measure
from companion.weaving.progress import Progress
from companion.weaving.state import picks_per_cm
from companion.weaving.warp import Warp

_STEPS_MM = (100, 10, 1, -1, -10, -100)


def ask_measure(warp: Warp, progress: Progress) -> Asked[AtLoom]:
    """Ask for the length of the cloth, beginning at what the picks in it should measure."""
    piece = warp.pieces[progress.now.piece]
    picks = progress.now.cloth.picks
    if not picks:
        return Asked("No pick lies in the cloth yet", (Answer("Back to the pick", NEVER_MIND.leads_to, main=True),))
    density = picks_per_cm(piece, progress.now)
    return _ask(picks, round(10 * picks / density) if density else 100)


def _ask(picks: int, millimetres: int) -> Asked[AtLoom]:
    centimetres = millimetres / 10
    steps = [
        Answer(f"{'+' if step > 0 else '−'} {length_words(abs(step) / 10)}", partial(_ask, picks, millimetres + step))
        if millimetres + step > 0
        else empty_slot()
        for step in _STEPS_MM
    ]
    return Asked(
        f"{measured_words(centimetres)} woven?",
        (
            Answer("Under tension", partial(_note, centimetres, True), main=True),
            Answer("Relaxed", partial(_note, centimetres, False)),
            *steps,
            NEVER_MIND,
        ),
        detail=f"{picks} picks from the start of the piece: {picks_words(picks / centimetres, '.1f')}",
        bit_by_bit="length",
    )


def _note(centimetres: float, under_tension: bool) -> Answered[AtLoom]:
    return Answered((partial(measure, centimetres=centimetres, under_tension=under_tension),))
