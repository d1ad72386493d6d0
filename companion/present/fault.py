"""The fault flow: what is wrong, how far below the fell, and what becomes of it. Three touches at most.

Which end is broken or skipped can be said too; who does not know, or cannot be bothered, touches nothing more for it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from companion.draft.facing import Facing, Side
from companion.present.asking import Answer, Answered, Asked, AtLoom, Commands, empty_slot
from companion.present.dressing_to_mend import to_mend_rows
from companion.present.fell import MOST_ROWS_DRAWN
from companion.present.loom_fault import ask_of_loom
from companion.present.of_loom import of_loom_words
from companion.present.unweaving import FaultBelow, ask_out
from companion.present.which_end import ask_end, end_words
from companion.present.wording import BETWEEN
from companion.weaving.decide import note_fault, settle_fault
from companion.weaving.events import FaultKind, FaultState
from companion.weaving.pick_view import rows_at_fell
from companion.weaving.progress import Progress
from companion.weaving.state import OpenFault
from companion.weaving.warp import Warp

MOST_OPEN_SHOWN = 3
"""Of the faults that wait to be mended, so many of the newest are offered to be settled."""

_OF_AN_END = frozenset({FaultKind.BROKEN_END, FaultKind.SKIPPED_END})
_STATES = {"Mended": FaultState.MENDED, "Mend later": FaultState.FOUND, "Leave it": FaultState.LEFT}


def ask_fault(warp: Warp, progress: Progress, facing: Facing) -> Asked[AtLoom]:
    """Ask what kind of fault the weaver sees; while no pick lies in the cloth, only the loom can be wrong."""
    kinds = [
        Answer(kind.value.capitalize(), partial(_ask_place, warp, progress, facing, _Seen(kind)))
        for kind in FaultKind
        if not kind.of_loom and rows_at_fell(warp, progress, 1)
    ]
    loom: Answer[AtLoom] = Answer("Threading, sleying, tie-up", partial(ask_of_loom, facing, warp, progress))
    waiting = (*to_mend_rows(warp, progress.now.dressing, _ends), *_settling(warp, progress, facing))
    return Asked("What is wrong?", (*kinds, loom, *waiting), topic="A fault")


def _ends(commands: Commands) -> Answered[AtLoom]:
    return Answered(commands)


def _settling(warp: Warp, progress: Progress, facing: Facing) -> list[Answer[AtLoom]]:
    """Return an answer for each of the newest faults that wait to be mended."""
    return [
        Answer(f"Fault {fault.number + 1} is settled", partial(_ask_settled, warp, progress, facing, fault))
        for fault in progress.now.open_faults[-MOST_OPEN_SHOWN:]
    ]


def _ask_settled(warp: Warp, progress: Progress, facing: Facing, fault: OpenFault) -> Asked[AtLoom]:
    hows: tuple[tuple[str, FaultState, str], ...] = (
        ("Mended with a needle", FaultState.MENDED, "with a needle"),
        ("Taken out and woven again", FaultState.MENDED, "taken out and woven again"),
        ("Left as it is", FaultState.LEFT, ""),
    )
    if fault.kind.of_loom:
        hows = (("Mended", FaultState.MENDED, ""), hows[-1])
    answers = [Answer(words, partial(_settle, fault.number, state, how)) for words, state, how in hows]
    lying = list(progress.now.cloth.newest_first()) if fault.piece == progress.now.piece else []
    if fault.pick in lying and not fault.kind.of_loom:
        below = FaultBelow(fault.kind, fault.pick, lying.index(fault.pick) + 1, fault.end, fault.number)
        answers.append(Answer("Unweave to it", partial(ask_out, below, warp, progress)))
    end = "" if fault.end is None else f", end {fault.end + 1} from the {facing.first_end.value},"
    what = f"{fault.kind.value}{end} in pick {fault.pick + 1}"
    if fault.kind.of_loom:
        draft = warp.pieces[fault.piece].draft
        what = of_loom_words(draft, fault.kind, fault.end, fault.shaft, fault.treadle)
    return Asked(
        f"Fault {fault.number + 1}: {what}",
        tuple(answers),
        detail=f"what became of it? {fault.note}".strip(),
    )


def _settle(number: int, state: FaultState, how: str) -> Answered[AtLoom]:
    return Answered((partial(settle_fault, fault=number, state=state, note=how),))


@dataclass(frozen=True, slots=True)
class _Seen:
    """The fault so far: its kind, how many picks below the newest, its end (index), and from where that was `said`."""

    kind: FaultKind
    below: int = 0
    end: int | None = None
    said: Side | None = None


def _ask_place(warp: Warp, progress: Progress, facing: Facing, seen: _Seen) -> Asked[AtLoom]:
    lying = tuple(row.pick for row in rows_at_fell(warp, progress, seen.below + MOST_ROWS_DRAWN))
    pick = lying[seen.below]
    draft = warp.pieces[progress.now.piece].draft
    where = "the newest pick" if seen.below == 0 else f"{seen.below} below the newest pick"
    if len(lying) > 1:
        where += f"{BETWEEN}touch the row that is wrong"
    answers = [Answer(words, partial(_note, seen, pick, state)) for words, state in _STATES.items()]

    def in_row(below: int) -> Asked[AtLoom]:
        return _ask_place(warp, progress, facing, replace(seen, below=below))

    def at_row(words: str, below: int) -> Answer[AtLoom]:
        return Answer(words, partial(in_row, below))

    below = FaultBelow(seen.kind, pick, seen.below + 1, seen.end)
    answers += [
        Answer("Unweave to it", partial(ask_out, below, warp, progress)),
        at_row("One row lower", seen.below + 1) if len(lying) > seen.below + 1 else empty_slot(),
        at_row("One row higher", seen.below - 1) if seen.below else empty_slot(),
    ]

    def with_end(end: int, said: Side) -> Asked[AtLoom]:
        return _ask_place(warp, progress, facing, replace(seen, end=end, said=said))

    if seen.kind in _OF_AN_END:
        words = "Say which end" if seen.end is None else "Another end"
        answers.append(Answer(words, partial(ask_end, draft, facing, with_end)))
    what = (
        seen.kind.value if seen.end is None else f"{seen.kind.value}, {end_words(draft, seen.end, facing, seen.said)},"
    )
    return Asked(
        f"{what.capitalize()} in pick {pick + 1}",
        tuple(answers),
        detail=where,
        with_cloth=True,
        rows=lying,
        marked=seen.below,
        by_row=in_row,
        bit_by_bit="fault",
    )


def _note(seen: _Seen, pick: int, state: FaultState) -> Answered[AtLoom]:
    return Answered((partial(note_fault, kind=seen.kind, pick=pick, end=seen.end, state=state),))
