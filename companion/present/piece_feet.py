"""Whether the pieces of a new warp are woven with the same feet, asked by touch: both ways with what they come to."""

from __future__ import annotations

from functools import partial

from companion.draft.units import counted
from companion.present.asking import Answer, Asked
from companion.present.new_warp import Lookup, NewWarp, Telling, ask_new_warp, between_words

FEET_DIFFER = "Feet differ from piece to piece"
FEET_SAME = "Same feet, tie-up differs"


def ask_feet(own: NewWarp, same: NewWarp | None, why_not: str, lookup: Lookup) -> Asked[Telling]:
    """Ask which way to weave the pieces; `why_not` says why there is no second one."""
    ways = ((FEET_DIFFER, own),) if same is None else ((FEET_DIFFER, own), (FEET_SAME, same))
    rows: list[Answer[Telling]] = [
        Answer(words, partial(ask_new_warp, warp, lookup), detail=_detail(warp)) for words, warp in ways
    ]
    return Asked(
        "Which feet?",
        tuple(rows),
        detail="The cloth is the same either way",
        lines=(why_not,) if same is None else tuple(f"{words}: {_both_feet(warp)}" for words, warp in ways),
        as_list=True,
        bit_by_bit="which feet",
    )


def _detail(warp: NewWarp) -> str:
    return f"{counted(len(set(warp.feet)), 'treadling')}, {between_words(warp)}"


def _both_feet(warp: NewWarp) -> str:
    footings = [footing for piece in warp.feet for footing in piece]
    both = sum(bool(footing.left and footing.right) for footing in footings)
    return f"both feet at {both} of {counted(len(footings), 'pick')}" if both else "one foot at every pick"
