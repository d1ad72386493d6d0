"""A cloth planned by touch from its finished size: each fact is told by touching it, and what it takes stands above.

What is not told is taken as usual, and says so. The plan itself is a page: touched, each line leads to what changes it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial

from companion.draft.laying_in import laid_in_at
from companion.draft.model import Colour
from companion.draft.units import (
    Units,
    counted,
    measured_words,
    per_length_words,
)
from companion.present.asking import Answer, Answered, Asked, AskedToWrite
from companion.present.button_words import DONE
from companion.present.cloth_plan_words import (
    NOT_GIVEN,
    RULE,
    SUITS,
    dense,
    in_dents_words,
    need_words,
    times_words,
    uncut_words,
    usual_words,
    warp_words,
    woven_words,
)
from companion.present.laid_in_asked import laid_in_row
from companion.present.number_pad import ask_amount
from companion.present.plan_facts import NAMES, NOT_SET, amount, value_words, wanted
from companion.present.plan_width import so_wide
from companion.present.yarn_read_words import read_words, size_words, sized_words
from companion.weaving.cloth_plan import (
    USUAL,
    WARP,
    WEFT,
    ClothPlanned,
    ClothWished,
    PlanFact,
    PlanFacts,
    PlannedYarn,
    plan_cloth,
    setts_of,
)
from companion.weaving.errors import WeavingError
from companion.weaving.planning import Weave
from companion.weaving.yarn_written import read_yarn

PLAN_IT = "Plan the cloth"
SHOW = "What it takes"
LEAVE_OUT = "Leave it out"
AS_USUAL = "As usual"
WRITE_YARN = "Another yarn"
USE_THIS = "Use this"
YARNS = (
    "8/2 cotton",
    "10/2 cotton",
    "20/2 cotton",
    "5/2 cotton",
    "16/2 linen",
    "22/2 cottolin",
    "8/2 tencel",
    "60/2 silk",
)
"""Yarns that many shops carry (common practice, no source)."""

_ASKED_OTHERWISE = (PlanFact.WIDTH, PlanFact.LENGTH, PlanFact.SETT, PlanFact.LAYERS)

PlanBack = Callable[[ClothWished], Asked[ClothWished]]
"""Leads back to the page with the cloth as it is told now."""


def ask_plan(
    wished: ClothWished, title: str, units: Units, keep: Callable[[ClothWished], None] = lambda _: None
) -> Asked[ClothWished]:
    """Show what is told of the cloth, and in a line what it takes; each fact is changed by touching it.

    `keep` is called with the cloth at every change, so that no way back loses what was told.
    """

    def back(changed: ClothWished) -> Asked[ClothWished]:
        keep(changed)
        return ask_plan(changed, title, units, keep)

    def fact(which: PlanFact) -> Answer[ClothWished]:
        return Answer(
            NAMES[which], partial(_ask_fact, wished, which, units, back), detail=value_words(wished.told, which, units)
        )

    planned, said = _planned(wished, units)
    rows: list[Answer[ClothWished]] = [fact(PlanFact.WIDTH), fact(PlanFact.LENGTH)]
    rows += [
        Answer(
            f"{side.capitalize()} yarn",
            partial(_ask_yarn, wished, side, units, back),
            detail=_yarn(wished, side, units),
        )
        for side in (WARP, WEFT)
    ]
    rows += [
        Answer(NAMES[PlanFact.SETT], partial(_ask_sett, wished, units, back), detail=_sett(wished, planned, units)),
        *(fact(which) for which in PlanFact if which not in _ASKED_OTHERWISE),
    ]
    draft = wished.draft
    if draft is not None and laid_in_at(draft):
        rows.append(laid_in_row([draft], units, lambda drafts: back(replace(wished, draft=drafts[0]))))
    show: tuple[Answer[ClothWished], ...] = ()
    if planned is not None:
        show = (Answer(SHOW, partial(_show, planned, units, back), main=True),)
    return Asked(
        title,
        tuple(rows),
        detail=said,
        foot=(*show, Answer(DONE, lambda: Answered(wished), main=planned is None)),
        as_list=True,
        bit_by_bit=PLAN_IT,
        own=(title,),
        topic="Planning a cloth",
    )


def _planned(wished: ClothWished, units: Units) -> tuple[ClothPlanned | None, str]:
    """Return the plan with its line; without one the line says what is lacking."""
    try:
        planned = plan_cloth(wished)
    except WeavingError as error:
        return None, error.said(units)
    answer = planned.plan
    width, warp = measured_words(answer.width_in_reed_cm, units), warp_words(planned, units)
    return planned, f"{counted(answer.ends, 'end')}, {width} wide in the reed; a warp of {warp}"


def _show(planned: ClothPlanned, units: Units, back: PlanBack) -> Asked[ClothWished]:
    """Show all that the cloth takes, each line with the fact that changes it."""
    wished, answer, per = planned.wished, planned.plan, per_length_words(units)

    def line(
        words: str, detail: str, fact: PlanFact, yarn: Colour | None = None, own: bool = False
    ) -> Answer[ClothWished]:
        return Answer(words, partial(_ask_fact, wished, fact, units, back), detail=detail, yarn=yarn, own=own)

    width = f"{measured_words(answer.width_in_reed_cm, units)} wide"
    reed = (
        ""
        if not answer.dent_ends
        else f"{dense(planned.wish.reed_per_cm or 0, units)} {per}, {in_dents_words(answer.dent_ends)}"
    )
    colours = {} if wished.draft is None else {yarn.name: yarn.colour for yarn in wished.draft.yarns}
    rows = [
        line(
            counted(answer.ends, "end"),
            f"{width}, {dense(answer.sett, units)} {per}{_in_layers(wished)}",
            PlanFact.SETT,
        ),
        line("Reed", reed or NOT_SET, PlanFact.REED),
        line("Warp to wind", warp_words(planned, units), PlanFact.WASTE),
        line("Woven", woven_words(planned, units), PlanFact.PICKS),
        *(
            line(_yarn_name(side, need.name), words, PlanFact.PUT_UP, colours.get(need.name), own=need.name != side)
            for side, needs in ((WARP, planned.warp), (WEFT, planned.weft))
            for need in needs
            for words in (need_words(planned, need, units),)
        ),
    ]
    # Touched it says how its size was read: the same numbers mean another yarn in another system.
    sides = {yarn: side for side, yarn in reversed(tuple(wished.yarns.items()))}
    rows += [
        Answer(
            yarn.words,
            partial(_ask_yarn, wished, side, units, back),
            detail=size_words(yarn.size, units),
        )
        for yarn, side in sides.items()
    ]
    usual, uncut = usual_words(planned, units), uncut_words(planned, units)
    said = (f"{NOT_GIVEN.capitalize()}: {usual}" if usual else "", f"{uncut[:1].upper()}{uncut[1:]}")
    return Asked(
        SHOW,
        tuple(rows),
        detail=". ".join(filter(None, said)),
        foot=(*so_wide(planned, units, back), Answer(DONE, partial(back, wished), main=True)),
        as_list=True,
    )


def _ask_fact(wished: ClothWished, fact: PlanFact, units: Units, back: PlanBack) -> Asked[ClothWished]:
    def told(number: float) -> Asked[ClothWished]:
        return back(replace(wished, told={**wished.told, fact: amount(fact, number, units)}))

    without: PlanFacts = {other: value for other, value in wished.told.items() if other is not fact}
    words = AS_USUAL if fact in USUAL else LEAVE_OUT
    leave_out: Answer[ClothWished] = Answer(words, lambda: back(replace(wished, told=without)))
    return ask_amount(wanted(wished.told, fact, units), told, lambda _number: (leave_out,))


def _ask_sett(wished: ClothWished, units: Units, back: PlanBack) -> Asked[ClothWished]:
    """Offer the setts of the warp yarn by weave, for all layers and for one; any other one can be typed."""
    per, suited = per_length_words(units), wished.suited()
    told, met = wished.layers(), wished.layers_met()
    beside = (PlanFact.SETT, PlanFact.LAYERS)
    without: PlanFacts = {fact: value for fact, value in wished.told.items() if fact not in beside}

    def chosen(weave: Weave, layers: int) -> Asked[ClothWished]:
        otherwise = {} if layers == met else {PlanFact.LAYERS: float(layers)}
        return back(replace(wished, told={**without, **otherwise}, weave=weave))

    rows: list[Answer[ClothWished]] = []
    for layers in dict.fromkeys((told, met, 1)):
        for weave, sett in setts_of(wished).items():
            said = (
                f"{dense(sett * layers, units)} {per}",
                f"{times_words(layers)} that of one" if layers > 1 else "",
                SUITS if weave is suited and layers == met else "",
            )
            which = f", {layers} layers" if layers > 1 else ", 1 layer" if max(met, told) > 1 else ""
            rows.append(
                Answer(
                    f"{weave.value.capitalize()}{which}",
                    partial(chosen, weave, layers),
                    detail=", ".join(filter(None, said)),
                )
            )
    if not rows:
        return _ask_fact(wished, PlanFact.SETT, units, back)
    typed: Answer[ClothWished] = Answer("Another sett", partial(_ask_fact, wished, PlanFact.SETT, units, back))
    more: Answer[ClothWished] = Answer("Layers", partial(_ask_layers, wished, units, back))
    return Asked("Which sett?", (*rows, typed), detail=f"Of the warp yarn: {RULE}", foot=(more,), as_list=True)


def _ask_layers(wished: ClothWished, units: Units, back: PlanBack) -> Asked[ClothWished]:
    """Ask how many cloths lie one above the other, and offer the setts for them."""

    def told(number: float) -> Asked[ClothWished]:
        return _ask_sett(replace(wished, told={**wished.told, PlanFact.LAYERS: number}), units, back)

    return ask_amount(wanted({PlanFact.LAYERS: wished.layers()}, PlanFact.LAYERS, units), told)


def _ask_yarn(wished: ClothWished, side: str, units: Units, back: PlanBack, problem: str = "") -> Asked[ClothWished]:
    def told(words: str) -> Asked[ClothWished]:
        try:
            yarn = PlannedYarn(words, read_yarn(words))
        except (ValueError, ArithmeticError) as error:
            return _ask_yarn(wished, side, units, back, str(error))
        return back(replace(wished, yarns=_with_yarn(wished, side, yarn)))

    def written(words: str) -> Asked[ClothWished]:
        """Say how it was read before anything is reckoned with it."""
        try:
            read = read_yarn(words)
        except (ValueError, ArithmeticError):
            return told(words)
        return Asked(
            words,
            (Answer(USE_THIS, partial(told, words), main=True), Answer(WRITE_YARN, write)),
            lines=(size_words(read, units), f"{read.read_as[0].upper()}{read.read_as[1:]}"),
            own=(words,),
        )

    def write() -> AskedToWrite[ClothWished]:
        return AskedToWrite(f"{side.capitalize()} yarn: 8/2 cotton, 3360 yd/lb, 30 tex", written)

    rows: tuple[Answer[ClothWished], ...] = tuple(
        Answer(words, partial(told, words), detail=size_words(read_yarn(words), units)) for words in YARNS
    )
    known = wished.yarns.get(side)
    now = "" if known is None else read_words(known.words, known.size, units)
    return Asked(
        f"Which yarn is the {side}?",
        rows,
        detail=problem or now,
        foot=(Answer(WRITE_YARN, write),),
        as_list=True,
        own=(problem,) if problem else (),
    )


def _with_yarn(wished: ClothWished, side: str, yarn: PlannedYarn) -> Mapping[str, PlannedYarn]:
    """Return the yarns with this one; the weft is as the warp until it is told of."""
    return {**({WEFT: yarn} if side == WARP and WEFT not in wished.yarns else {}), **wished.yarns, side: yarn}


def _yarn_name(side: str, name: str = "") -> str:
    return f"{side.capitalize()} yarn" if name in ("", side) else f"{side.capitalize()} {name}"


def _yarn(wished: ClothWished, side: str, units: Units) -> str:
    yarn = wished.yarns.get(side)
    return NOT_SET if yarn is None else sized_words(yarn.words, yarn.size, units)


def _sett(wished: ClothWished, planned: ClothPlanned | None, units: Units) -> str:
    told, per = wished.told.get(PlanFact.SETT), per_length_words(units)
    sett = wished.sett_by_rule() if told is None else told
    if sett is None:
        return NOT_SET
    for_weave = (f", for {wished.sett_for().value}" if told is None else "") + _in_layers(wished)
    made = dense(sett if planned is None else planned.plan.sett, units)
    in_reed = "" if made == dense(sett, units) else f"; {made} with this reed"
    return f"{dense(sett, units)} {per}{for_weave}{in_reed}"


def _in_layers(wished: ClothWished) -> str:
    return f", {wished.layers()} layers" if wished.layers() > 1 else ""
