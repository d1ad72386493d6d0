"""What one event makes of how things stand at the loom, once each of its fields is required to be within its bounds.

The time at the loom is the time between two entries, unless the weaver was on a pause, or nothing happened for over
`AWAY_MS`, or the clock was set back, or the loom was dressed meanwhile (see `dressing`).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from companion.draft.model import MOST_SHAFTS
from companion.draft.units import Amount, yarn_words
from companion.remap.search.fewest import MOST_TREADLES
from companion.weaving.bounds import (
    LONGEST_BOBBIN_M,
    LONGEST_CM,
    LONGEST_TEXT,
    MOST_OPEN_FAULTS,
    MOST_RUNS,
    MOST_TOLD,
    SHORTEST_CM,
)
from companion.weaving.dressing import fold_dressing, is_settled, task_of, with_time
from companion.weaving.dressing_events import DressingEvent, DressingTask
from companion.weaving.errors import ContradictionError
from companion.weaving.events import (
    BobbinChanged,
    ClothTold,
    Entry,
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
    SidesTold,
    SquareMarked,
    TieUpAccepted,
    TreadleTied,
    Undone,
)
from companion.weaving.picks_moved import cloth_told, pick_taken_out, pick_woven, sides_told, with_bobbin
from companion.weaving.runs import NO_CLOTH
from companion.weaving.squares_marked import square_marked
from companion.weaving.state import (
    Measure,
    Note,
    OpenFault,
    Shuttle,
    State,
    Tick,
    stays_anew,
    tieup_on,
    woven_cm,
)
from companion.weaving.warp import Warp

AWAY_MS = 600_000
"""Longer than this without an entry, and the weaver is taken to have been away from the loom."""
NOTES_KEPT = 5
"""How many of the newest notes the state carries, for the weaver's return; the journal holds them all."""
_Weaving = PickWoven | ClothTold | PieceStarted
"""With these the dressing is over; so it is where every task is settled."""


def stamped(state: State, entry: Entry, spent_ms: int, task: DressingTask | None) -> State:
    """Return the state with the number and time of an entry, and so much more time spent on a task or at the loom."""
    if task is not None:
        # Dressing has a time of its own: the pace of weaving knows nothing of it.
        state = state._replace(dressing=with_time(state.dressing, task, spent_ms))
        spent_ms = 0
    return state._replace(
        number=entry.number,
        at_ms=entry.at_ms,
        began_ms=entry.at_ms if state.began_ms is None else state.began_ms,
        at_loom_ms=state.at_loom_ms + spent_ms,
    )


def task_meanwhile(before: State, entry: Entry) -> DressingTask | None:
    """Return on which task of the dressing the time up to an entry was spent; None where it was on none."""
    dressing, event = before.dressing, entry.event
    if dressing.task is not None:
        return dressing.task
    if isinstance(event, DressingEvent):
        return task_of(event)
    over = before.woven or isinstance(event, _Weaving) or is_settled(dressing)
    return None if over else dressing.latest


def spent_ms(before: State, entry: Entry) -> int:
    """Return how long the weaver was at the loom between how things stood and an entry."""
    gap = entry.at_ms - before.at_ms
    return gap if before.number and not before.paused and 0 < gap <= AWAY_MS else 0


def follow(warp: Warp, before: State, entry: Entry) -> State:
    """Return how things stand after an entry; raises ContradictionError where it cannot follow."""
    state = stamped(before, entry, spent_ms(before, entry), task_meanwhile(before, entry))
    piece = warp.pieces[state.piece]
    if isinstance(entry.event, DressingEvent):
        dressing = entry.event
        return _folded(entry, lambda: state._replace(dressing=fold_dressing(warp, state.dressing, dressing)))
    if state.dressing.task is not None and isinstance(entry.event, _Weaving):
        state = state._replace(dressing=state.dressing._replace(task=None))
    match entry.event:
        case PickWoven(pick):
            return _with_few_runs(pick_woven(piece, state, pick), entry)
        case PickTakenOut(pick):
            return pick_taken_out(piece, state, pick)
        case ClothTold(taken_out, woven, left, right, unknown):
            require(0 <= taken_out <= state.cloth.picks, entry, f"{taken_out} picks taken out of {state.cloth.picks}")
            require(len(woven) <= MOST_TOLD, entry, f"{len(woven)} picks at once")
            require(all(0 <= pick < piece.picks for pick in woven), entry, f"picks beyond the {piece.picks} there are")
            _require_shuttles(state, entry, (*left, *right, *unknown))
            after = _with_few_runs(cloth_told(piece, state, taken_out, woven), entry)
            return sides_told(piece, after, left, right, unknown)
        case SidesTold(left, right, unknown):
            _require_shuttles(state, entry, (*left, *right, *unknown))
            return sides_told(piece, state, left, right, unknown)
        case Jumped(pick, reason, anew):
            _require_short(reason, entry)
            require(0 <= pick <= piece.picks, entry, f"a jump to pick {pick + 1} of {piece.picks}")
            to_length = pick < piece.picks and piece.sections[piece.section_at(pick)].until_cm is not None
            require(to_length or not anew, entry, f"a length begun anew at pick {pick + 1}, which is woven to none")
            return state._replace(next_pick=pick, anew=anew or stays_anew(piece, state, pick))
        case FaultNoted(_, pick, end, _, note, shaft, treadle):
            _require_short(note, entry)
            few = len(state.open_faults) < MOST_OPEN_FAULTS
            require(few, entry, f"more than {MOST_OPEN_FAULTS:,} faults that are open at once")
            there = 0 <= pick < piece.picks and (end is None or 0 <= end < piece.draft.ends)
            there = there and (shaft is None or 0 <= shaft < MOST_SHAFTS)
            there = there and (treadle is None or 0 <= treadle < MOST_TREADLES)
            require(there, entry, f"a fault at pick {pick + 1} of {piece.picks}, or beyond the ends")
            return _fault_noted(state, entry.event)
        case FaultSettled(fault, _, note):
            _require_short(note, entry)
            still = tuple(open_fault for open_fault in state.open_faults if open_fault.number != fault)
            require(len(still) < len(state.open_faults), entry, f"fault {fault + 1} settled, which is not open")
            return state._replace(open_faults=still)
        case NoteWritten(text):
            _require_short(text, entry)
            kept = Note(text, state.piece, state.next_pick, entry.at_ms)
            return state._replace(notes=(*state.notes, kept)[-NOTES_KEPT:])
        case SquareMarked():
            event = entry.event
            return _folded(entry, lambda: square_marked(warp, state, event))
        case LengthMeasured(centimetres, under_tension):
            require(SHORTEST_CM <= centimetres <= LONGEST_CM, entry, "a length of ", Amount(centimetres))
            measure = Measure(centimetres, state.cloth.picks)
            return state._replace(measured=measure) if under_tension else state._replace(relaxed=measure)
        case BobbinChanged(yarn, metres):
            require(0 <= yarn < len(state.shuttles), entry, f"a bobbin of yarn {yarn + 1} of {len(state.shuttles)}")
            there = metres is None or SHORTEST_CM / 100 <= metres <= LONGEST_BOBBIN_M
            require(there, entry, "a bobbin of ", Amount(metres or 0.0, yarn_words))
            return state._replace(shuttles=with_bobbin(state.shuttles, yarn, metres))
        case ReTied(stage):
            require(0 <= stage < len(piece.stages), entry, f"stage {stage + 1} of {len(piece.stages)} tied")
            return state._replace(tied=(state.piece, stage), ticks=())
        case TieUpAccepted():
            # What is on the loom counts as this tie-up only where nobody has said otherwise.
            return state if warp.loom.present is not None else state._replace(tied=None)
        case TreadleTied(stage, treadle, tied):
            there = 0 <= stage < len(piece.stages) and 0 <= treadle < len(piece.stages[stage].tieup)
            require(there, entry, f"treadle {treadle + 1} tied for stage {stage + 1} of {len(piece.stages)}")
            tick = Tick(treadle, state.piece, stage)
            others = tuple(other for other in state.ticks if other != tick)
            return state._replace(ticks=(*others, tick) if tied else others)
        case NearMiss(pick, wrong, missing):
            require(0 <= pick <= piece.picks, entry, f"feet at pick {pick + 1} of {piece.picks}")
            felt = (*wrong, *missing)
            there = all(0 <= treadle < MOST_TREADLES for treadle in felt) and len(felt) <= 2 * MOST_TREADLES
            require(there, entry, "feet on treadles that no loom has")
            return state
        case Paused():
            return state._replace(paused=True)
        case Resumed():
            return state._replace(paused=False)
        case PieceFinished():
            return state._replace(finished=True)
        case PieceStarted(index):
            in_order = index == state.piece + 1 < len(warp.pieces)
            require(in_order, entry, f"piece {index + 1} of {len(warp.pieces)} begun after piece {state.piece + 1}")
            return _piece_started(warp, state, index)
        case Undone():
            raise ContradictionError(f"entry {entry.number}: an undoing is no step of its own")


def _folded(entry: Entry, fold: Callable[[], State]) -> State:
    """Return what a fold of another module makes of an entry, which raises ValueError where it cannot follow."""
    try:
        return fold()
    except ValueError as error:
        require(False, entry, str(error))
        raise


def require(holds: bool, entry: Entry, *what: str | Amount) -> None:
    """Raise ContradictionError, which says what an entry tells of, unless that holds."""
    if not holds:
        raise ContradictionError(f"entry {entry.number} tells of ", *what, "; the journal does not belong to this warp")


def _require_short(text: str, entry: Entry) -> None:
    require(len(text) <= LONGEST_TEXT, entry, f"{len(text):,} letters at once")


def _require_shuttles(state: State, entry: Entry, yarns: tuple[int, ...]) -> None:
    there = all(0 <= yarn < len(state.shuttles) for yarn in yarns) and len(set(yarns)) == len(yarns)
    require(there, entry, f"the sides of {len(yarns)} shuttles where {len(state.shuttles)} are")


def _with_few_runs(state: State, entry: Entry) -> State:
    require(len(state.cloth.below) <= MOST_RUNS, entry, f"cloth that went on elsewhere {MOST_RUNS:,} times")
    return state


def _fault_noted(state: State, event: FaultNoted) -> State:
    fault = OpenFault(
        state.faults,
        state.piece,
        event.kind,
        event.pick,
        event.end,
        event.note,
        state.at_ms,
        event.shaft,
        event.treadle,
    )
    return state._replace(
        faults=state.faults + 1,
        open_faults=(*state.open_faults, fault) if event.state is FaultState.FOUND else state.open_faults,
    )


def _piece_started(warp: Warp, state: State, index: int) -> State:
    before, after = warp.pieces[state.piece], warp.pieces[index]
    same_ties = bool(after.stages) and tieup_on(warp, state) == after.stages[0].tieup
    bobbins = {
        yarn.name: replace(shuttle, picks=0, turned=False, side_known=True)
        for yarn, shuttle in zip(before.draft.yarns, state.shuttles, strict=True)
    }
    return state._replace(
        piece=index,
        next_pick=0,
        finished=False,
        cloth=NO_CLOTH,
        anew=False,
        shuttles=tuple(bobbins.get(yarn.name, Shuttle()) for yarn in after.draft.yarns),
        tied=(index, 0) if same_ties else state.tied,
        ticks=() if same_ties else state.ticks,
        measured=None,
        relaxed=None,
        piece_began_at_loom_ms=state.at_loom_ms,
        earlier_cm=(*state.earlier_cm, woven_cm(before, state)),
    )
