"""What the weaver can do: each command looks at the progress and returns the event, or raises WeavingError.

Every command takes the warp and the progress first, so that one with its own arguments given
(`functools.partial(jump, pick=12)`) is carried out like any other.
"""

from __future__ import annotations

from collections.abc import Callable

from companion.draft.units import Amount, tape_words, yarn_words
from companion.weaving.bounds import (
    LONGEST_BOBBIN_M,
    LONGEST_CM,
    SHORTEST_CM,
    short_enough,
)
from companion.weaving.cord_list import cord_list
from companion.weaving.errors import ContradictionError, WeavingError
from companion.weaving.events import (
    BobbinChanged,
    Event,
    FaultKind,
    FaultNoted,
    FaultSettled,
    FaultState,
    Jumped,
    LengthMeasured,
    NearMiss,
    NoteWritten,
    Paused,
    PickTakenOut,
    PickWoven,
    PieceFinished,
    PieceStarted,
    Resumed,
    ReTied,
    TieUpAccepted,
    TreadleTied,
    Undone,
)
from companion.weaving.progress import TRAIL, Progress, without
from companion.weaving.state import re_tie_due
from companion.weaving.warp import Piece, Warp

Command = Callable[[Warp, Progress], Event]
"""What the weaver asks for: a function of this module or of `telling`, its own arguments already given."""
_SOME_CM = 12.5
"""A length as an example, in cm."""
APART = (NoteWritten, LengthMeasured, BobbinChanged, FaultNoted)
"""Events that can be taken back out of turn: they stand beside the picks."""


def weave_pick(warp: Warp, progress: Progress) -> PickWoven:
    """Return the event of the next pick woven and beaten."""
    piece = on_the_loom(warp, progress)
    now = progress.now
    if now.next_pick >= piece.picks:
        raise WeavingError(f"the last pick of {piece.name} is woven; finish the piece, or jump to weave more")
    if (stage := re_tie_due(warp, now)) is not None:
        raise WeavingError(
            f"pick {now.next_pick + 1} needs another tie-up: tie stage {stage + 1} of {len(piece.stages)}, then say so"
        )
    return PickWoven(now.next_pick)


def take_out(warp: Warp, progress: Progress) -> PickTakenOut:
    """Return the event of the newest pick taken out."""
    piece = on_the_loom(warp, progress)
    newest = progress.now.cloth.newest
    if newest is None:
        raise WeavingError(f"no pick of {piece.name} lies in the cloth, so there is none to take out")
    return PickTakenOut(newest)


def note_near_miss(
    warp: Warp, progress: Progress, wrong: tuple[int, ...] = (), missing: tuple[int, ...] = ()
) -> NearMiss:
    """Return the event of a warning before the beat: treadles (indices) that were down wrongly, and that were not."""
    piece = on_the_loom(warp, progress)
    if progress.now.next_pick >= piece.picks:
        raise WeavingError(f"the last pick of {piece.name} is woven; no treadle is wrong now")
    if not wrong and not missing:
        raise WeavingError("a near miss without a treadle; name one that was wrong or missing")
    return NearMiss(progress.now.next_pick, wrong, missing)


def jump(warp: Warp, progress: Progress, pick: int, reason: str = "") -> Jumped:
    """Return the event of setting the place: `pick` (index) is next; the number of picks means the end."""
    piece = on_the_loom(warp, progress)
    if not 0 <= pick <= piece.picks:
        raise WeavingError(f"{piece.name} has no pick {pick + 1}; give 1 to {piece.picks}")
    return Jumped(pick, reason)


def skip(warp: Warp, progress: Progress, picks: int = 1) -> Jumped:
    """Return the event of leaving out the next `picks` picks."""
    if picks < 1:
        raise WeavingError(f"cannot skip {picks} picks; give 1 or more")
    return jump(warp, progress, progress.now.next_pick + picks, "skipped")


def end_section(warp: Warp, progress: Progress) -> Jumped:
    """Return the event of going on to the section after the one that is next, whatever is left of it."""
    piece = on_the_loom(warp, progress)
    if progress.now.next_pick >= piece.picks:
        raise WeavingError(f"the last section of {piece.name} is woven; there is none after it")
    section = piece.section_at(progress.now.next_pick)
    return Jumped(piece.section_picks(section).stop, "section ended")


def repeat_section(warp: Warp, progress: Progress) -> Jumped:
    """Return the event of weaving once more the section whose last pick lies newest in the cloth."""
    piece = on_the_loom(warp, progress)
    newest = progress.now.cloth.newest
    if newest is None:
        raise WeavingError("no section is woven yet, so there is none to repeat")
    section = piece.section_at(newest)
    picks = piece.section_picks(section)
    if newest + 1 != picks.stop:
        left = picks.stop - 1 - newest
        raise WeavingError(
            f"section {piece.sections[section].name!r} is not finished; weave its last {left} picks, then repeat it"
        )
    return Jumped(picks.start, "section once more", anew=piece.sections[section].until_cm is not None)


def finish_piece(warp: Warp, progress: Progress) -> PieceFinished:
    """Return the event of ending the piece here, at its last pick or early."""
    on_the_loom(warp, progress)
    return PieceFinished()


def start_piece(warp: Warp, progress: Progress) -> PieceStarted:
    """Return the event of beginning the next piece, after the one on the loom was finished."""
    now = progress.now
    if not now.finished:
        raise WeavingError(f"{warp.pieces[now.piece].name} is on the loom; finish it before the next piece")
    if now.piece + 1 >= len(warp.pieces):
        raise WeavingError(f"{warp.pieces[now.piece].name} is the last piece of warp {warp.name!r}")
    return PieceStarted(now.piece + 1)


def note_fault(
    warp: Warp,
    progress: Progress,
    kind: FaultKind,
    pick: int,
    end: int | None = None,
    state: FaultState = FaultState.FOUND,
    note: str = "",
    shaft: int | None = None,
    treadle: int | None = None,
) -> FaultNoted:
    """Return the event of a fault seen at `pick` and, where known, `end` (indices) of the piece on the loom.

    `shaft` is the one that a wrongly threaded end is on, `treadle` the one that pulls wrong shafts (indices).
    """
    piece = warp.pieces[progress.now.piece]
    if not 0 <= pick < piece.picks:
        raise WeavingError(f"{piece.name} has no pick {pick + 1}; give 1 to {piece.picks}")
    if end is not None and not 0 <= end < piece.draft.ends:
        raise WeavingError(f"the warp has no end {end + 1}; give 1 to {piece.draft.ends}")
    loom = warp.loom.loom
    for number, there, what in ((shaft, loom.shafts, "shaft"), (treadle, loom.treadles, "treadle")):
        if number is not None and not 0 <= number < there:
            raise WeavingError(f"the loom has no {what} {number + 1}; give 1 to {there}")
    return FaultNoted(kind, pick, end, state, short_enough(note), shaft, treadle)


def settle_fault(warp: Warp, progress: Progress, fault: int, state: FaultState, note: str = "") -> FaultSettled:
    """Return the event of an open fault (number from 0) mended or left, with a note of how."""
    if all(fault != open_fault.number for open_fault in progress.now.open_faults):
        raise WeavingError(f"fault {fault + 1} is not open, so it cannot be settled")
    if state is FaultState.FOUND:
        raise WeavingError(f"fault {fault + 1} is found already; say that it was mended or left")
    return FaultSettled(fault, state, short_enough(note))


def write_note(warp: Warp, progress: Progress, text: str) -> NoteWritten:
    """Return the event of a note written at this place."""
    if not text.strip():
        raise WeavingError("an empty note; write some words")
    return NoteWritten(short_enough(text))


def measure(warp: Warp, progress: Progress, centimetres: float, under_tension: bool = True) -> LengthMeasured:
    """Return the event of the cloth of this piece measured from its start."""
    if not SHORTEST_CM <= centimetres <= LONGEST_CM:
        raise WeavingError(
            Amount(centimetres), " is no length of cloth; give one such as ", Amount(_SOME_CM, tape_words)
        )
    if progress.now.cloth.picks == 0:
        raise WeavingError("there is no cloth of this piece to measure yet")
    return LengthMeasured(centimetres, under_tension)


def change_bobbin(warp: Warp, progress: Progress, yarn: int, metres: float | None = None) -> BobbinChanged:
    """Return the event of a fresh bobbin in the shuttle of this yarn (index), its length where known."""
    piece = warp.pieces[progress.now.piece]
    if yarn not in piece.shuttles:
        raise WeavingError(f"{piece.name} has no shuttle of yarn {yarn + 1}")
    if yarn in piece.hand_laid:
        raise WeavingError(f"{piece.draft.yarns[yarn].name} is laid in at each pick and has no bobbin")
    if metres is not None and not SHORTEST_CM / 100 <= metres <= LONGEST_BOBBIN_M:
        raise WeavingError(Amount(metres, yarn_words), " is no length of yarn; give one above 0")
    return BobbinChanged(yarn, metres)


def re_tie(warp: Warp, progress: Progress) -> ReTied:
    """Return the event of the treadles tied for the stage of the next pick."""
    piece = on_the_loom(warp, progress)
    stage = piece.stage_at(min(progress.now.next_pick, piece.picks - 1))
    if stage is None:
        raise WeavingError(f"{piece.name} is woven without treadles; there is nothing to tie")
    return ReTied(stage)


def accept_tie_up(warp: Warp, progress: Progress) -> TieUpAccepted:
    """Return the event of taking the tie-up that was worked out for this warp, before anything else happens on it."""
    if progress.now.number:
        raise WeavingError(f"warp {warp.name!r} is begun already; its tie-up was taken then")
    if not warp.pieces[0].stages:
        raise WeavingError(f"{warp.pieces[0].name} is woven without treadles; there is nothing to tie")
    return TieUpAccepted()


def tie_treadle(warp: Warp, progress: Progress, treadle: int, tied: bool = True) -> TreadleTied:
    """Return the event of one treadle (index) tied for the stage of the next pick, or that taken back."""
    piece = on_the_loom(warp, progress)
    listed = cord_list(warp, progress.now)
    if listed is None or all(treadle != change.treadle for change in listed.changes):
        raise WeavingError(f"no tie changes at treadle {treadle + 1} of {piece.name} now")
    if (treadle in listed.done) is tied:
        raise WeavingError(f"treadle {treadle + 1} is {'tied already' if tied else 'not tied yet'}")
    return TreadleTied(listed.stage, treadle, tied)


def pause(warp: Warp, progress: Progress) -> Paused:
    """Return the event of leaving the loom."""
    if progress.now.paused:
        raise WeavingError("you are on a pause already")
    return Paused()


def resume(warp: Warp, progress: Progress, looked_right: bool = True) -> Resumed:
    """Return the event of coming back, with what the weaver said of the cloth."""
    return Resumed(looked_right)


def undo(warp: Warp, progress: Progress, number: int | None = None) -> Undone:
    """Return the event that takes back the entry `number`, or the newest that stands.

    A note, a measure, a bobbin or a fault may be taken back out of turn, as long as what came after it still holds;
    a fault not once a later one was noted or settled, because those are numbered after it.
    """
    if not progress.trail:
        raise WeavingError("there is nothing to undo")
    newest = progress.trail[-1].entry
    if number is None or number == newest.number:
        return Undone(newest.number)
    steps = [step for step in progress.trail if step.entry.number == number]
    if not steps:
        raise WeavingError(f"entry {number} is not among the newest {TRAIL} that stand, so it cannot be undone")
    event = steps[0].entry.event
    if not isinstance(event, APART):
        raise WeavingError(f"entry {number} cannot be undone before the ones after it; undo those first")
    later = [step.entry.event for step in progress.trail if step.entry.number > number]
    if isinstance(event, FaultNoted) and any(isinstance(other, FaultNoted | FaultSettled) for other in later):
        raise WeavingError(f"entry {number}: a later fault was noted or settled; undo that first, or settle this one")
    try:
        without(warp, progress, number)
    except ContradictionError as error:
        raise WeavingError(
            f"entry {number} cannot be undone, because what came after it builds on it; undo that first"
        ) from error
    return Undone(number)


def on_the_loom(warp: Warp, progress: Progress) -> Piece:
    """Return the piece that the weaver weaves; raises WeavingError on a pause, or where it is finished."""
    now = progress.now
    piece = warp.pieces[now.piece]
    if now.paused:
        raise WeavingError("you are on a pause; say first that you are back")
    if now.finished:
        raise WeavingError(f"{piece.name} is finished; start the next piece, or undo")
    return piece
