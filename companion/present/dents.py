"""The dents of the reed by touch: how many ends lie in each, alike or irregular, and how fine the reed is."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from math import ceil, floor

from companion.draft.errors import DraftError
from companion.draft.shorthand_print import print_sley
from companion.draft.shorthand_sley import parse_sley
from companion.draft.sley import (
    CM_OF_REED,
    COARSEST_REED_PER_CM,
    FINEST_REED_PER_CM,
    Sley,
    even_sley,
    print_reed,
)
from companion.draft.units import Units, counted, per_length_words
from companion.present.asking import Answer, Answered, Asked, AskedToWrite, AtDressing, FlowStep
from companion.present.number_pad import Wanted, ask_amount
from companion.weaving.dressing import sley_of
from companion.weaving.dressing_commands import plan_sley
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

IRREGULAR = "Ends a dent, as (1 1 2 2 0)x20"


def ask_dents(warp: Warp, progress: Progress, units: Units, typed: str = "", refused: str = "") -> Asked[AtDressing]:
    """Ask for the plan of the dents, or for the reed.

    After a plan that was refused it is asked for once more, with why and how to mend it, and what was typed kept.
    """
    ends = warp.pieces[0].draft.ends
    now = sley_of(warp, progress.now.dressing)
    words = f"now {counted(now.ends, 'end')} in {counted(len(now.dents), 'dent')}" if now.dents else "none planned yet"

    def planned(per_dent: int) -> FlowStep[AtDressing]:
        return _planned(warp, progress, units, replace(even_sley(ends, per_dent), reed_per_cm=now.reed_per_cm), typed)

    def read(typed: str) -> FlowStep[AtDressing]:
        try:
            plan = replace(parse_sley(typed, ends), reed_per_cm=now.reed_per_cm)
        except DraftError as error:
            return ask_dents(warp, progress, units, typed, "; ".join(filter(None, (error.what, error.mend))))
        return _planned(warp, progress, units, plan, typed)

    answers = [Answer(f"{counted(per_dent, 'end')} in a dent", partial(planned, per_dent)) for per_dent in (1, 2, 3, 4)]
    other: Answer[AtDressing] = Answer(
        "Not all alike",
        lambda: AskedToWrite(IRREGULAR, read, typed or (print_sley(now, ends) if now.dents else ""), signs=True),
        main=bool(refused and typed),
    )
    reed: Answer[AtDressing] = Answer(
        "The reed" if now.reed_per_cm is None else f"The reed: {print_reed(now.reed_per_cm)}",
        partial(_ask_reed, now, units),
    )
    return Asked(
        "How many ends in each dent?",
        (*answers, other, reed),
        detail=words,
        lines=(refused[:1].upper() + refused[1:],) if refused else (),
        bit_by_bit="dents",
        refused=(IRREGULAR, typed) if typed else None,
        topic="Dents",
    )


def _planned(warp: Warp, progress: Progress, units: Units, plan: Sley, typed: str) -> FlowStep[AtDressing]:
    try:
        plan_sley(warp, progress, plan)
    except WeavingError as error:
        return ask_dents(warp, progress, units, typed, error_words(error, units))
    return Answered((partial(plan_sley, sley=plan),))


def _ask_reed(now: Sley, units: Units) -> Asked[AtDressing]:
    def taken(dents: float) -> Answered[AtDressing]:
        return Answered((partial(plan_sley, sley=replace(now, reed_per_cm=dents / reed_length_cm(units))),))

    return ask_amount(Wanted("The reed", f"dents {per_length_words(units)}", *reed_bounds(units), decimals=1), taken)


def reed_length_cm(units: Units) -> float:
    """Return the length on which a weaver counts the dents of a reed or the spaces of a raddle."""
    return CM_OF_REED["in" if units is Units.INCH else "cm"]


def reed_bounds(units: Units) -> tuple[float, float]:
    """Return how few and how many of them there can be on that length."""
    fewest, most = (per_cm * reed_length_cm(units) for per_cm in (COARSEST_REED_PER_CM, FINEST_REED_PER_CM))
    return ceil(fewest * 10) / 10, floor(most * 10) / 10
