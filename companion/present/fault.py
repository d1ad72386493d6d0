"""The fault flow: what is wrong, how far below the fell, and what becomes of it. Three touches at most."""

from __future__ import annotations

from functools import partial

from companion.present.asking import NEVER_MIND, Answer, Answered, Asked, AtLoom
from companion.weaving.decide import note_fault
from companion.weaving.events import FaultKind, FaultState
from companion.weaving.pick_view import rows_at_fell
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

_STATES = {"Mended": FaultState.MENDED, "Mend later": FaultState.FOUND, "Leave it": FaultState.LEFT}


def ask_fault(warp: Warp, progress: Progress) -> Asked[AtLoom]:
    """Ask what kind of fault the weaver sees."""
    if not rows_at_fell(warp, progress, 1):
        return Asked("No pick lies in the cloth yet", (Answer("Back to the pick", NEVER_MIND.leads_to, main=True),))
    kinds = [Answer(kind.value.capitalize(), partial(_ask_place, warp, progress, kind, 0)) for kind in FaultKind]
    return Asked("What is wrong?", (*kinds, NEVER_MIND))


def _ask_place(warp: Warp, progress: Progress, kind: FaultKind, below: int) -> Asked[AtLoom]:
    rows = rows_at_fell(warp, progress, below + 2)
    pick = rows[below].pick
    where = "the newest pick" if below == 0 else f"{below} below the newest pick"
    answers = [Answer(words, partial(_note, kind, pick, state)) for words, state in _STATES.items()]
    if below + 1 < len(rows):
        answers.append(Answer("One row lower", partial(_ask_place, warp, progress, kind, below + 1)))
    if below:
        answers.append(Answer("One row higher", partial(_ask_place, warp, progress, kind, below - 1)))
    return Asked(
        f"{kind.value.capitalize()} in pick {pick + 1}",
        (*answers, NEVER_MIND),
        detail=f"{where}; to take picks out, use Back",
        with_cloth=True,
        top_pick=pick,
    )


def _note(kind: FaultKind, pick: int, state: FaultState) -> Answered[AtLoom]:
    return Answered((partial(note_fault, kind=kind, pick=pick, state=state),))
