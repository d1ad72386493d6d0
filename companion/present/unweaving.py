"""Taking picks out of the cloth again, one large shed at a time; each pick is out on disk before the next is shown."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from companion.draft.masks import print_shed, shafts_of
from companion.draft.units import counted
from companion.present.asking import AndThen, Answer, Answered, Asked, AtLoom, Commands, nothing
from companion.present.button_words import WEAVE_ON
from companion.present.shed import shed_signs
from companion.present.wording import BETWEEN, footing_words, shed_words
from companion.remap.loom.loom import Footing
from companion.weaving.decide import Command, note_fault, settle_fault, take_out
from companion.weaving.events import FaultKind, FaultState
from companion.weaving.progress import Progress
from companion.weaving.taking_out import TakeOut, taking_out
from companion.weaving.warp import Warp

IT_IS_OUT = "It is out"
TAKEN_OUT = "taken out to weave again"
_STILL_WRONG = {
    FaultKind.BROKEN_END: "The end is to be tied in",
    FaultKind.SKIPPED_END: "Look why the end was skipped",
    FaultKind.OTHER: "Look whether it is put right",
}
"""What is left to do, of the kinds that picks taken out do not mend: only the weaver can say that it is done."""


def take_out_words(step: TakeOut) -> str:
    """Return how one pick comes out: `pick 7 · L 2 · shafts up: 1 3 · pull sand from the left to the right`."""
    feet = "" if step.footing is None else footing_words(step.footing)
    parts = (f"pick {step.pick + 1}", _tie_words(step), feet, shed_words(step.shed), _pull_words(step))
    return BETWEEN.join(part for part in parts if part)


def _tie_words(step: TakeOut) -> str:
    return "" if step.re_tie is None else f"tie stage {step.re_tie + 1} first"


def _pull_words(step: TakeOut) -> str:
    if step.laid_in:
        return f"draw {step.shuttle} out by hand"
    way = f"from the {step.pull_from.value} to the {step.pull_to.value}" if step.side_known else "back (side not known)"
    return f"pull {step.shuttle} {way}"


@dataclass(frozen=True, slots=True)
class FaultBelow:
    """A fault that picks are taken out for: so many with its own; `number` where it is noted already (from 0).

    `end` is its end (index) where one is known.
    """

    kind: FaultKind
    pick: int
    picks: int
    end: int | None = None
    number: int | None = None


def ask_out(fault: FaultBelow, warp: Warp, progress: Progress) -> Asked[AtLoom]:
    """Show the shed of the newest pick, large, and go on to the one below it until the fault is out.

    The fault is noted with the first pick that is out: who breaks off finds it open. With the last it is mended, unless
    the thread itself needs work (a broken end): then it is open until the weaver says that it is mended.
    """
    left = "the last one" if fault.picks == 1 else f"{fault.picks} picks with this one"
    return _shed_page(warp, progress, left, Answer(IT_IS_OUT, partial(_out, fault, progress)))


def ask_newest_out(warp: Warp, progress: Progress) -> Asked[AtLoom]:
    """Show the shed of the newest pick, large, and go on to the one below it until the weaver leaves.

    Raises WeavingError where no pick can be taken out.
    """
    take_out(warp, progress)
    lying = progress.now.cloth.picks
    out = AndThen((take_out,), ask_newest_out) if lying > 1 else (take_out,)
    left = f"{counted(lying, 'pick')} in the cloth"
    return _shed_page(warp, progress, left, Answer(IT_IS_OUT, lambda: Answered(out)))


def _shed_page(warp: Warp, progress: Progress, left: str, out: Answer[AtLoom]) -> Asked[AtLoom]:
    """Return the page of the newest pick; `left` tells how many picks there are to take out.

    By foot "back" goes on taking out and "next" leads to weaving, so that the pedal of who weaves takes out nothing.
    Each pick is a page of its own, which answers no finger at first: a double tap takes out one pick.
    """
    step = taking_out(warp, progress, 1)[0]
    piece = warp.pieces[progress.now.piece]
    tieup = piece.stages[stage].tieup if (stage := piece.stage_at(step.pick)) is not None else ()
    feet = "" if step.footing is None else f"{footing_words(step.footing)}{BETWEEN}"
    return Asked(
        _pull_words(step).capitalize(),
        (out,),
        detail=BETWEEN.join(part for part in (f"pick {step.pick + 1}", _tie_words(step), left) if part),
        lines=(f"{feet}open {'shaft' if len(shafts_of(step.shed)) == 1 else 'shafts'} {print_shed(step.shed)}",),
        harness=shed_signs(warp, piece, tieup, step.footing or Footing(), step.shed),
        foot=(Answer(WEAVE_ON, nothing, main=True),),
        by_back=out,
        topic="Taking out",
    )


def _out(fault: FaultBelow, progress: Progress) -> Answered[AtLoom]:
    number = progress.now.faults if fault.number is None else fault.number
    last, out_mends = fault.picks == 1, fault.kind not in _STILL_WRONG
    noted: Commands = ()
    if fault.number is None:
        state = FaultState.MENDED if last and out_mends else FaultState.FOUND
        note = TAKEN_OUT if last and out_mends else ""
        noted = (partial(note_fault, kind=fault.kind, pick=fault.pick, end=fault.end, state=state, note=note),)
    if not last:
        below = replace(fault, picks=fault.picks - 1, number=number)
        return Answered(AndThen((*noted, take_out), partial(ask_out, below)))
    if not out_mends:
        return Answered(AndThen((*noted, take_out), partial(ask_mended, number, fault.kind)))
    return Answered((*noted, take_out) if noted else (take_out, _mended(number)))


def _mended(number: int) -> Command:
    return partial(settle_fault, fault=number, state=FaultState.MENDED, note=TAKEN_OUT)


def ask_mended(number: int, kind: FaultKind, _warp: Warp, _progress: Progress) -> Asked[AtLoom]:
    """Ask whether the thread is seen to, now that the fault's pick is out; "next" says nothing and leaves it open."""
    return Asked(
        _STILL_WRONG[kind],
        (Answer("It is mended", lambda: Answered((_mended(number),))),),
        detail=f"fault {number + 1} stays open until you say that it is mended",
        foot=(Answer("Mend later", nothing, main=True),),
        topic="Taking out",
    )
