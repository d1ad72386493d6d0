"""The measure flow: how long the piece is now, as the tape says; nothing is written down that nobody has measured."""

from __future__ import annotations

from functools import partial

from companion.draft.unit_readings import length_reading
from companion.draft.units import Units, counted, picks_words, tape_words
from companion.present.asking import Answer, Answered, Asked, AtLoom, FlowStep, empty_slot, nothing
from companion.present.number_pad import Wanted, ask_amount
from companion.weaving.decide import measure
from companion.weaving.progress import Progress
from companion.weaving.state import picks_per_cm
from companion.weaving.warp import Warp

_FINEST_CM = 0.1
_LONGEST_CM = 100_000
DOUBTFUL = 1.5
"""So many times as long, or as short, as the picks should measure: asked for once more, as a slip of the finger is."""


def ask_measure(warp: Warp, progress: Progress, units: Units) -> Asked[AtLoom]:
    """Ask for the length of the cloth; what the picks in it should measure is said, and must be typed all the same."""
    picks = progress.now.cloth.picks
    if not picks:
        return Asked("No pick lies in the cloth yet", (Answer("Weave on", nothing, main=True),), topic="A length")
    reckoned_cm = _reckoned_cm(warp, progress)
    reading = length_reading(units)
    should_be = "" if reckoned_cm is None else f", by the picks about {tape_words(reckoned_cm, units)}"
    wanted = Wanted(
        "Woven",
        reading.sign,
        reading.least(_FINEST_CM),
        reading.most(_LONGEST_CM),
        reading.decimals,
        meaning=f"{counted(picks, 'pick')}{should_be}",
        topic="A length",
    )

    def answers(number: float | None) -> tuple[Answer[AtLoom], ...]:
        if number is None:
            return empty_slot(), empty_slot()
        cm = reading.amount(number)
        return (
            Answer("Under tension", partial(measured, warp, progress, units, cm), main=True),
            Answer("Relaxed", partial(measured, warp, progress, units, cm, False)),
        )

    def closeness(number: float) -> str:
        return picks_words(picks / reading.amount(number), units, ".1f")

    return ask_amount(wanted, None, answers, closeness)


def measured(warp: Warp, progress: Progress, units: Units, cm: float, under_tension: bool = True) -> FlowStep[AtLoom]:
    """Note a length, or ask once more where the picks should measure something else by far."""
    reckoned_cm = _reckoned_cm(warp, progress)
    if reckoned_cm is None or reckoned_cm / DOUBTFUL <= cm <= reckoned_cm * DOUBTFUL:
        return _note(cm, under_tension)
    return Asked(
        f"Is it really {tape_words(cm, units)}?",
        (
            # First, where the finger is: what is touched by mistake notes nothing.
            Answer("Measure again", partial(ask_measure, warp, progress, units)),
            Answer("Yes, it measures that", partial(_note, cm, under_tension)),
        ),
        detail=f"The picks in it should measure about {tape_words(reckoned_cm, units)}",
        topic="A length",
    )


def _reckoned_cm(warp: Warp, progress: Progress) -> float | None:
    """Return how long the picks in the cloth should be; None where nobody can know."""
    density = picks_per_cm(warp.pieces[progress.now.piece], progress.now)
    picks = progress.now.cloth.picks
    return picks / density if picks and density is not None else None


def _note(centimetres: float, under_tension: bool) -> Answered[AtLoom]:
    return Answered((partial(measure, centimetres=centimetres, under_tension=under_tension),))
