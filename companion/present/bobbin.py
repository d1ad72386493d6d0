"""The bobbin flow: which shuttle has a fresh bobbin, and how much yarn is on it, where that is known."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from companion.draft.units import Units, tidy, yarn_step, yarn_words
from companion.present.asking import NEVER_MIND, Answer, Answered, Asked, AtLoom, empty_slot
from companion.weaving.decide import change_bobbin
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

_STEPS_M = (20, 5, 1, -1, -5, -20)
"""How far the dial goes at a touch, in metres, or in as many yards."""
_FIRST_GUESS_M = 20


def bobbin_answers(warp: Warp, progress: Progress, units: Units) -> Iterator[Answer[AtLoom]]:
    """Yield an answer for each shuttle of the piece: `New bobbin: sand`."""
    draft = warp.pieces[progress.now.piece].draft
    for yarn in draft.shuttles():
        name = draft.yarns[yarn].name
        yield Answer(f"New bobbin: {name}", partial(_ask_length, yarn, name, yarn_step(_FIRST_GUESS_M, units), units))


def _ask_length(yarn: int, name: str, metres: float, units: Units) -> Asked[AtLoom]:
    steps = [
        Answer(
            f"{'+' if step > 0 else '−'} {yarn_words(abs(step), units)}", partial(_ask_length, yarn, name, to, units)
        )
        if (to := tidy(metres + step)) > 0
        else empty_slot()
        for step in (yarn_step(step, units) for step in _STEPS_M)
    ]
    return Asked(
        f"{yarn_words(metres, units)} of {name} on it?",
        (
            Answer("Yes", partial(_note, yarn, metres), main=True),
            Answer("Not known", partial(_note, yarn, None)),
            *steps,
            NEVER_MIND,
        ),
        detail="a length that you know tells how many picks are left on the bobbin",
        bit_by_bit="bobbin",
    )


def _note(yarn: int, metres: float | None) -> Answered[AtLoom]:
    return Answered((partial(change_bobbin, yarn=yarn, metres=metres),))
