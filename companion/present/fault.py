"""The fault flow: what is wrong, how far below the fell, and what becomes of it. Three touches at most."""

from __future__ import annotations

from functools import partial

from companion.present.asking import NEVER_MIND, Answer, Answered, Asked, AtLoom, Command
from companion.present.unweaving import take_out_words
from companion.weaving.decide import note_fault, settle_fault, take_out
from companion.weaving.events import FaultKind, FaultState
from companion.weaving.pick_view import rows_at_fell
from companion.weaving.progress import Progress
from companion.weaving.state import OpenFault
from companion.weaving.taking_out import taking_out
from companion.weaving.warp import Warp

MOST_OPEN_SHOWN = 3
"""Of the faults that wait to be mended, so many of the newest are offered to be settled."""
MOST_TAKEN_OUT = 5
"""So many picks to take out are listed at once; more are taken out one by one."""

_STATES = {"Mended": FaultState.MENDED, "Mend later": FaultState.FOUND, "Leave it": FaultState.LEFT}


def ask_fault(warp: Warp, progress: Progress) -> Asked[AtLoom]:
    """Ask what kind of fault the weaver sees."""
    if not rows_at_fell(warp, progress, 1):
        return Asked("No pick lies in the cloth yet", (Answer("Back to the pick", NEVER_MIND.leads_to, main=True),))
    kinds = [Answer(kind.value.capitalize(), partial(_ask_place, warp, progress, kind, 0)) for kind in FaultKind]
    return Asked("What is wrong?", (*kinds, *_settling(progress), NEVER_MIND))


def _settling(progress: Progress) -> list[Answer[AtLoom]]:
    """Return an answer for each of the newest faults that wait to be mended."""
    return [
        Answer(f"Fault {fault.number + 1} is settled", partial(_ask_settled, fault))
        for fault in progress.now.open_faults[-MOST_OPEN_SHOWN:]
    ]


def _ask_settled(fault: OpenFault) -> Asked[AtLoom]:
    answers = [
        Answer(words, partial(_settle, fault.number, state, how))
        for words, state, how in (
            ("Mended with a needle", FaultState.MENDED, "with a needle"),
            ("Taken out and woven anew", FaultState.MENDED, "taken out and woven anew"),
            ("Left as it is", FaultState.LEFT, ""),
        )
    ]
    return Asked(
        f"Fault {fault.number + 1}: {fault.kind.value} in pick {fault.pick + 1}",
        (*answers, NEVER_MIND),
        detail=f"what became of it? {fault.note}".strip(),
    )


def _settle(number: int, state: FaultState, how: str) -> Answered[AtLoom]:
    return Answered((partial(settle_fault, fault=number, state=state, note=how),))


def _ask_place(warp: Warp, progress: Progress, kind: FaultKind, below: int) -> Asked[AtLoom]:
    rows = rows_at_fell(warp, progress, below + 2)
    pick = rows[below].pick
    where = "the newest pick" if below == 0 else f"{below} below the newest pick"
    answers = [Answer(words, partial(_note, kind, pick, state)) for words, state in _STATES.items()]
    if below < MOST_TAKEN_OUT:
        answers.append(Answer("Unweave to it", partial(_ask_unwoven, warp, progress, kind, pick, below + 1)))
    if below + 1 < len(rows):
        answers.append(Answer("One row lower", partial(_ask_place, warp, progress, kind, below + 1)))
    if below:
        answers.append(Answer("One row higher", partial(_ask_place, warp, progress, kind, below - 1)))
    return Asked(
        f"{kind.value.capitalize()} in pick {pick + 1}",
        (*answers, NEVER_MIND),
        detail=where if below < MOST_TAKEN_OUT else f"{where}; to take picks out, use Back",
        with_cloth=True,
        top_pick=pick,
    )


def _ask_unwoven(warp: Warp, progress: Progress, kind: FaultKind, pick: int, picks: int) -> Asked[AtLoom]:
    """Show each shed to open and each shuttle to pull, newest first."""
    lines = tuple(take_out_words(step) for step in taking_out(warp, progress, picks))
    noted: Command = partial(note_fault, kind=kind, pick=pick, state=FaultState.MENDED, note="taken out to weave anew")
    out: tuple[Command, ...] = (take_out,) * picks
    words = "It is out" if picks == 1 else f"All {picks} are out"
    return Asked(
        "Open, and pull the shuttle back",
        (Answer(words, lambda: Answered((noted, *out)), main=True), NEVER_MIND),
        lines=lines,
    )


def _note(kind: FaultKind, pick: int, state: FaultState) -> Answered[AtLoom]:
    return Answered((partial(note_fault, kind=kind, pick=pick, state=state),))
