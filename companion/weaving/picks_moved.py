"""What a pick does to the cloth, to its shuttle and to the pace: woven, taken out, or told of afterwards."""

from __future__ import annotations

from dataclasses import replace

from companion.draft.facing import Side
from companion.weaving.errors import ContradictionError
from companion.weaving.state import Bobbin, Shuttle, State, following, side_of, stays_anew, with_next_woven
from companion.weaving.warp import Piece

BOBBINS_KEPT = 8
"""How many woven-up bobbins of each shuttle are remembered: the newest tell the weft per pick best."""
BLOCK_PICKS = 20
"""The pace is taken over blocks of so many picks, so that a single slow pick (a tangle, a bobbin) counts for little."""
BLOCKS_KEPT = 20
"""How many of the newest blocks tell the pace."""


def pick_woven(piece: Piece, state: State, pick: int) -> State:
    """Return the state with this pick on top of the cloth; raises ContradictionError where another one was next."""
    if pick != state.next_pick or pick >= piece.picks:
        raise ContradictionError(
            f"entry {state.number} tells of pick {pick + 1} woven where pick {state.next_pick + 1} was next; "
            "the journal does not belong to this warp"
        )
    cloth = with_next_woven(state)
    if (state.woven - state.told + 1) % BLOCK_PICKS == 0:
        spent = state.at_loom_ms - state.block_began_at_loom_ms
        blocks = (*state.block_ms, spent)[-BLOCKS_KEPT:]
        state = state._replace(block_began_at_loom_ms=state.at_loom_ms, block_ms=blocks)
    return state._replace(
        cloth=cloth,
        next_pick=following(piece, state, cloth, pick),
        anew=False,
        woven=state.woven + 1,
        shuttles=_with_pick(piece, state.shuttles, pick, 1),
    )


def pick_taken_out(piece: Piece, state: State, pick: int) -> State:
    """Return the state without the newest pick; raises ContradictionError where this is not it."""
    if state.cloth.newest != pick:
        raise ContradictionError(
            f"entry {state.number} tells of pick {pick + 1} taken out, which is not the newest; "
            "the journal does not belong to this warp"
        )
    return state._replace(
        cloth=state.cloth.taken_out(),
        next_pick=pick,
        anew=state.cloth.begins_anew,
        taken_out=state.taken_out + 1,
        shuttles=_with_pick(piece, state.shuttles, pick, -1),
    )


def cloth_told(piece: Piece, state: State, taken_out: int, woven: tuple[int, ...]) -> State:
    """Return the state with the cloth as it was told: picks out of it, then picks (indices) on it, without time.

    A section that was begun anew with the last of the picks out of it, or is to be, begins so with the next pick on it.
    """
    shuttles = state.shuttles
    for _ in range(taken_out):
        pick = state.cloth.newest
        if pick is not None:
            state = state._replace(cloth=state.cloth.taken_out(), next_pick=pick, anew=state.cloth.begins_anew)
            shuttles = _with_pick(piece, shuttles, pick, -1)
    cloth = state.cloth
    for place, pick in enumerate(woven):
        cloth = cloth.woven(pick, place == 0 and stays_anew(piece, state, pick))
        shuttles = _with_pick(piece, shuttles, pick, 1)
    newest, begins_anew = cloth.newest, state.anew and not woven
    if not begins_anew:
        state = state._replace(next_pick=0 if newest is None else following(piece, state, cloth, newest))
    return state._replace(
        cloth=cloth,
        anew=begins_anew,
        woven=state.woven + len(woven),
        told=state.told + len(woven),
        taken_out=state.taken_out + taken_out,
        shuttles=shuttles,
    )


def _with_pick(piece: Piece, shuttles: tuple[Shuttle, ...], pick: int, more: int) -> tuple[Shuttle, ...]:
    """Return the shuttles after this pick (index) was woven (`more` is 1) or taken out (-1)."""
    yarn = piece.draft.weft[pick]
    shuttle = shuttles[yarn]
    # What is laid in carries no shuttle across, and comes off no bobbin.
    thrown = 0 if pick in piece.laid_in else more
    changed = Shuttle(
        shuttle.picks + more,
        shuttle.bobbin_metres,
        # Weft of the bobbin before comes back as well when more is taken out than was woven from this one.
        max(0, shuttle.bobbin_picks + thrown),
        shuttle.bobbins,
        shuttle.turned if thrown else not shuttle.turned,
        shuttle.side_known,
    )
    return (*shuttles[:yarn], changed, *shuttles[yarn + 1 :])


def with_bobbin(shuttles: tuple[Shuttle, ...], yarn: int, metres: float | None) -> tuple[Shuttle, ...]:
    """Return the shuttles with a fresh bobbin in that of this yarn (index)."""
    shuttle = shuttles[yarn]
    bobbins = shuttle.bobbins
    if shuttle.bobbin_metres is not None and shuttle.bobbin_picks > 0:
        bobbins = (*bobbins, Bobbin(shuttle.bobbin_metres, shuttle.bobbin_picks))[-BOBBINS_KEPT:]
    changed = replace(shuttle, bobbin_metres=metres, bobbin_picks=0, bobbins=bobbins)
    return (*shuttles[:yarn], changed, *shuttles[yarn + 1 :])


def sides_told(
    piece: Piece, state: State, left: tuple[int, ...], right: tuple[int, ...], unknown: tuple[int, ...]
) -> State:
    """Return the state with these shuttles (yarns, as indices) where they were seen, and with others lost."""
    shuttles = list(state.shuttles)
    for side, yarns in ((Side.LEFT, left), (Side.RIGHT, right)):
        for yarn in yarns:
            shuttle = shuttles[yarn]
            elsewhere = side_of(piece, state, yarn) is not side
            shuttles[yarn] = replace(shuttle, turned=shuttle.turned is not elsewhere, side_known=True)
    for yarn in unknown:
        shuttles[yarn] = replace(shuttles[yarn], side_known=False)
    return state._replace(shuttles=tuple(shuttles))
