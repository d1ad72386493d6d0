"""Which wefts of a new warp are laid in or cut at each pick, and how long each is: told by touch."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from companion.draft.laying_in import laid_in_at, lay_in, throw
from companion.draft.model import Colour, Draft, LaidIn
from companion.draft.unit_readings import length_reading, usual_length
from companion.draft.units import Units, length_words
from companion.present.asking import Answer, Asked, FlowStep, Result
from companion.present.button_words import DONE
from companion.present.number_pad import Wanted, ask_amount

LAID_IN = "Laid in at each pick"
THROWN = "thrown by a shuttle"
NOT_KNOWN = "Length not known"
_LEAST_CM, _MOST_CM = 1.0, 1_000.0
_BEGUN_CM = 40.0
"""About as long as a place mat is wide (common practice, no source)."""


PieceDrafts = Sequence[Draft]
"""The drafts of the pieces of a warp."""


def laid_in_row(drafts: PieceDrafts, units: Units, back: Callable[[PieceDrafts], Asked[Result]]) -> Answer[Result]:
    """Return the line that says which wefts are laid in; touched it asks, and leads `back` with the drafts as told."""
    laid = [
        name if how == LAID_IN.lower() else f"{name}, {how}" for name, how in _wefts(drafts, units) if how != THROWN
    ]
    return Answer(LAID_IN, partial(_ask_weft, drafts, units, back), detail="; ".join(laid) or "none")


def _wefts(drafts: PieceDrafts, units: Units) -> list[tuple[str, str]]:
    """Return the name of each weft and how it goes in: thrown, laid in, or in which lengths."""
    how: dict[str, str] = {}
    for draft in drafts:
        laid = {at.yarn: at.length_cm for at in laid_in_at(draft).values()}
        for yarn in draft.shuttles():
            length_cm = laid.get(yarn)
            how.setdefault(draft.yarns[yarn].name, how_words(LaidIn(yarn, length_cm) if yarn in laid else None, units))
    return list(how.items())


def how_words(laid_in: LaidIn | None, units: Units) -> str:
    """Return how a weft goes in: thrown, laid in, or in which lengths."""
    if laid_in is None:
        return THROWN
    return LAID_IN.lower() if laid_in.length_cm is None else f"{length_words(laid_in.length_cm, units)} each"


def _ask_weft(drafts: PieceDrafts, units: Units, back: Callable[[PieceDrafts], Asked[Result]]) -> Asked[Result]:
    rows: list[Answer[Result]] = [
        Answer(name, partial(_ask_how, drafts, units, back, name), detail=how, own=True, yarn=_colour(drafts, name))
        for name, how in _wefts(drafts, units)
    ]
    return Asked(
        "Which weft is laid in?",
        tuple(rows),
        detail="Sticks, rushes, rag strips, inlay: no shuttle carries them",
        foot=(Answer(DONE, partial(back, drafts), main=True),),
        as_list=True,
        bit_by_bit=LAID_IN,
    )


def _colour(drafts: PieceDrafts, name: str) -> Colour | None:
    return next((yarn.colour for draft in drafts for yarn in draft.yarns if yarn.name == name), None)


def _ask_how(
    drafts: PieceDrafts, units: Units, back: Callable[[PieceDrafts], Asked[Result]], name: str
) -> Asked[Result]:
    def laid(length_cm: float | None) -> Asked[Result]:
        return _ask_weft([lay_in(draft, name, length_cm) for draft in drafts], units, back)

    def thrown() -> Asked[Result]:
        return _ask_weft([throw(draft, name) for draft in drafts], units, back)

    lengths = [
        at.length_cm
        for draft in drafts
        for at in laid_in_at(draft).values()
        if at.length_cm is not None and draft.yarns[at.yarn].name == name
    ]
    return ask_length(name, lengths[0] if lengths else None, units, laid, thrown)


def ask_length(
    name: str,
    length_cm: float | None,
    units: Units,
    laid: Callable[[float | None], FlowStep[Result]],
    thrown: Callable[[], FlowStep[Result]],
) -> Asked[Result]:
    """Ask how long each of a weft is; its length may also be unknown, or a shuttle may carry it after all."""
    reading = length_reading(units)
    wanted = Wanted(
        f"{name}, each",
        reading.sign,
        reading.least(_LEAST_CM),
        reading.most(_MOST_CM),
        reading.decimals,
        reading.number(usual_length(_BEGUN_CM, units) if length_cm is None else length_cm),
        "as it is cut",
    )
    beside: tuple[Answer[Result], ...] = (Answer(NOT_KNOWN, partial(laid, None)), Answer(THROWN.capitalize(), thrown))
    return ask_amount(wanted, lambda number: laid(reading.amount(number)), lambda _number: beside)
