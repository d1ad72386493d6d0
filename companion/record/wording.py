"""Times, lengths and entries in words, for a page and for tables."""

from __future__ import annotations

from datetime import UTC, datetime, tzinfo

from companion.draft.masks import print_shed
from companion.draft.units import Units, length_words, yarn_words
from companion.present.deeds import sides_words, told_words
from companion.present.dressing_words import dressing_deed_words
from companion.present.of_loom import of_loom_words
from companion.present.square_words import marked_words
from companion.present.ties_said import NOT_TIED
from companion.remap.loom.loom import Tie
from companion.weaving.dressing_events import (
    Dressed,
    DressingEvent,
    DressingMistake,
    DressingTakenOut,
    ShedFoundWrong,
    ShedPutRight,
    SleyPlanned,
    TaskBegun,
    TaskSettled,
)
from companion.weaving.events import (
    BobbinChanged,
    ClothTold,
    Event,
    FaultNoted,
    FaultSettled,
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
    SidesTold,
    SquareMarked,
    TieUpAccepted,
    TreadleTied,
    Undone,
)
from companion.weaving.faults import FaultCount
from companion.weaving.warp import NO_NAME, LoomProfile, Piece

UNKNOWN = "not known"


def time_words(at_ms: int | None, zone: tzinfo | None = UTC, seconds: bool = False) -> str:
    """Return a Unix time as the clock of `zone` showed it then: `2026-03-01 14:05`. None is the clock of this place."""
    if at_ms is None:
        return UNKNOWN
    try:
        moment = datetime.fromtimestamp(at_ms / 1000, UTC).astimezone(zone)
    except (OverflowError, OSError, ValueError):
        # A device whose clock was never set may have stamped anything.
        return UNKNOWN
    return moment.strftime("%Y-%m-%d %H:%M:%S" if seconds else "%Y-%m-%d %H:%M")


def loom_name_before(profile: LoomProfile) -> str:
    """Return a loom's name, to stand before what it is: `Barn loom: `; nothing for one without a name of its own."""
    return "" if profile.name == NO_NAME else f"{profile.name}: "


def tie_words(tie: Tie) -> str:
    """Return the cords of a treadle: `up 1 3, down 2 4`; what the loom has not is left out."""
    cords = [f"{way} {print_shed(shafts)}" for way, shafts in (("up", tie.up), ("down", tie.down)) if shafts]
    return ", ".join(cords) or NOT_TIED


def fault_words(count: FaultCount) -> str:
    """Return how many faults of each kind there were, and what became of them: `2 wrong shed; 1 found, 1 mended`."""
    kinds = ", ".join(f"{number} {kind.value}" for kind, number in count.by_kind)
    states = ", ".join(f"{number} {state.said}" for state, number in count.by_state)
    return f"{kinds}; {states}"


EVENT_KINDS: dict[type[Event], str] = {
    PickWoven: "pick woven",
    PickTakenOut: "taken out",
    ClothTold: "cloth corrected",
    SidesTold: "shuttles set",
    Jumped: "place set",
    FaultNoted: "fault noted",
    FaultSettled: "fault settled",
    NoteWritten: "note",
    SquareMarked: "square",
    LengthMeasured: "measured",
    BobbinChanged: "fresh bobbin",
    ReTied: "treadles tied",
    TieUpAccepted: "tie-up accepted",
    TreadleTied: "treadle tied",
    Paused: "left loom",
    Resumed: "came back",
    PieceStarted: "piece begun",
    PieceFinished: "piece finished",
    NearMiss: "near miss",
    TaskBegun: "task begun",
    Dressed: "dressed",
    DressingTakenOut: "undressed",
    TaskSettled: "task settled",
    SleyPlanned: "sley plan",
    ShedFoundWrong: "test weave",
    DressingMistake: "mistake",
    ShedPutRight: "shed mended",
    Undone: "undone",
}
"""What kind of thing each event is, for a reader."""


def event_kind(event: Event) -> str:
    """Return what kind of thing happened, in two words at most."""
    return EVENT_KINDS[type(event)]


def event_words(event: Event, piece: Piece, units: Units) -> str:
    """Return what an entry adds to its kind, in words; empty where there is nothing to add. User text is as written."""
    if isinstance(event, DressingEvent):
        return dressing_deed_words(event)
    match event:
        case ClothTold(taken_out, woven, left, right, unknown):
            sides = sides_words(piece, left, right, unknown)
            return "; ".join(filter(None, (f"{told_words(taken_out, woven)}, noted afterwards", sides)))
        case SidesTold(left, right, unknown):
            return sides_words(piece, left, right, unknown)
        case Jumped(pick, reason):
            return f"next is pick {pick + 1}" + (f" ({reason})" if reason else "")
        case FaultNoted(kind, _, end, state, note, shaft, treadle) if kind.of_loom:
            what = of_loom_words(piece.draft, kind, end, shaft, treadle)
            return "; ".join(part for part in (what, state.said, note) if part)
        case FaultNoted(kind, pick, end, state, note):
            where = f"pick {pick + 1}" + ("" if end is None else f", end {end + 1}")
            return "; ".join(part for part in (f"{kind.value} at {where}", state.said, note) if part)
        case FaultSettled(fault, state, note):
            return "; ".join(part for part in (f"fault {fault + 1} {state.said}", note) if part)
        case NoteWritten(text):
            return text
        case SquareMarked():
            return marked_words(event)
        case LengthMeasured(centimetres, under_tension):
            return f"{length_words(centimetres, units)} {'under tension' if under_tension else 'relaxed'}"
        case BobbinChanged(yarn, metres):
            name = piece.draft.yarns[yarn].name
            return name if metres is None else f"{name}, {yarn_words(metres, units)}"
        case ReTied(stage):
            return _of_stage(piece, stage)
        case TreadleTied(stage, treadle, tied):
            return f"treadle {treadle + 1} {_of_stage(piece, stage)}".rstrip() + ("" if tied else ", taken back")
        case Resumed(looked_right):
            return "" if looked_right else "the cloth looked different"
        case PieceStarted(index):
            return f"piece {index + 1}"
        case NearMiss(pick, wrong, missing):
            return f"before pick {pick + 1}: {_treadles('wrong', wrong)}{_treadles('missing', missing)}".rstrip("; ")
        case Undone(number):
            return f"entry {number}"
        case _:
            return ""


def _of_stage(piece: Piece, stage: int) -> str:
    """Return which stage is tied; nothing where the treadles are tied once for the whole piece."""
    return f"for stage {stage + 1}" if len(piece.stages) > 1 else ""


def _treadles(what: str, treadles: tuple[int, ...]) -> str:
    numbers = " ".join(str(treadle + 1) for treadle in treadles)
    return f"{what} treadle {numbers}; " if numbers else ""
