"""The fault flow: what is wrong, how far below the fell, and what becomes of it. Three touches at most.

Which end is broken or skipped can be said too; who does not know, or cannot be bothered, touches nothing more for it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from companion.draft.facing import Facing
from companion.present.asking import Answer, Answered, Asked, AtLoom, empty_slot, nothing
from companion.present.fell import MOST_ROWS_DRAWN
from companion.present.unweaving import take_out_words
from companion.present.which_end import ask_end, end_words
from companion.weaving.decide import Command, note_fault, settle_fault, take_out
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

_OF_AN_END = frozenset({FaultKind.BROKEN_END, FaultKind.SKIPPED_END})
_STATES = {"Mended": FaultState.MENDED, "Mend later": FaultState.FOUND, "Leave it": FaultState.LEFT}


def ask_fault(warp: Warp, progress: Progress, facing: Facing) -> Asked[AtLoom]:
    """Ask what kind of fault the weaver sees."""
    if not rows_at_fell(warp, progress, 1):
        return Asked("No pick lies in the cloth yet", (Answer("Weave on", nothing, main=True),))
    kinds = [
        Answer(kind.value.capitalize(), partial(_ask_place, warp, progress, facing, _Seen(kind))) for kind in FaultKind
    ]
    return Asked("What is wrong?", (*kinds, *_settling(progress, facing)))


def _settling(progress: Progress, facing: Facing) -> list[Answer[AtLoom]]:
    """Return an answer for each of the newest faults that wait to be mended."""
    return [
        Answer(f"Fault {fault.number + 1} is settled", partial(_ask_settled, fault, facing))
        for fault in progress.now.open_faults[-MOST_OPEN_SHOWN:]
    ]


def _ask_settled(fault: OpenFault, facing: Facing) -> Asked[AtLoom]:
    answers = [
        Answer(words, partial(_settle, fault.number, state, how))
        for words, state, how in (
            ("Mended with a needle", FaultState.MENDED, "with a needle"),
            ("Taken out and woven anew", FaultState.MENDED, "taken out and woven anew"),
            ("Left as it is", FaultState.LEFT, ""),
        )
    ]
    end = "" if fault.end is None else f", end {fault.end + 1} from the {facing.first_end.value},"
    return Asked(
        f"Fault {fault.number + 1}: {fault.kind.value}{end} in pick {fault.pick + 1}",
        tuple(answers),
        detail=f"what became of it? {fault.note}".strip(),
    )


def _settle(number: int, state: FaultState, how: str) -> Answered[AtLoom]:
    return Answered((partial(settle_fault, fault=number, state=state, note=how),))


@dataclass(frozen=True, slots=True)
class _Seen:
    """The fault so far: its kind, how many picks below the newest it lies, and its end (index) where given."""

    kind: FaultKind
    below: int = 0
    end: int | None = None


def _ask_place(warp: Warp, progress: Progress, facing: Facing, seen: _Seen) -> Asked[AtLoom]:
    rows = tuple(row.pick for row in rows_at_fell(warp, progress, seen.below + MOST_ROWS_DRAWN))[seen.below :]
    draft = warp.pieces[progress.now.piece].draft
    where = "the newest pick" if seen.below == 0 else f"{seen.below} below the newest pick"
    answers = [Answer(words, partial(_note, seen, rows[0], state)) for words, state in _STATES.items()]

    def at_row(words: str, below: int) -> Answer[AtLoom]:
        return Answer(words, partial(_ask_place, warp, progress, facing, replace(seen, below=below)))

    out: Answer[AtLoom] = Answer("Unweave to it", partial(_ask_unwoven, warp, progress, seen, rows[0]))
    answers += [
        out if seen.below < MOST_TAKEN_OUT else empty_slot(),
        at_row("One row lower", seen.below + 1) if len(rows) > 1 else empty_slot(),
        at_row("One row higher", seen.below - 1) if seen.below else empty_slot(),
    ]

    def with_end(end: int) -> Asked[AtLoom]:
        return _ask_place(warp, progress, facing, replace(seen, end=end))

    if seen.kind in _OF_AN_END:
        words = "Say which end" if seen.end is None else "Another end"
        answers.append(Answer(words, partial(ask_end, draft, facing, with_end)))
    what = seen.kind.value if seen.end is None else f"{seen.kind.value}, {end_words(draft, seen.end, facing)},"
    return Asked(
        f"{what.capitalize()} in pick {rows[0] + 1}",
        tuple(answers),
        detail=where if seen.below < MOST_TAKEN_OUT else f"{where}; to take picks out, touch Take out",
        with_cloth=True,
        rows=rows,
        bit_by_bit="fault",
    )


def _ask_unwoven(warp: Warp, progress: Progress, seen: _Seen, pick: int) -> Asked[AtLoom]:
    """Show each shed to open and each shuttle to pull, newest first."""
    picks = seen.below + 1
    lines = tuple(take_out_words(step) for step in taking_out(warp, progress, picks))
    noted: Command = partial(
        note_fault, kind=seen.kind, pick=pick, end=seen.end, state=FaultState.MENDED, note="taken out to weave anew"
    )
    out: tuple[Command, ...] = (take_out,) * picks
    words = "It is out" if picks == 1 else f"All {picks} are out"
    return Asked(
        "Open, and pull the shuttle back",
        (Answer(words, lambda: Answered((noted, *out)), main=True),),
        lines=lines,
    )


def _note(seen: _Seen, pick: int, state: FaultState) -> Answered[AtLoom]:
    return Answered((partial(note_fault, kind=seen.kind, pick=pick, end=seen.end, state=state),))
