"""Everything that stands in the journal of a warp, pick by pick: for the record and for counting, not for weaving.

Progress is kept small; this is the long form, read once. What was undone is left out here, and counted.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from companion.weaving.events import (
    Entry,
    FaultKind,
    FaultNoted,
    FaultSettled,
    FaultState,
    LengthMeasured,
    NoteWritten,
    PickTakenOut,
    PickWoven,
    PieceStarted,
    Undone,
)
from companion.weaving.progress import Note, Progress, begin, evolve
from companion.weaving.warp import Warp


@dataclass(frozen=True, slots=True)
class WovenPick:
    """A pick as it was woven: which one, when, after how long at the loom, and whether it was taken out again."""

    piece: int
    pick: int
    at_ms: int
    at_loom_ms: int
    taken_out: bool = False


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault with its story: found when and where, and what became of it when (None while it is open)."""

    number: int
    piece: int
    kind: FaultKind
    pick: int
    end: int | None
    note: str
    found_at_ms: int
    found_at_loom_ms: int
    state: FaultState
    settled_at_ms: int | None


@dataclass(frozen=True, slots=True)
class Measured:
    """A length that was measured: centimetres of cloth of a piece, holding so many picks."""

    piece: int
    centimetres: float
    under_tension: bool
    picks: int
    at_ms: int


@dataclass(frozen=True, slots=True)
class Happened:
    """An entry that stands, with the piece and the next pick (indices) when it was made."""

    entry: Entry
    piece: int
    next_pick: int


@dataclass(frozen=True, slots=True)
class History:
    """The long form of a journal. `woven` holds every pick in the order woven, also those taken out later."""

    progress: Progress
    woven: tuple[WovenPick, ...]
    faults: tuple[Fault, ...]
    measured: tuple[Measured, ...]
    notes: tuple[Note, ...]
    happened: tuple[Happened, ...]
    entries: int
    undone: int


def history(warp: Warp, entries: Iterable[Entry]) -> History:
    """Return the long form of these entries, from the first one on; raises ContradictionError."""
    every = tuple(entries)
    struck = {entry.event.number for entry in every if isinstance(entry.event, Undone)}
    progress = begin(warp)
    at_loom_ms: dict[int, int] = {}
    for entry in every:
        progress = evolve(warp, progress, entry)
        at_loom_ms[entry.number] = progress.now.at_loom_ms
    telling = _Telling()
    standing = begin(warp)
    for entry in every:
        if entry.number in struck or isinstance(entry.event, Undone):
            continue
        telling.tell(standing, entry, at_loom_ms[entry.number])
        standing = evolve(warp, standing, entry)
    return History(
        progress,
        tuple(telling.woven),
        tuple(telling.faults),
        tuple(telling.measured),
        tuple(telling.notes),
        tuple(telling.happened),
        len(every),
        len(struck),
    )


class _Telling:
    """Collects while the entries that stand go by."""

    def __init__(self) -> None:
        self.woven: list[WovenPick] = []
        self.faults: list[Fault] = []
        self.measured: list[Measured] = []
        self.notes: list[Note] = []
        self.happened: list[Happened] = []
        self._lying: list[int] = []

    def tell(self, before: Progress, entry: Entry, at_loom_ms: int) -> None:
        now = before.now
        self.happened.append(Happened(entry, now.piece, now.next_pick))
        match entry.event:
            case PickWoven(pick):
                self._lying.append(len(self.woven))
                self.woven.append(WovenPick(now.piece, pick, entry.at_ms, at_loom_ms))
            case PickTakenOut():
                taken = self._lying.pop()
                self.woven[taken] = replace(self.woven[taken], taken_out=True)
            case PieceStarted():
                self._lying.clear()
            case FaultNoted(kind, pick, end, state, note):
                settled_at_ms = None if state is FaultState.FOUND else entry.at_ms
                self.faults.append(
                    Fault(
                        len(self.faults),
                        now.piece,
                        kind,
                        pick,
                        end,
                        note,
                        entry.at_ms,
                        at_loom_ms,
                        state,
                        settled_at_ms,
                    )
                )
            case FaultSettled(fault, state):
                self.faults[fault] = replace(self.faults[fault], state=state, settled_at_ms=entry.at_ms)
            case LengthMeasured(centimetres, under_tension):
                self.measured.append(Measured(now.piece, centimetres, under_tension, now.cloth.picks, entry.at_ms))
            case NoteWritten(text):
                self.notes.append(Note(text, now.piece, now.next_pick, entry.at_ms))
            case _:
                pass
