"""How things stand at the loom at one moment, and what follows from that alone: the next pick, sides, lengths, ties.

`State` is small, plain and bounded by what is on the loom, so that it can be stored as a snapshot. `progress` folds the
journal into it and states the rules.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import NamedTuple

from companion.draft.facing import Side
from companion.draft.gamp import Area
from companion.draft.masks import common
from companion.remap.loom.cords import cord_changes
from companion.remap.loom.loom import Tie, TieUp
from companion.weaving.dressing import UNDRESSED, Dressing
from companion.weaving.events import FaultKind
from companion.weaving.runs import NO_CLOTH, Cloth
from companion.weaving.warp import Piece, Warp

CLOSE_ENOUGH_PICKS = 1e-6
"""A length is reached this much early: 3 cm at 3 picks per cm are 9 picks, however the multiplication rounds."""


@dataclass(frozen=True, slots=True)
class Bobbin:
    """A bobbin woven up: `metres` of weft gave `picks` picks."""

    metres: float
    picks: int


@dataclass(frozen=True, slots=True)
class Shuttle:
    """One shuttle in this piece: picks of it that lie in the cloth, where it lies, and its bobbin.

    `turned`: it lies on the other side than the number of its picks tells, since it was seen there or some were laid in
    without it. Without `side_known` nobody knows on which it lies.
    `bobbin_metres` is what was on the bobbin when it was put in, where known; `bobbin_picks` were woven from it.
    `bobbins` are the newest bobbins of known length that were woven up, oldest first.
    """

    picks: int = 0
    bobbin_metres: float | None = None
    bobbin_picks: int = 0
    bobbins: tuple[Bobbin, ...] = ()
    turned: bool = False
    side_known: bool = True


@dataclass(frozen=True, slots=True)
class Measure:
    """`centimetres` of cloth that held `picks` picks when it was measured from the start of the piece."""

    centimetres: float
    picks: int

    @property
    def picks_per_cm(self) -> float | None:
        """Picks per cm; None where nothing was woven yet."""
        return self.picks / self.centimetres if self.picks > 0 else None


@dataclass(frozen=True, slots=True)
class OpenFault:
    """A fault that is neither mended nor left: its number from 0, where and when it was found, and what is wrong."""

    number: int
    piece: int
    kind: FaultKind
    pick: int
    end: int | None
    note: str
    at_ms: int
    shaft: int | None = None
    treadle: int | None = None


@dataclass(frozen=True, slots=True)
class Note:
    """Words of the weaver, with the place where they were written."""

    text: str
    piece: int
    pick: int
    at_ms: int


@dataclass(frozen=True, slots=True)
class MarkedSquare:
    """An area (without a name) of a piece's cloth that the weaver marked, with a star or words or both, and when."""

    piece: int
    area: Area
    starred: bool
    text: str
    at_ms: int


class Tick(NamedTuple):
    """One treadle (index) that is tied for a stage (index) of a piece while the others are not yet."""

    treadle: int
    piece: int
    stage: int


class State(NamedTuple):
    """How things stand after the entry `number` (0: nothing has happened yet).

    A named tuple, not a dataclass: it is made anew at every event, and with so many fields that is much faster.

    `next_pick` is the index of the pick to weave, or the number of picks when all are woven. `woven` and `taken_out`
    count over the whole warp, every time anew; `cloth` is what lies in this piece. `tied` is the piece and stage whose
    tie-up is on the loom, or None where it is none of them; `ticks` are the treadles tied otherwise since then, the
    newest last. `began_ms` is the time of the first entry. `block_ms` are the newest blocks' times at the loom.
    `earlier_cm` are the woven lengths of the pieces before, where known. `told` of the picks woven were told of
    afterwards: they have no time, and no pace is reckoned from them. `dressing` is what was done before the first pick.
    `squares` are the marks that stand on squares of the cloth, the newest last. `anew`: the section of the next pick
    begins anew with it, so that nothing in the cloth counts for its length.
    """

    number: int = 0
    at_ms: int = 0
    began_ms: int | None = None
    at_loom_ms: int = 0
    piece_began_at_loom_ms: int = 0
    piece: int = 0
    next_pick: int = 0
    finished: bool = False
    paused: bool = False
    cloth: Cloth = NO_CLOTH
    woven: int = 0
    taken_out: int = 0
    shuttles: tuple[Shuttle, ...] = ()
    tied: tuple[int, int] | None = (0, 0)
    measured: Measure | None = None
    relaxed: Measure | None = None
    faults: int = 0
    open_faults: tuple[OpenFault, ...] = ()
    notes: tuple[Note, ...] = ()
    block_began_at_loom_ms: int = 0
    block_ms: tuple[int, ...] = ()
    earlier_cm: tuple[float | None, ...] = ()
    ticks: tuple[Tick, ...] = ()
    told: int = 0
    dressing: Dressing = UNDRESSED
    squares: tuple[MarkedSquare, ...] = ()
    anew: bool = False


def following(piece: Piece, state: State, cloth: Cloth, pick: int) -> int:
    """Return the pick that comes after `pick`, which lies newest in `cloth`."""
    section = piece.section_at(pick)
    picks = piece.section_picks(section)
    until_cm = piece.sections[section].until_cm
    if until_cm is None or pick + 1 < picks.stop:
        return pick + 1
    density = picks_per_cm(piece, state)
    reached = density is not None and cloth.newest_within(picks) >= until_cm * density - CLOSE_ENOUGH_PICKS
    return picks.stop if reached else picks.start


def with_next_woven(state: State) -> Cloth:
    """Return the cloth as it will be with the next pick on top."""
    return state.cloth.woven(state.next_pick, state.anew)


def lying_newest(state: State, picks: range) -> int:
    """Return how many picks on top of the cloth count for the length of the section of these picks, which is next."""
    return 0 if state.anew else state.cloth.newest_within(picks)


def laps_begun(state: State, picks: range, pick: int) -> int:
    """Return how many laps of the section of these picks lie in the cloth before the one that `pick` is of."""
    return 0 if state.anew else state.cloth.turns_within(picks, pick)


def stays_anew(piece: Piece, state: State, pick: int) -> bool:
    """Tell whether `pick` in place of the next one still begins its section anew: it is of the same section."""
    if not state.anew or pick >= piece.picks or state.next_pick >= piece.picks:
        return False
    return piece.section_at(pick) == piece.section_at(state.next_pick)


def laps_needed(until_cm: float | None, density: float | None, picks: int) -> int | None:
    """Return how many repeats of so many picks reach a length, one at least; None where there is none to reach."""
    if until_cm is None or density is None:
        return None
    return max(1, ceil((until_cm * density - CLOSE_ENOUGH_PICKS) / picks))


def picks_per_cm(piece: Piece, state: State) -> float | None:
    """Return the picks per cm on the loom: as last measured under tension, else as planned, else None."""
    measured = state.measured.picks_per_cm if state.measured else None
    return measured if measured is not None else piece.planned_picks_per_cm()


def woven_cm(piece: Piece, state: State) -> float | None:
    """Return the length of this piece woven so far, in cm under tension; None where neither measure nor plan tells.

    The newest measure counts, and the picks since then at the picks per cm.
    """
    density = picks_per_cm(piece, state)
    if density is None:
        return None
    if state.measured is None:
        return state.cloth.picks / density
    return max(0.0, state.measured.centimetres + (state.cloth.picks - state.measured.picks) / density)


def tieup_on(warp: Warp, state: State) -> TieUp | None:
    """Return the tie-up that is on the loom, as far as it is known; None where nothing is known, or there is none."""
    base = _tied_last(warp, state)
    return with_ticks(warp, base or (), state.ticks) if state.ticks else base


def with_ticks(warp: Warp, tieup: TieUp, ticks: tuple[Tick, ...]) -> TieUp:
    """Return a tie-up with these treadles tied anew."""
    ties = dict(enumerate(tieup))
    for treadle, piece, stage in ticks:
        ties[treadle] = warp.pieces[piece].stages[stage].tieup[treadle]
    return tuple(ties.get(treadle, Tie()) for treadle in range(max(ties, default=-1) + 1))


def _tied_last(warp: Warp, state: State) -> TieUp | None:
    if state.tied is not None:
        stages = warp.pieces[state.tied[0]].stages
        return stages[state.tied[1]].tieup if stages else None
    if warp.loom.present is None:
        return None
    # Cords to shafts without an end change no cloth: no answer takes them into account.
    counted = warp.cord_shafts()
    return tuple(Tie(common(tie.up, counted), common(tie.down, counted)) for tie in warp.loom.present)


def re_tie_due(warp: Warp, state: State) -> int | None:
    """Return the stage (index) that must be tied before the next pick; None where the loom is ready for it."""
    piece = warp.pieces[state.piece]
    stage = piece.stage_at(state.next_pick)
    if stage is None:
        return None
    on_loom, wanted = tieup_on(warp, state), piece.stages[stage].tieup
    ready = on_loom == wanted or (on_loom is not None and not cord_changes(on_loom, wanted))
    return None if ready else stage


def side_of(piece: Piece, state: State, yarn: int) -> Side:
    """Return the side on which the shuttle of this yarn (index) lies now, as far as it is known (`side_known`)."""
    shuttle = state.shuttles[yarn]
    start = piece.start_of(yarn)
    return start if (shuttle.picks % 2 == 0) is not shuttle.turned else start.opposite
