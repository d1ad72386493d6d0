"""The measure flow: how long the piece is now, from a first guess by the picks per cm; one touch where it is right."""

from __future__ import annotations

from functools import partial

from companion.draft.units import Units, counted, length_reading, on_dial, picks_words, usual_length
from companion.present.asking import Answer, Answered, Asked, AtLoom, empty_slot, nothing
from companion.present.number_pad import Wanted, ask_amount
from companion.weaving.decide import measure
from companion.weaving.progress import Progress
from companion.weaving.state import picks_per_cm
from companion.weaving.warp import Warp

_FINEST_CM = 0.1
_FIRST_GUESS_CM = 10
_LONGEST_CM = 100_000


def ask_measure(warp: Warp, progress: Progress, units: Units) -> Asked[AtLoom]:
    """Ask for the length of the cloth, beginning at what the picks in it should measure."""
    piece = warp.pieces[progress.now.piece]
    picks = progress.now.cloth.picks
    if not picks:
        return Asked("No pick lies in the cloth yet", (Answer("Weave on", nothing, main=True),))
    density = picks_per_cm(piece, progress.now)
    guess = on_dial(picks / density if density else usual_length(_FIRST_GUESS_CM, units), _FINEST_CM, units)
    reading = length_reading(units)
    least = reading.least(_FINEST_CM)
    wanted = Wanted(
        "Woven",
        reading.sign,
        least,
        reading.most(_LONGEST_CM),
        reading.decimals,
        reading.number(max(guess, reading.amount(least))),
        counted(picks, "pick"),
    )

    def answers(number: float | None) -> tuple[Answer[AtLoom], ...]:
        if number is None:
            return empty_slot(), empty_slot()
        cm = reading.amount(number)
        return (
            Answer("Under tension", partial(_note, cm, True), main=True),
            Answer("Relaxed", partial(_note, cm, False)),
        )

    def closeness(number: float) -> str:
        return picks_words(picks / reading.amount(number), units, ".1f")

    return ask_amount(wanted, None, answers, closeness)


def _note(centimetres: float, under_tension: bool) -> Answered[AtLoom]:
    return Answered((partial(measure, centimetres=centimetres, under_tension=under_tension),))
