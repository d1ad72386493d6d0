"""Whether the pieces of a new warp are woven with the same feet, asked by touch: ways that differ, with their costs."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from companion.draft.units import counted
from companion.present.asking import Answer, Asked
from companion.present.footing_in_words import how_often
from companion.present.new_warp import Lookup, NewWarp, Telling, ask_new_warp, between_words, cords_between

FEET_DIFFER = "Feet differ from piece to piece"
FEET_SAME = "Same feet, tie-up differs"
ALL_SAME = "Same feet, same tie-up"


def ask_feet(own: NewWarp, same: NewWarp | None, why_not: str, lookup: Lookup) -> Asked[Telling]:
    """Ask which way to weave the pieces; `why_not` says why there is no second one.

    Where the pieces have the same feet anyhow there is one way; whoever touches it wants them to stay the same.
    """
    ways = [own] if same is None else [own, same]
    if len(set(own.feet)) == 1:
        # Two ways of one name would be no choice: the cheaper one.
        ways, why_not = [replace(min(ways, key=cords_between), same_feet=True)], ""
    named = [(_called(warp), warp) for warp in ways]
    rows: list[Answer[Telling]] = [
        Answer(words, partial(ask_new_warp, warp, lookup), detail=_detail(warp)) for words, warp in named
    ]
    both_feet = tuple(f"{words}: {_both_feet(warp)}" for words, warp in named)
    return Asked(
        "Which feet?",
        tuple(rows),
        detail="The cloth is the same either way" if len(ways) > 1 else "One way was found",
        lines=(why_not,) if why_not else both_feet,
        as_list=True,
        bit_by_bit="which feet",
        topic="A new warp",
    )


def _called(warp: NewWarp) -> str:
    if len(set(warp.feet)) > 1:
        return FEET_DIFFER
    tied = {tuple(stage.tieup for stage in piece.answer.stages) for piece in warp.pieces}
    return FEET_SAME if len(tied) > 1 else ALL_SAME


def _detail(warp: NewWarp) -> str:
    return f"{counted(len(set(warp.feet)), 'treadling')}, {between_words(warp)}"


def _both_feet(warp: NewWarp) -> str:
    return how_often([footing for piece in warp.feet for footing in piece])
