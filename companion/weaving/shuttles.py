"""The shuttles of the piece on the loom: where each lies, what its next pick is, and how far its bobbin goes.

Weft per pick comes from the best source there is, and says which: bobbins of known length that were woven up; else the
width in the reed with a share for the weft's own bending. A bobbin is taken to be empty when it is changed, so what is
learned is never too small a need.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from companion.draft.facing import Side
from companion.weaving.progress import Progress
from companion.weaving.state import CLOSE_ENOUGH_PICKS, Shuttle, State, lying_newest, picks_per_cm, side_of
from companion.weaving.warp import Piece, Warp

WEFT_TAKE_UP = 0.1
"""The weft bends too: a tenth more than the width in the reed (common practice, no source)."""
FEW_PICKS = 10
"""A bobbin that goes no further than this is worth a word before it runs out in the shed."""


class WeftSource(Enum):
    """Where the weft per pick is known from."""

    LEARNED = "learned from bobbins woven up"
    WIDTH = "worked out from the width in the reed"


@dataclass(frozen=True, slots=True)
class WeftPerPick:
    """Metres of weft that one pick takes, between which bounds, and where that is known from."""

    metres: float
    least: float
    most: float
    source: WeftSource


@dataclass(frozen=True, slots=True)
class ShuttleView:
    """One shuttle: `next_use` is the pick (index) next woven with it, None where it is no longer needed.

    `metres_left` and `picks_left` on the bobbin are None where its length or the weft per pick is unknown.
    `running_out` warns that the bobbin goes FEW_PICKS picks or fewer; `ask_length` that its length was never told.
    """

    yarn: int
    name: str
    side: Side
    side_known: bool
    picks: int
    next_use: int | None
    per_pick: WeftPerPick | None
    metres_left: float | None
    picks_left: int | None
    running_out: bool
    ask_length: bool


def shuttles(warp: Warp, progress: Progress) -> tuple[ShuttleView, ...]:
    """Return the shuttles of the piece on the loom, in order of first use."""
    state = progress.now
    piece = warp.pieces[state.piece]
    views = []
    for yarn in piece.shuttles:
        shuttle = state.shuttles[yarn]
        per_pick = weft_per_pick(warp, shuttle)
        metres_left = _metres_left(shuttle, per_pick)
        picks_left = None if metres_left is None or per_pick is None else int(metres_left / per_pick.metres + 1e-9)
        next_use = _next_use(piece, state, yarn)
        views.append(
            ShuttleView(
                yarn=yarn,
                name=piece.draft.yarns[yarn].name,
                side=side_of(piece, state, yarn),
                side_known=shuttle.side_known,
                picks=shuttle.picks,
                next_use=next_use,
                per_pick=per_pick,
                metres_left=metres_left,
                picks_left=picks_left,
                running_out=picks_left is not None and picks_left <= FEW_PICKS and next_use is not None,
                ask_length=shuttle.bobbin_metres is None and yarn not in piece.hand_laid,
            )
        )
    return tuple(views)


def weft_per_pick(warp: Warp, shuttle: Shuttle) -> WeftPerPick | None:
    """Return the weft that one pick with this shuttle takes, from the best source; None where there is none."""
    width_cm = warp.width_cm
    by_width = []
    if width_cm is not None and width_cm > 0:
        by_width = [width_cm / 100 * (1 + take_up) for take_up in (0, WEFT_TAKE_UP, 2 * WEFT_TAKE_UP)]
    if not shuttle.bobbins:
        return WeftPerPick(by_width[1], by_width[0], by_width[2], WeftSource.WIDTH) if by_width else None
    mean = sum(bobbin.metres for bobbin in shuttle.bobbins) / sum(bobbin.picks for bobbin in shuttle.bobbins)
    # One bobbin says nothing of how much they differ: then the width bounds it as well.
    bounds = [bobbin.metres / bobbin.picks for bobbin in shuttle.bobbins]
    bounds += by_width if len(bounds) == 1 else []
    return WeftPerPick(mean, min(bounds), max(bounds), WeftSource.LEARNED)


def _next_use(piece: Piece, state: State, yarn: int) -> int | None:
    """Return the pick (index) next woven with this yarn (index): of the section's next lap, where one is to come."""
    pick = state.next_pick
    listed = piece.next_use(yarn, pick)
    section = piece.section_at(pick)
    lap, until_cm = piece.section_picks(section), piece.sections[section].until_cm
    if until_cm is None or pick not in lap or (listed is not None and listed in lap):
        return listed
    density = picks_per_cm(piece, state)
    after_this_lap = lying_newest(state, lap) + lap.stop - pick
    if density is not None and after_this_lap >= until_cm * density - CLOSE_ENOUGH_PICKS:
        return listed
    in_next_lap = piece.next_use(yarn, lap.start)
    return in_next_lap if in_next_lap is not None and in_next_lap in lap else listed


def _metres_left(shuttle: Shuttle, per_pick: WeftPerPick | None) -> float | None:
    if shuttle.bobbin_metres is None or per_pick is None:
        return None
    return max(0.0, shuttle.bobbin_metres - shuttle.bobbin_picks * per_pick.metres)
