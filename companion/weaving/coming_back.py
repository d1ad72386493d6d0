"""Coming back to the loom: what was last, how the cloth should look, what is next, and one question."""

from __future__ import annotations

from dataclasses import dataclass

from companion.draft.facing import Side
from companion.draft.masks import Shed
from companion.remap.loom.loom import Footing
from companion.weaving.pick_view import FellRow, PickView, rows_at_fell, this_pick
from companion.weaving.progress import Progress
from companion.weaving.state import Note, OpenFault
from companion.weaving.warp import Warp

ROWS_SHOWN = 8
"""Rows at the fell that are shown to compare with the cloth."""


@dataclass(frozen=True, slots=True)
class LastPick:
    """The newest pick in the cloth: how it was made, and the side where its shuttle lies now, if known.

    What was `laid_in` lies on no side.
    """

    pick: int
    shed: Shed
    footing: Footing | None
    yarn: int
    shuttle: str
    lies: Side
    side_known: bool = True
    laid_in: bool = False


@dataclass(frozen=True, slots=True)
class ComingBack:
    """`away_ms` since the last entry (None where there is none); `rows` at the fell, newest first.

    The question that goes with it: does the cloth look like `rows`? Yes: `decide.resume`. No: the place-finder.
    """

    away_ms: int | None
    last: LastPick | None
    rows: tuple[FellRow, ...]
    next: PickView | None
    notes: tuple[Note, ...]
    open_faults: tuple[OpenFault, ...]


def coming_back(warp: Warp, progress: Progress, now_ms: int, rows: int = ROWS_SHOWN) -> ComingBack:
    """Return what a weaver needs to see who comes to the loom at `now_ms` (Unix time in milliseconds)."""
    state = progress.now
    piece = warp.pieces[state.piece]
    lying = rows_at_fell(warp, progress, rows)
    last = None
    if lying:
        top = lying[0]
        footing = piece.footings[top.pick] if piece.footings else None
        last = LastPick(
            top.pick,
            top.shed,
            footing,
            top.yarn,
            piece.draft.yarns[top.yarn].name,
            top.went_to,
            top.side_known,
            top.laid_in,
        )
    return ComingBack(
        away_ms=max(0, now_ms - state.at_ms) if state.number else None,
        last=last,
        rows=lying,
        next=this_pick(warp, progress),
        notes=state.notes,
        open_faults=state.open_faults,
    )
