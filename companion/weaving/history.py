"""Everything that stands in the journal of a warp, pick by pick: for the record and for counting, not for weaving.

Progress is kept small; this is the long form, read once. What was undone is only among `happened`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from companion.draft.facing import Side
from companion.weaving.dressing_events import DressingTask
from companion.weaving.events import (
    ClothTold,
    Entry,
    Event,
    FaultKind,
    FaultNoted,
    FaultSettled,
    FaultState,
    LengthMeasured,
    NearMiss,
    NoteWritten,
    PickTakenOut,
    PickWoven,
    PieceStarted,
    Undone,
)
from companion.weaving.one_event import spent_ms
from companion.weaving.progress import Progress, begin, evolve
from companion.weaving.runs import Cloth
from companion.weaving.state import Measure, Note, State, side_of, woven_cm
from companion.weaving.warp import Warp

SESSION_GAP_MS = 30 * 60_000
"""A session ends where nothing is entered for longer than this: a pause to fetch a bobbin is no end of it."""


@dataclass(frozen=True, slots=True)
class WovenPick:
    """A pick as it was woven: which one, when, after how long at the loom, and whether it was taken out again.

    `below` is the pick (index) on which it was woven; None where it was the first of its piece. `told`: it was told of
    afterwards, so its times are those of the telling.
    """

    piece: int
    pick: int
    at_ms: int
    at_loom_ms: int
    taken_out: bool = False
    below: int | None = None
    told: bool = False


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault with its story: found when and where, and what became of it when (None while it is open).

    `woven` is the place in `History.woven` of the pick that it is in: the newest such pick in the cloth when the fault
    was noted; None where no such pick lay there.
    """

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
    how: str = ""
    woven: int | None = None
    shaft: int | None = None
    treadle: int | None = None


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
    """An entry, with the piece and the next pick (indices) when it was made, and whether it was undone later.

    `came_from` is the side from which the shuttle of a pick woven came, where that is known; `task` is what of the
    dressing was in hand.
    """

    entry: Entry
    piece: int
    next_pick: int
    undone: bool
    came_from: Side | None
    task: DressingTask | None = None


@dataclass(frozen=True, slots=True)
class Sitting:
    """A stretch of work on the warp: times of its first and last entry, and picks woven in it.

    `spent_ms` of it were spent at the loom or on the dressing: pauses and absences are not among them.
    """

    began_ms: int
    ended_ms: int
    spent_ms: int
    picks: int


@dataclass(frozen=True, slots=True)
class PieceTold:
    """A piece that was begun: what lies in its cloth, its last measure on the loom and off it, the time spent."""

    cloth: Cloth
    finished: bool
    woven_cm: float | None
    measured: Measure | None
    relaxed: Measure | None
    at_loom_ms: int


@dataclass(frozen=True, slots=True)
class History:
    """The long form of a journal. `woven` holds every pick in the order woven, also those taken out later."""

    progress: Progress
    woven: tuple[WovenPick, ...]
    faults: tuple[Fault, ...]
    measured: tuple[Measured, ...]
    notes: tuple[Note, ...]
    happened: tuple[Happened, ...]
    sittings: tuple[Sitting, ...]
    pieces: tuple[PieceTold, ...]

    @property
    def near_misses(self) -> int:
        """How many times sensors warned before the beat."""
        return sum(isinstance(happened.entry.event, NearMiss) for happened in self.happened)

    @property
    def undone(self) -> int:
        """How many entries were undone."""
        return sum(happened.undone for happened in self.happened)


def history(warp: Warp, entries: Iterable[Entry]) -> History:
    """Return the long form of these entries, from the first one on; raises ContradictionError."""
    every = tuple(entries)
    struck = {entry.event.number for entry in every if isinstance(entry.event, Undone)}
    happened: list[Happened] = []
    sittings: list[Sitting] = []
    at_loom_ms: dict[int, int] = {}
    progress = begin(warp)
    for entry in every:
        now = progress.now
        happened.append(
            Happened(
                entry,
                now.piece,
                now.next_pick,
                entry.number in struck,
                _came_from(warp, now, entry.event),
                now.dressing.task,
            )
        )
        _sit(sittings, now, entry, entry.number in struck)
        progress = evolve(warp, progress, entry)
        at_loom_ms[entry.number] = progress.now.at_loom_ms
    standing, telling = begin(warp), _Telling()
    for entry in every:
        if entry.number in struck or isinstance(entry.event, Undone):
            continue
        if isinstance(entry.event, PieceStarted):
            telling.piece_ends(warp, standing.now, at_loom_ms[entry.number])
        telling.tell(standing, entry, at_loom_ms[entry.number])
        standing = evolve(warp, standing, entry)
    telling.piece_ends(warp, standing.now, progress.now.at_loom_ms)
    return History(
        progress,
        tuple(telling.woven),
        tuple(telling.faults),
        tuple(telling.measured),
        tuple(telling.notes),
        tuple(happened),
        tuple(sittings),
        tuple(telling.pieces),
    )


def _came_from(warp: Warp, now: State, event: Event) -> Side | None:
    if not isinstance(event, PickWoven):
        return None
    piece = warp.pieces[now.piece]
    yarn = piece.draft.weft[event.pick]
    known = now.shuttles[yarn].side_known and event.pick not in piece.laid_in
    return side_of(piece, now, yarn) if known else None


def _sit(sittings: list[Sitting], before: State, entry: Entry, struck: bool) -> None:
    picks, spent = int(isinstance(entry.event, PickWoven) and not struck), spent_ms(before, entry)
    # A clock that is put right by a little ends no session.
    if not sittings or abs(entry.at_ms - before.at_ms) > SESSION_GAP_MS:
        sittings.append(Sitting(entry.at_ms, entry.at_ms, 0, picks))
    else:
        here = sittings[-1]
        sittings[-1] = Sitting(
            here.began_ms, max(here.ended_ms, entry.at_ms), here.spent_ms + spent, here.picks + picks
        )


class _Telling:
    """Collects while the entries that stand go by."""

    def __init__(self) -> None:
        self.woven: list[WovenPick] = []
        self.faults: list[Fault] = []
        self.measured: list[Measured] = []
        self.notes: list[Note] = []
        self.pieces: list[PieceTold] = []
        self._piece_began_at_loom_ms = 0
        self._lying: list[int] = []

    def _newest_woven(self, piece: int, pick: int) -> int | None:
        for woven in reversed(self._lying):
            if self.woven[woven].piece != piece:
                break
            if self.woven[woven].pick == pick:
                return woven
        return None

    def piece_ends(self, warp: Warp, now: State, at_loom_ms: int) -> None:
        woven = woven_cm(warp.pieces[now.piece], now)
        spent = at_loom_ms - self._piece_began_at_loom_ms
        self.pieces.append(PieceTold(now.cloth, now.finished, woven, now.measured, now.relaxed, spent))
        self._piece_began_at_loom_ms = at_loom_ms

    def tell(self, before: Progress, entry: Entry, at_loom_ms: int) -> None:
        now = before.now
        match entry.event:
            case PickWoven(pick):
                self._lying.append(len(self.woven))
                self.woven.append(WovenPick(now.piece, pick, entry.at_ms, at_loom_ms, below=now.cloth.newest))
            case PickTakenOut():
                taken = self._lying.pop()
                self.woven[taken] = replace(self.woven[taken], taken_out=True)
            case ClothTold(taken_out, woven):
                for _ in range(taken_out):
                    taken = self._lying.pop()
                    self.woven[taken] = replace(self.woven[taken], taken_out=True)
                below = self.woven[self._lying[-1]].pick if now.cloth.picks > taken_out else None
                for pick in woven:
                    self._lying.append(len(self.woven))
                    self.woven.append(WovenPick(now.piece, pick, entry.at_ms, at_loom_ms, below=below, told=True))
                    below = pick
            case FaultNoted(kind, pick, end, state, note, shaft, treadle):
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
                        woven=self._newest_woven(now.piece, pick),
                        shaft=shaft,
                        treadle=treadle,
                    )
                )
            case FaultSettled(fault, state, how):
                self.faults[fault] = replace(self.faults[fault], state=state, settled_at_ms=entry.at_ms, how=how)
            case LengthMeasured(centimetres, under_tension):
                self.measured.append(Measured(now.piece, centimetres, under_tension, now.cloth.picks, entry.at_ms))
            case NoteWritten(text):
                self.notes.append(Note(text, now.piece, now.next_pick, entry.at_ms))
            case _:
                pass
