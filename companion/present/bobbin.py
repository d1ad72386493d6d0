"""The bobbin flow: which shuttle has a fresh bobbin, and how much yarn is on it, where that is known."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from companion.draft.unit_readings import yarn_reading
from companion.draft.units import Units
from companion.present.asking import Answer, Answered, Asked, AtLoom
from companion.present.number_pad import Wanted, ask_amount
from companion.weaving.decide import change_bobbin
from companion.weaving.progress import Progress
from companion.weaving.shuttles import weft_per_pick
from companion.weaving.warp import Warp

_MOST = 10_000
_PICKS_LEFT = "the length tells how many picks are left"
_LEARNED = "no width is told: woven up, it tells what a pick takes"


def bobbin_answers(warp: Warp, progress: Progress, units: Units) -> Iterator[Answer[AtLoom]]:
    """Yield an answer for each shuttle of the piece: `New bobbin: sand`."""
    piece = warp.pieces[progress.now.piece]
    for yarn in (one for one in piece.shuttles if one not in piece.hand_laid):
        name = piece.draft.yarns[yarn].name
        colour = piece.draft.yarns[yarn].colour
        yield Answer(f"New bobbin: {name}", partial(ask_bobbin, warp, progress, yarn, units), yarn=colour)


def ask_bobbin(warp: Warp, progress: Progress, yarn: int, units: Units) -> Asked[AtLoom]:
    """Ask how much of this yarn (index) is on a fresh bobbin, and say what the length will tell."""
    reading = yarn_reading(units)
    known = weft_per_pick(warp, progress.now.shuttles[yarn]) is not None
    wanted = Wanted(
        f"New bobbin, {warp.pieces[progress.now.piece].draft.yarns[yarn].name}",
        reading.sign,
        reading.least(0.1),
        _MOST,
        reading.decimals,
        meaning=_PICKS_LEFT if known else _LEARNED,
        topic="A new bobbin",
    )
    unknown: Answer[AtLoom] = Answer("Not known", partial(_note, yarn, None))

    def noted(number: float) -> Answered[AtLoom]:
        return _note(yarn, reading.amount(number))

    return ask_amount(wanted, noted, lambda _number: (unknown,))


def _note(yarn: int, metres: float | None) -> Answered[AtLoom]:
    return Answered((partial(change_bobbin, yarn=yarn, metres=metres),))
