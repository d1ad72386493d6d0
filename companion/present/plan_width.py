"""The draft of a planned cloth made as wide as the plan: its ends to the number, or in whole repeats."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from companion.draft.errors import DraftError
from companion.draft.model import Draft
from companion.draft.threaded_to import threaded_to
from companion.draft.units import Units, counted, measured_words
from companion.present.asking import Answer, Answered, Asked, FlowStep
from companion.weaving.cloth_plan import ClothPlanned, ClothWished, PlanFact, plan_cloth
from companion.weaving.errors import WeavingError

SO_WIDE = "Make the draft so wide"
AS_PLANNED = "As planned"
AS_IT_IS = "As it is"


def so_wide(
    planned: ClothPlanned, units: Units, back: Callable[[ClothWished], Asked[ClothWished]]
) -> tuple[Answer[ClothWished], ...]:
    """Return the way to a draft of as many ends as the plan has; none where it has them, or there is no draft."""
    draft = planned.wished.draft
    if draft is None or draft.ends in (0, planned.plan.ends):
        return ()
    return (Answer(SO_WIDE, partial(_ask_width, planned, draft, units, back)),)


def ask_width_first(wished: ClothWished, units: Units) -> Asked[ClothWished] | None:
    """Ask how wide the draft shall be before it goes on a loom; None where it is as wide as its plan, or has none."""
    try:
        planned = plan_cloth(wished)
    except WeavingError:
        return None
    draft = wished.draft
    if draft is None or draft.ends in (0, planned.plan.ends):
        return None
    as_it_is: Answer[ClothWished] = Answer(AS_IT_IS, partial(Answered, wished))
    return _ask_width(planned, draft, units, Answered, foot=(as_it_is,))


def _ask_width(
    planned: ClothPlanned,
    draft: Draft,
    units: Units,
    back: Callable[[ClothWished], FlowStep[ClothWished]],
    problem: str = "",
    foot: tuple[Answer[ClothWished], ...] = (),
) -> Asked[ClothWished]:
    """Offer the ends of the plan, and the whole repeats of the draft next to them, each with its finished width."""
    wished, ends = planned.wished, planned.plan.ends
    whole, over = divmod(ends, draft.ends)

    def threaded(number: int, width_cm: float) -> FlowStep[ClothWished]:
        try:
            wide = threaded_to(draft, number)
        except DraftError as error:
            return _ask_width(planned, draft, units, back, str(error), foot)
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
        foot=foot,
        as_list=True,
        own=(problem,) if problem else (),
        topic="Planning a cloth",
    )


def _times(number: int) -> str:
    return counted(number, "repeat")
