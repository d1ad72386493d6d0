"""Which end a fault is in, by what the weaver can tell at the loom: the heddle that is empty, or the ends counted.

A broken end has left a heddle empty on one shaft; a skipped one shows in the cloth so many ends from a selvedge.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from companion.draft.facing import Facing, Side
from companion.draft.model import Draft
from companion.present.asking import Answer, Asked, FlowStep, Result
from companion.present.number_pad import ask_number

Then = Callable[[int], FlowStep[Result]]


def ask_end(draft: Draft, facing: Facing, then: Then[Result]) -> Asked[Result]:
    """Ask for an end of the warp, and go on with its index."""
    ends = range(draft.ends)
    used = sorted({shaft for shaft in draft.threading if shaft is not None})
    shafts: list[Answer[Result]] = [
        Answer(f"Heddle on shaft {shaft + 1}", partial(_ask_heddle, draft, facing, shaft, then)) for shaft in used
    ]
    counts = tuple(
        Answer(f"Count from the {side.value}", partial(_ask_count, "Which end", ends, facing, side, then))
        for side in Side
    )
    return Asked(
        "Which end?", (*counts, *shafts), detail="count all ends, or the heddles of one shaft", topic="Which end"
    )


def end_words(draft: Draft, end: int, facing: Facing) -> str:
    """Return an end as people count it, with its shaft: `end 12 from the right, on shaft 4`."""
    shaft = draft.threading[end]
    counted = f"end {end + 1} from the {facing.first_end.value}"
    return counted if shaft is None else f"{counted}, on shaft {shaft + 1}"


def _ask_heddle(draft: Draft, facing: Facing, shaft: int, then: Then[Result]) -> Asked[Result]:
    heddles = [end for end, on in enumerate(draft.threading) if on == shaft]
    counts = tuple(
        Answer(
            f"Count from the {side.value}",
            partial(_ask_count, f"Which heddle of shaft {shaft + 1}", heddles, facing, side, then),
        )
        for side in Side
    )
    return Asked(f"The heddle on shaft {shaft + 1}", counts, detail=f"of its {len(heddles)}")


def _ask_count(what: str, ends: Sequence[int], facing: Facing, side: Side, then: Then[Result]) -> Asked[Result]:
    def counted(number: int) -> FlowStep[Result]:
        return then(ends[facing.end_from(side, number, len(ends))])

    return ask_number(f"{what} from the {side.value}", len(ends), counted)
