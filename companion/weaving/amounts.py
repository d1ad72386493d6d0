"""Amounts: picks and warp that were planned, are used, and are left. Lengths of cloth are under tension, in cm.

- A section that is woven to a length counts as the fewest whole repeats that reach it, at the picks per cm.
- Warp used = woven length / (1 - take-up) + fringe + spacer; loom waste comes off once for the warp.
- Where the weaver plans a piece longer or shorter than its treadling makes, the longer counts for warp and weft: better
  to be warned for nothing than to run out. The weft beyond the treadling is that of the treadling over again, from its
  first pick on, its sections woven to their lengths again; picks to weave and time stay those of the treadling.
- Where the picks per cm are neither planned nor measured, a length is None and so is everything that builds on it.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from math import ceil

from companion.draft.laying_in import Weft
from companion.weaving.progress import Progress
from companion.weaving.state import CLOSE_ENOUGH_PICKS, State, laps_needed, lying_newest, picks_per_cm, woven_cm
from companion.weaving.warp import Piece, Warp

AGREE_CM = 1.0
"""A planned length and what the treadling makes agree when they differ by no more than this: no word is lost on it."""


@dataclass(frozen=True, slots=True)
class PieceWarp:
    """A piece's share of the warp, in cm: woven length planned, and warp that it takes with its fringe and spacer.

    For the piece on the loom `warp_cm` is what it takes in all, the woven part as it is and the rest as planned.
    """

    piece: int
    name: str
    woven_cm: float | None
    warp_cm: float | None


@dataclass(frozen=True, slots=True)
class WarpLeft:
    """The warp, in cm: wound, used so far (waste included), left to weave with, left over at the end.

    `short_piece` is the first piece (index) that the warp does not reach for, `short_cm` by how much it falls short.
    """

    wound_cm: float
    used_cm: float | None
    left_cm: float | None
    over_cm: float | None
    short_piece: int | None
    short_cm: float
    pieces: tuple[PieceWarp, ...]


@dataclass(frozen=True, slots=True)
class Density:
    """Picks per cm: as planned, as measured last under tension, and as measured last relaxed; None where unknown."""

    planned: float | None
    measured: float | None
    relaxed: float | None


@dataclass(frozen=True, slots=True)
class PicksAhead:
    """Picks yet to weave in the piece, by weft; `certain` is False where a length has no picks per cm."""

    by_weft: tuple[tuple[Weft, int], ...]
    certain: bool

    @property
    def picks(self) -> int:
        """All of them together."""
        return sum(picks for _, picks in self.by_weft)

    @property
    def by_yarn(self) -> tuple[tuple[int, int], ...]:
        """The same by yarn (index), thrown and laid in together."""
        count: Counter[int] = Counter()
        for weft, picks in self.by_weft:
            count[weft.yarn] += picks
        return tuple(count.items())


def density(piece: Piece, state: State) -> Density:
    """Return the picks per cm of the piece on the loom, planned and measured."""
    return Density(
        planned=piece.planned_picks_per_cm(),
        measured=state.measured.picks_per_cm if state.measured else None,
        relaxed=state.relaxed.picks_per_cm if state.relaxed else None,
    )


def picks_ahead(piece: Piece, state: State) -> PicksAhead:
    """Return the picks yet to weave in the piece on the loom, repeats of sections woven to a length included."""
    if state.finished:
        return PicksAhead((), True)
    return _picks_from(piece, state.next_pick, picks_per_cm(piece, state), state)


def planned_picks(piece: Piece, picks_each_cm: float | None) -> PicksAhead:
    """Return all picks of a piece, at `picks_each_cm`."""
    return _picks_from(piece, 0, picks_each_cm, None)


def weft_picks_ahead(piece: Piece, state: State) -> PicksAhead:
    """Return the picks that the piece on the loom still takes weft for: to its end, or its planned length if longer."""
    ahead, woven = picks_ahead(piece, state), woven_cm(piece, state)
    if state.finished or piece.length_cm is None or woven is None:
        return ahead
    return _to_length(piece, ahead, piece.length_cm - woven, picks_per_cm(piece, state))


def planned_weft_picks(piece: Piece) -> PicksAhead:
    """Return all picks that a piece takes weft for as planned: of its treadling, or its planned length if longer."""
    picks_each_cm = piece.planned_picks_per_cm()
    return _to_length(piece, planned_picks(piece, picks_each_cm), piece.length_cm, picks_each_cm)


def warp_left(warp: Warp, progress: Progress) -> WarpLeft | None:
    """Return how the warp goes on; None where its length was not given."""
    winding = warp.winding
    if winding is None:
        return None
    state = progress.now
    pieces = tuple(_piece_warp(warp, index, state) for index in range(len(warp.pieces)))
    used: float | None = warp.loom.loom_waste_cm
    for piece in pieces[: state.piece]:
        used = _plus(used, piece.warp_cm)
    now_cm = woven_cm(warp.pieces[state.piece], state)
    used = _plus(used, None if now_cm is None else now_cm / (1 - winding.take_up))
    need: float | None = warp.loom.loom_waste_cm
    short_piece, short_cm = None, 0.0
    for piece in pieces:
        need = _plus(need, piece.warp_cm)
        if short_piece is None and need is not None and need > winding.length_cm + 1e-9:
            short_piece, short_cm = piece.piece, need - winding.length_cm
    return WarpLeft(
        wound_cm=winding.length_cm,
        used_cm=used,
        left_cm=None if used is None else winding.length_cm - used,
        over_cm=None if need is None else winding.length_cm - need,
        short_piece=short_piece,
        short_cm=short_cm,
        pieces=pieces,
    )


def warp_needed(warp: Warp) -> float | None:
    """Return the warp that all pieces take as planned, fringes and loom waste included, in cm; None where unknown."""
    need: float | None = warp.loom.loom_waste_cm
    for piece in pieces_planned(warp):
        need = _plus(need, piece.warp_cm)
    return need


def pieces_planned(warp: Warp) -> tuple[PieceWarp, ...]:
    """Return each piece's share of the warp as planned, before anything is woven."""
    return tuple(_piece_as_planned(warp, index) for index in range(len(warp.pieces)))


def planned_cm(piece: Piece) -> float | None:
    """Return the length that a piece is planned to have on the loom, in cm under tension; None where nothing tells.

    Both the treadling, at the planned picks per cm, and the weaver may tell it: then the longer counts.
    """
    return _longer(treadled_cm(piece), piece.length_cm)


def treadled_cm(piece: Piece) -> float | None:
    """Return the length that the treadling's picks make at the planned picks per cm; None where that is unknown."""
    picks_each_cm = piece.planned_picks_per_cm()
    return _length_of(planned_picks(piece, picks_each_cm), picks_each_cm)


def finished_cm(warp: Warp, woven: float) -> float | None:
    """Return what `woven` cm under tension will measure off the loom and washed, by the winding's shrinkage."""
    return None if warp.winding is None else woven * (1 - warp.winding.shrinkage)


def _picks_from(piece: Piece, pick: int, picks_each_cm: float | None, state: State | None) -> PicksAhead:
    """Count the picks from `pick` on; `state` tells how much of its section lies in the cloth already."""
    count = piece.weft_picks(range(pick, piece.picks))
    certain = True
    for index, section in enumerate(piece.sections):
        picks = piece.section_picks(index)
        if section.until_cm is None or picks.stop <= pick:
            continue
        if picks_each_cm is None:
            certain = False
            continue
        begun = pick in picks
        lying = lying_newest(state, picks) if state and begun else 0
        after_this_lap = lying + (picks.stop - max(pick, picks.start))
        more = max(0, ceil((section.until_cm * picks_each_cm - after_this_lap - CLOSE_ENOUGH_PICKS) / len(picks)))
        for weft, number in piece.weft_picks(picks).items():
            count[weft] += number * more
    return PicksAhead(tuple(sorted(count.items())), certain)


def _to_length(piece: Piece, ahead: PicksAhead, length_cm: float | None, picks_each_cm: float | None) -> PicksAhead:
    """Return the picks ahead, and as many more, from the first of the treadling on, as this much cloth takes."""
    if length_cm is None or picks_each_cm is None or not piece.picks:
        return ahead
    more = ceil(length_cm * picks_each_cm - CLOSE_ENOUGH_PICKS) - ahead.picks
    if more <= 0:
        return ahead
    once = planned_picks(piece, picks_each_cm)
    times, rest = divmod(more, once.picks)
    count = _first_woven(piece, rest, picks_each_cm)
    count.update(dict(ahead.by_weft))
    for weft, picks in once.by_weft:
        count[weft] += picks * times
    return PicksAhead(tuple(sorted(count.items())), ahead.certain)


def _first_woven(piece: Piece, picks: int, picks_each_cm: float) -> Counter[Weft]:
    """Count the first so many picks of the piece by weft, in the order of weaving: all laps of a section come first."""
    count: Counter[Weft] = Counter()
    for index, section in enumerate(piece.sections):
        lap = piece.section_picks(index)
        if not lap:
            continue
        woven = min(picks, len(lap) * (laps_needed(section.until_cm, picks_each_cm, len(lap)) or 1))
        laps, begun = divmod(woven, len(lap))
        for weft, number in piece.weft_picks(lap).items():
            count[weft] += number * laps
        count.update(piece.weft_picks(lap[:begun]))
        picks -= woven
    return count


def _piece_warp(warp: Warp, index: int, state: State) -> PieceWarp:
    if index > state.piece:
        return _piece_as_planned(warp, index)
    piece = warp.pieces[index]
    if index < state.piece:
        return _with_warp(warp, index, state.earlier_cm[index])
    woven, picks_each_cm = woven_cm(piece, state), picks_per_cm(piece, state)
    if state.finished:
        return _with_warp(warp, index, woven)
    more = _length_of(picks_ahead(piece, state), picks_each_cm)
    return _with_warp(warp, index, _longer(_plus(woven, more), piece.length_cm))


def _piece_as_planned(warp: Warp, index: int) -> PieceWarp:
    return _with_warp(warp, index, planned_cm(warp.pieces[index]))


def _with_warp(warp: Warp, index: int, woven: float | None) -> PieceWarp:
    piece = warp.pieces[index]
    take_up = warp.winding.take_up if warp.winding else 0.0
    unwoven = piece.fringe_cm + piece.spacer_cm
    return PieceWarp(index, piece.name, woven, None if woven is None else woven / (1 - take_up) + unwoven)


def _length_of(picks: PicksAhead, picks_each_cm: float | None) -> float | None:
    return picks.picks / picks_each_cm if picks_each_cm is not None and picks.certain else None


def _longer(one: float | None, other: float | None) -> float | None:
    return max((length for length in (one, other) if length is not None), default=None)


def _plus(total: float | None, more: float | None) -> float | None:
    return None if total is None or more is None else total + more
