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
ThenFrom = Callable[[int, Side], FlowStep[Result]]
"""Goes on with the index of an end, and the side from which the weaver counted."""


def ask_end(draft: Draft, facing: Facing, then: ThenFrom[Result]) -> Asked[Result]:
    """Ask for an end of the warp, the side from which this weaver reads first, and go on with it."""
    ends = range(draft.ends)
    used = sorted({shaft for shaft in draft.threading if shaft is not None})
    shafts: list[Answer[Result]] = [
        Answer(f"Heddle on shaft {shaft + 1}", partial(_ask_heddle, draft, facing, shaft, then)) for shaft in used
    ]
    counts = tuple(
        Answer(f"Count from the {side.value}", partial(_ask_count, "Which end", ends, facing, side, then))
        for side in _sides(facing)
    )
    return Asked(
        "Which end?", (*counts, *shafts), detail="count all ends, or the heddles of one shaft", topic="Which end"
    )


def end_words(draft: Draft, end: int, facing: Facing, said: Side | None = None) -> str:
    """Return an end as this weaver reads, with its shaft: `end 12 from the right, on shaft 4`.

    One that was `said` from the other side is said back so, too: `end 149 from the right, 12 from the left`.
    """
    shaft, counted = draft.threading[end], end_counted(draft, end, facing, said)
    return counted if shaft is None else f"{counted}, on shaft {shaft + 1}"


def end_counted(draft: Draft, end: int, facing: Facing, said: Side | None = None) -> str:
    """Return an end without its shaft: `end 12 from the right`; see `end_words`."""
    counted = f"end {end + 1} from the {facing.first_end.value}"
    if said is None or said is facing.first_end:
        return counted
    return f"{counted}, {draft.ends - end} from the {said.value}"


def _sides(facing: Facing) -> tuple[Side, Side]:
    return facing.first_end, facing.first_end.opposite


def _ask_heddle(draft: Draft, facing: Facing, shaft: int, then: ThenFrom[Result]) -> Asked[Result]:
    heddles = [end for end, on in enumerate(draft.threading) if on == shaft]
    counts = tuple(
        Answer(
            f"Count from the {side.value}",
            partial(_ask_count, f"Which heddle of shaft {shaft + 1}", heddles, facing, side, then),
        )
        for side in _sides(facing)
    )
    return Asked(f"The heddle on shaft {shaft + 1}", counts, detail=f"of its {len(heddles)}")


def _ask_count(what: str, ends: Sequence[int], facing: Facing, side: Side, then: ThenFrom[Result]) -> Asked[Result]:
    def counted(number: int) -> FlowStep[Result]:
        return then(ends[facing.end_from(side, number, len(ends))], side)

    return ask_number(f"{what} from the {side.value}", len(ends), counted)
