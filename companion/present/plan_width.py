"""The draft of a planned cloth made as wide as the plan: its ends to the number, or in whole repeats."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from companion.draft.errors import DraftError
from companion.draft.model import Draft
from companion.draft.threaded_to import threaded_to
from companion.draft.units import Units, counted, measured_words
from companion.present.asking import Answer, Asked
from companion.weaving.cloth_plan import ClothPlanned, ClothWished, PlanFact

SO_WIDE = "Make the draft so wide"
AS_PLANNED = "As planned"


def so_wide(
    planned: ClothPlanned, units: Units, back: Callable[[ClothWished], Asked[ClothWished]]
) -> tuple[Answer[ClothWished], ...]:
    """Return the way to a draft of as many ends as the plan has; none where it has them, or there is no draft."""
    draft = planned.wished.draft
    if draft is None or draft.ends in (0, planned.plan.ends):
        return ()
    return (Answer(SO_WIDE, partial(_ask_width, planned, draft, units, back)),)


def _ask_width(
    planned: ClothPlanned,
    draft: Draft,
    units: Units,
    back: Callable[[ClothWished], Asked[ClothWished]],
    problem: str = "",
) -> Asked[ClothWished]:
    """Offer the ends of the plan, and the whole repeats of the draft next to them, each with its finished width."""
    wished, ends = planned.wished, planned.plan.ends
    whole, over = divmod(ends, draft.ends)

    def threaded(number: int, width_cm: float) -> Asked[ClothWished]:
        try:
            wide = threaded_to(draft, number)
        except DraftError as error:
            return _ask_width(planned, draft, units, back, str(error))
        return back(replace(wished, draft=wide, told={**wished.told, PlanFact.WIDTH: width_cm}))

    def row(words: str, number: int, width_cm: float, made_of: str = "") -> Answer[ClothWished]:
        wide = f"{counted(number, 'end')}{made_of}; finished {measured_words(width_cm, units)} wide"
        return Answer(words, partial(threaded, number, width_cm), detail=wide)

    exact = row(AS_PLANNED, ends, planned.wish.width_cm, f", {_times(whole)} and {over} more" if whole else "")
    repeats = [
        row(_times(times), times * draft.ends, planned.wish.width_cm * times * draft.ends / ends)
        for times in (whole, whole + 1)
        if times
    ]
    return Asked(
        "How wide?",
        (*((exact,) if over else ()), *repeats),
        detail=problem or f"The draft has {counted(draft.ends, 'end')}, the plan {ends}",
        as_list=True,
        own=(problem,) if problem else (),
    )


def _times(number: int) -> str:
    return counted(number, "repeat")
