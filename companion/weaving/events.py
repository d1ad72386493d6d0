"""What can happen at the loom: one frozen event each. The journal stores nothing else.

An event carries only what happened; number, warp and time belong to the journal's row (`Entry`). Names of
classes and fields are stored on disk: they stay for ever, new fields come with a default.
Picks are indices from 0 within the piece's treadling; pieces are indices from 0 within the warp.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from companion.weaving.dressing_events import (
    Dressed,
    DressingMistake,
    DressingTakenOut,
    ShedFoundWrong,
    ShedPutRight,
    SleyPlanned,
    TaskBegun,
    TaskSettled,
)


class FaultKind(Enum):
    """Mistakes that a weaver notices."""

    WRONG_SHED = "wrong shed"
    MISSED_PICK = "missed pick"
    WRONG_SHUTTLE = "wrong shuttle"
    SKIPPED_END = "skipped end"
    BROKEN_END = "broken end"
    UNEVEN_BEAT = "uneven beat"
    OTHER = "other"
    THREADING = "threading mistake"
    SLEYING = "sleying mistake"
    TIE_UP = "wrong tie-up"

    @property
    def of_loom(self) -> bool:
        """Whether it lies in how the loom is dressed or tied, and in no pick: every pick has it until it is mended."""
        return self in (FaultKind.THREADING, FaultKind.SLEYING, FaultKind.TIE_UP)


class FaultState(Enum):
    """What became of a fault."""

    FOUND = "found"
    MENDED = "mended"
    LEFT = "left"

    @property
    def said(self) -> str:
        """How people are told of it: at the loom "left" alone is a hand, a foot or a side."""
        return "left as it is" if self is FaultState.LEFT else self.value


@dataclass(frozen=True, slots=True)
class PickWoven:
    """The pick that was next has been woven and beaten. `pick` repeats the position, as a cross-check."""

    pick: int


@dataclass(frozen=True, slots=True)
class PickTakenOut:
    """The newest pick has been unwoven; `pick` is its index."""

    pick: int


@dataclass(frozen=True, slots=True)
class ClothTold:
    """The weaver said where the cloth ends: so many of the newest picks are out of it, then these (indices) lie in it.

    They were taken out or woven while the journal did not hear of it: nobody knows when. Where nobody counted, the
    shuttles of these yarns (indices) were then seen on the left or the right, or are `unknown`.
    """

    taken_out: int = 0
    woven: tuple[int, ...] = ()
    left: tuple[int, ...] = ()
    right: tuple[int, ...] = ()
    unknown: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class SidesTold:
    """The weaver looked at the shuttles of these yarns (indices): on the left, on the right, or where nobody knows."""

    left: tuple[int, ...] = ()
    right: tuple[int, ...] = ()
    unknown: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Jumped:
    """The weaver set the place: `pick` is next, whatever stood there (skipping, place found, section again).

    `anew`: its section, which is woven to a length, begins anew; what lies of it in the cloth does not count.
    """

    pick: int
    reason: str = ""
    anew: bool = False


@dataclass(frozen=True, slots=True)
class FaultNoted:
    """A fault seen `pick` (index) and, if known, at `end` (index); its state when noted.

    `shaft` (index) is the one that a wrongly threaded end is on, `treadle` (index) the one that pulls wrong shafts.
    """

    kind: FaultKind
    pick: int
    end: int | None = None
    state: FaultState = FaultState.FOUND
    note: str = ""
    shaft: int | None = None
    treadle: int | None = None


@dataclass(frozen=True, slots=True)
class FaultSettled:
    """The fault with this number (from 0, in order of noting) was mended or left as it is; `note` says how."""

    fault: int
    state: FaultState
    note: str = ""


@dataclass(frozen=True, slots=True)
class NoteWritten:
    """Words of the weaver at this place."""

    text: str


@dataclass(frozen=True, slots=True)
class SquareMarked:
    """The weaver marked a square of the cloth of a piece (index), with a star, with words, or with both.

    It has the ends and picks (indices) from the first up to before the last. Without star and words the mark is gone.
    """

    piece: int
    first_end: int
    last_end: int
    first_pick: int
    last_pick: int
    starred: bool = True
    text: str = ""


@dataclass(frozen=True, slots=True)
class LengthMeasured:
    """`centimetres` of cloth of this piece measured from its start, under tension or relaxed."""

    centimetres: float
    under_tension: bool = True


@dataclass(frozen=True, slots=True)
class BobbinChanged:
    """A fresh bobbin in the shuttle of this yarn (index), with its thread length where the weaver knows it."""

    yarn: int
    metres: float | None = None


@dataclass(frozen=True, slots=True)
class ReTied:
    """The treadles were tied anew for the stage (index from 0) that begins here."""

    stage: int


@dataclass(frozen=True, slots=True)
class TieUpAccepted:
    """The weaver took the tie-up that was worked out for this warp; from here on its treadles are to be tied."""


@dataclass(frozen=True, slots=True)
class TreadleTied:
    """One treadle (index) was tied for the stage (index); `tied` is False where that is taken back."""

    stage: int
    treadle: int
    tied: bool = True


@dataclass(frozen=True, slots=True)
class Paused:
    """The weaver left the loom."""


@dataclass(frozen=True, slots=True)
class Resumed:
    """The weaver came back and said whether the cloth looked as the journal has it."""

    looked_right: bool = True


@dataclass(frozen=True, slots=True)
class PieceStarted:
    """The next piece of the warp begins; `piece` is its index."""

    piece: int


@dataclass(frozen=True, slots=True)
class PieceFinished:
    """The piece on the loom ends here, at its last pick or early."""


@dataclass(frozen=True, slots=True)
class NearMiss:
    """Sensors felt the feet wrong before the beat of `pick`, and warned: treadles (indices) too many and too few."""

    pick: int
    wrong: tuple[int, ...] = ()
    missing: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Undone:
    """The event with this number in the journal is taken back; it stays in the record."""

    number: int


Event = (
    PickWoven
    | PickTakenOut
    | ClothTold
    | SidesTold
    | Jumped
    | FaultNoted
    | FaultSettled
    | NoteWritten
    | SquareMarked
    | LengthMeasured
    | BobbinChanged
    | ReTied
    | Paused
    | Resumed
    | PieceStarted
    | PieceFinished
    | NearMiss
    | TieUpAccepted
    | TreadleTied
    | TaskBegun
    | Dressed
    | DressingTakenOut
    | TaskSettled
    | SleyPlanned
    | ShedFoundWrong
    | DressingMistake
    | ShedPutRight
    | Undone
)


@dataclass(frozen=True, slots=True)
class Entry:
    """One row of the journal: `number` counts from 1 without a gap, `at_ms` is Unix time in milliseconds."""

    number: int
    at_ms: int
    event: Event
