"""The flow of what is wrong with the loom: an end on a wrong shaft or in a wrong dent, a treadle on wrong shafts.

Each says what mending needs before it asks what becomes of it. The tie-up is checked treadle by treadle, each shed
large.
"""

from __future__ import annotations

from functools import partial

from companion.draft.facing import Facing, Side
from companion.present.asking import AndThen, Answer, Answered, Asked, AtLoom, Commands, FlowStep, nothing
from companion.present.of_loom import of_loom_words, sleying_mend_lines, threading_mend_lines
from companion.present.shed import shed_signs
from companion.present.which_end import ask_end, end_counted
from companion.present.wording import shed_words
from companion.remap.loom.loom import Footing, TieUp
from companion.weaving.decide import note_fault
from companion.weaving.events import FaultKind, FaultState
from companion.weaving.mending import ends_to_selvedge, mend_threading
from companion.weaving.progress import Progress
from companion.weaving.state import tieup_on
from companion.weaving.trial_weave import treadle_sheds
from companion.weaving.warp import Warp

_STATES = {"Mended": FaultState.MENDED, "Mend later": FaultState.FOUND, "Leave it": FaultState.LEFT}


def ask_of_loom(facing: Facing, warp: Warp, progress: Progress) -> Asked[AtLoom]:
    """Ask what of the loom is wrong."""
    draft = warp.pieces[progress.now.piece].draft

    def threaded(end: int, said: Side) -> FlowStep[AtLoom]:
        return _ask_shaft(warp, progress, facing, end, said)

    def sleyed(end: int, said: Side) -> FlowStep[AtLoom]:
        lines = sleying_mend_lines(ends_to_selvedge(draft, end))
        return _ask_state(warp, progress, facing, FaultKind.SLEYING, lines, end, said)

    answers: list[Answer[AtLoom]] = [
        Answer("An end on a wrong shaft", partial(ask_end, draft, facing, threaded)),
        Answer("An end in a wrong dent", partial(ask_end, draft, facing, sleyed)),
    ]
    if treadle_sheds(warp, draft, _tieup(warp, progress)):
        answers.append(Answer("A treadle pulls wrong shafts", partial(_check_treadle, 0, warp, progress)))
    return Asked("What of the loom is wrong?", tuple(answers))


def _ask_shaft(warp: Warp, progress: Progress, facing: Facing, end: int, said: Side) -> Asked[AtLoom]:
    draft = warp.pieces[progress.now.piece].draft
    belongs = draft.threading[end]

    def found_on(shaft: int) -> Asked[AtLoom]:
        lines = threading_mend_lines(mend_threading(draft, end, shaft))
        return _ask_state(warp, progress, facing, FaultKind.THREADING, lines, end, said, shaft)

    shafts = [shaft for shaft in range(warp.loom.loom.shafts) if shaft != belongs]
    where = "on no shaft" if belongs is None else f"on shaft {belongs + 1}"
    return Asked(
        f"On which shaft is {end_counted(draft, end, facing, said)}?",
        tuple(Answer(f"Shaft {shaft + 1}", partial(found_on, shaft)) for shaft in shafts),
        detail=f"it belongs {where}",
    )


def _ask_state(
    warp: Warp,
    progress: Progress,
    facing: Facing,
    kind: FaultKind,
    lines: tuple[str, ...],
    end: int,
    said: Side,
    shaft: int | None = None,
) -> Asked[AtLoom]:
    draft = warp.pieces[progress.now.piece].draft
    words = of_loom_words(draft, kind, end, shaft, None)
    noted = partial(note_fault, kind=kind, pick=_pick(progress), end=end, shaft=shaft)
    return Asked(
        words.capitalize(),
        tuple(Answer(said, partial(_noted, (partial(noted, state=state),))) for said, state in _STATES.items()),
        detail=f"{end_counted(draft, end, facing, said)}; what becomes of it?",
        lines=lines,
    )


def _noted(commands: Commands) -> Answered[AtLoom]:
    return Answered(commands)


def _pick(progress: Progress) -> int:
    """Return the pick (index) at which it was seen: the newest, or the first where none lies in the cloth."""
    newest = progress.now.cloth.newest
    return 0 if newest is None else newest


def _tieup(warp: Warp, progress: Progress) -> TieUp:
    """Return the tie-up that should be on the loom for the pick that is next."""
    piece = warp.pieces[progress.now.piece]
    stage = piece.stage_at(min(progress.now.next_pick, piece.picks - 1))
    return (piece.stages[stage].tieup if stage is not None else tieup_on(warp, progress.now)) or ()


def _check_treadle(number: int, warp: Warp, progress: Progress) -> Asked[AtLoom]:
    """Show the shed that one tied treadle (by its number in the list, from 0) opens, large, and ask whether it does."""
    piece, tieup = warp.pieces[progress.now.piece], _tieup(warp, progress)
    sheds = treadle_sheds(warp, piece.draft, tieup)
    if number >= len(sheds):
        done: Answer[AtLoom] = Answer("Weave on", nothing, main=True)
        return Asked("Every treadle is looked at", (done,), detail="what was wrong is noted with the faults")
    shed = sheds[number]
    (treadle,) = shed.pressed
    following = partial(_check_treadle, number + 1)

    def wrong(state: FaultState) -> Answered[AtLoom]:
        noted = partial(note_fault, kind=FaultKind.TIE_UP, pick=_pick(progress), treadle=treadle, state=state)
        return Answered(AndThen((noted,), following))

    return Asked(
        f"Does treadle {treadle + 1} open this shed?",
        (
            Answer("Yes", partial(following, warp, progress), main=True),
            Answer("No: re-tied now", partial(wrong, FaultState.MENDED)),
            Answer("No: mend later", partial(wrong, FaultState.FOUND)),
        ),
        detail=f"{number + 1} of {len(sheds)} treadles",
        lines=(f"{shed_words(shed.up)}, and no other",),
        harness=shed_signs(warp, piece, tieup, Footing((treadle,)), shed.up),
        bit_by_bit="treadle",
    )
