"""The measure flow: how long the piece is now, from a first guess by the picks per cm; one touch where it is right."""

from __future__ import annotations

from functools import partial

from companion.draft.units import Units, dial_words, length_step, length_words, on_dial, picks_words, tidy, usual_length
from companion.present.asking import NEVER_MIND, Answer, Answered, Asked, AtLoom, empty_slot
from companion.weaving.decide import measure
from companion.weaving.progress import Progress
from companion.weaving.state import picks_per_cm
from companion.weaving.warp import Warp

_STEPS_CM = (10, 1, 0.1)
_FINEST_CM = _STEPS_CM[-1]
_FIRST_GUESS_CM = 10


def ask_measure(warp: Warp, progress: Progress, units: Units) -> Asked[AtLoom]:
    """Ask for the length of the cloth, beginning at what the picks in it should measure."""
    piece = warp.pieces[progress.now.piece]
    picks = progress.now.cloth.picks
    if not picks:
        return Asked("No pick lies in the cloth yet", (Answer("Back to the pick", NEVER_MIND.leads_to, main=True),))
    density = picks_per_cm(piece, progress.now)
    guess = on_dial(picks / density if density else usual_length(_FIRST_GUESS_CM, units), _FINEST_CM, units)
    return _ask(picks, max(guess, length_step(_FINEST_CM, units)), units)


def _ask(picks: int, cm: float, units: Units) -> Asked[AtLoom]:
    steps = [length_step(step, units) for step in _STEPS_CM]
    answers = [
        Answer(f"{'+' if step > 0 else '−'} {length_words(abs(step), units)}", partial(_ask, picks, to, units))
        if (to := tidy(cm + step)) > 0
        else empty_slot()
        for step in (*steps, *(-step for step in reversed(steps)))
    ]
    return Asked(
        f"{dial_words(cm, units)} woven?",
        (
            Answer("Under tension", partial(_note, cm, True), main=True),
            Answer("Relaxed", partial(_note, cm, False)),
            *answers,
            NEVER_MIND,
        ),
        detail=f"{picks} picks from the start of the piece: {picks_words(picks / cm, units, '.1f')}",
        bit_by_bit="length",
    )


def _note(centimetres: float, under_tension: bool) -> Answered[AtLoom]:
    return Answered((partial(measure, centimetres=centimetres, under_tension=under_tension),))
