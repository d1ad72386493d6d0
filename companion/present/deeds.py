"""What a deed at the loom is answered with, and what "undo" would take back: one line, which stays until the next."""

from __future__ import annotations

from companion.draft.units import Units, counted, length_words, numbered
from companion.present.asking import Answer, Answered, Asked, AtLoom
from companion.present.dressing_words import dressing_deed_words
from companion.present.of_loom import of_loom_words
from companion.present.square_words import mark_words
from companion.present.wording import SIDE_NOT_KNOWN
from companion.weaving.decide import undo
from companion.weaving.dressing_events import DressingEvent
from companion.weaving.events import (
    BobbinChanged,
    ClothTold,
    Event,
    FaultNoted,
    FaultSettled,
    Jumped,
    LengthMeasured,
    NoteWritten,
    Paused,
    PickTakenOut,
    PickWoven,
    PieceFinished,
    PieceStarted,
    Resumed,
    ReTied,
    SidesTold,
    SquareMarked,
    TreadleTied,
    Undone,
)
from companion.weaving.progress import Progress
from companion.weaving.warp import Piece, Warp

NOTHING_TO_UNDO = "There is nothing to undo"
LONGEST_NOTE = 40
"""Letters of a note that a line quotes."""


def answer_words(warp: Warp, before: Progress, event: Event, units: Units) -> str:
    """Return the line for a deed that is on disk, such as `pick 39 taken out`; empty where the screen itself says it.

    `before` is how things stood when it was done.
    """
    match event:
        case PickWoven() | Paused() | Resumed() | PieceStarted() | PieceFinished() | ReTied() | TreadleTied():
            return ""
        case SidesTold(unknown=lost) if lost:
            # The boats on either side ask for it, with the one line that there is.
            return ""
        case Undone(number):
            step = next((step for step in before.trail if step.entry.number == number), None)
            return "undone" if step is None else f"undone: {deed_words(warp, before, step.entry.event, units)}"
        case _:
            return deed_words(warp, before, event, units)


def deed_words(warp: Warp, before: Progress, event: Event, units: Units) -> str:
    """Return a deed in a few words: `fault in pick 148: mended`, `note "tension set anew"`."""
    piece = warp.pieces[before.now.piece]
    if isinstance(event, DressingEvent):
        return dressing_deed_words(event)
    match event:
        case PickWoven(pick):
            return f"pick {pick + 1} woven"
        case PickTakenOut(pick):
            return f"pick {pick + 1} taken out"
        case ClothTold(taken_out, woven, left, right, unknown):
            sides = sides_words(piece, left, right, unknown)
            return ", ".join(filter(None, (told_words(taken_out, woven), sides)))
        case SidesTold(left, right, unknown):
            return sides_words(piece, left, right, unknown)
        case Jumped(pick):
            return f"next is pick {pick + 1}" if pick < piece.picks else "went to the end of the piece"
        case FaultNoted(kind, pick, end, state, _, shaft, treadle):
            if kind.of_loom:
                return f"{of_loom_words(piece.draft, kind, end, shaft, treadle)}: {state.said}"
            return f"fault in pick {pick + 1}: {kind.value}, {state.said}"
        case FaultSettled(fault, state):
            open_fault = next((one for one in before.now.open_faults if one.number == fault), None)
            where = f"fault {fault + 1}" if open_fault is None else f"fault in pick {open_fault.pick + 1}"
            return f"{where}: {state.said}"
        case NoteWritten(text):
            return f'note "{_quoted(text)}"'
        case SquareMarked(starred=starred, text=text):
            return f"square marked: {_quoted(mark_words(starred, text))}" if starred or text else "mark taken away"
        case LengthMeasured(centimetres):
            return f"{length_words(centimetres, units)} measured"
        case BobbinChanged(yarn):
            return f"new bobbin: {piece.draft.yarns[yarn].name}"
        case ReTied(stage):
            return f"treadles tied for stage {stage + 1}" if stage else "treadles tied"
        case TreadleTied(_, treadle, tied):
            return f"treadle {treadle + 1} {'tied' if tied else 'not tied'}"
        case Paused():
            return "the pause"
        case Resumed():
            return "back at the loom"
        case PieceStarted(index):
            return f"piece {index + 1} begun"
        case PieceFinished():
            return "piece finished"
        case _:
            return "what was done last"


def _quoted(text: str) -> str:
    return text if len(text) <= LONGEST_NOTE else text[: LONGEST_NOTE - 1] + "…"


def told_words(taken_out: int, woven: tuple[int, ...]) -> str:
    """Return what was told of the cloth: `2 picks taken out`, `picks 44 to 47 woven`."""
    parts = [f"{counted(taken_out, 'pick')} taken out"] if taken_out else []
    for first, last in _runs(woven):
        parts.append(f"{numbered('pick', first, last)} woven")
    return ", then ".join(parts)


def sides_words(piece: Piece, left: tuple[int, ...], right: tuple[int, ...], unknown: tuple[int, ...]) -> str:
    """Return where shuttles (yarns, as indices) were seen: `sand on the left, sea (side not known)`."""
    seen = ((left, "on the left"), (right, "on the right"), (unknown, SIDE_NOT_KNOWN))
    return ", ".join(f"{piece.draft.yarns[yarn].name} {where}" for yarns, where in seen for yarn in yarns)


def _runs(picks: tuple[int, ...]) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for pick in picks:
        if runs and pick == runs[-1][1] + 1:
            runs[-1] = (runs[-1][0], pick)
        else:
            runs.append((pick, pick))
    return runs


def ask_undo(warp: Warp, progress: Progress, units: Units) -> Asked[AtLoom] | None:
    """Ask whether to take back the newest deed, by its name; None where there is none."""
    if not progress.trail:
        return None
    step = progress.trail[-1]
    words = deed_words(warp, Progress(step.before, progress.trail[:-1]), step.entry.event, units)
    yes: Answer[AtLoom] = Answer("Undo it", lambda: Answered((undo,)), main=True)
    return Asked(f"Undo: {words}?", (yes,), with_cloth=True, topic="Undo")
