"""What a planned cloth takes, in lines: setts, ends in the reed, warp to wind, yarn of each colour, what was usual."""

from __future__ import annotations

from collections.abc import Sequence

from companion.draft.unit_readings import usual_length
from companion.draft.units import (
    Units,
    counted,
    density_words,
    length_words,
    long_words,
    measured_words,
    measured_yarn_words,
    per_length_words,
    tape_words,
    weight_words,
)
from companion.present.yarn_read_words import read_words
from companion.weaving.cloth_plan import SHARES, USUAL, WARP, WEFT, ClothPlanned, PlanFact
from companion.weaving.planning import YarnNeed

RULE = "three quarters of the closest, T.R. Ashenhurst's rule"
_MAT_CM = 40.0
"""About as wide as a place mat (common practice, no source)."""
_LAYERS = {2: "two", 3: "three", 4: "four"}
_TIMES = {2: "twice", 3: "three times", 4: "four times"}
SUITS = "nearest to this draft"
NOT_GIVEN = "taken as usual (common practice, no source)"
CALLED = {
    PlanFact.TAKE_UP: "take-up",
    PlanFact.DRAW_IN: "draw-in",
    PlanFact.SHRINKAGE: "shrinkage in length",
    PlanFact.SHRINKAGE_WIDTH: "shrinkage in width",
    PlanFact.WASTE: "loom waste",
    PlanFact.FRINGE: "fringe",
}


def dense(per_cm: float, units: Units) -> str:
    """Return threads or dents per length as a bare number, to a tenth: `19.6`."""
    return density_words(per_cm, units, ".1f")


def setts_words(planned: ClothPlanned, units: Units) -> str:
    """Return the setts of the warp yarn: `2/2 twill 26.1 (nearest to this draft), plain weave 19.6, lace 17.6`."""
    suited = planned.wished.suited()
    return ", ".join(
        f"{weave.value} {dense(sett, units)}{f' ({SUITS})' if weave is suited else ''}"
        for weave, sett in planned.setts.items()
    )


def layers_words(layers: int) -> str:
    """Return how the sett of several layers comes about: `two layers, twice the sett of one`; empty for one."""
    if layers < 2:
        return ""
    return f"{_LAYERS[layers]} layers, {times_words(layers)} the sett of one"


def times_words(layers: int) -> str:
    """Return how often the sett of one layer several take: `twice`."""
    return _TIMES[layers]


def reed_words(planned: ClothPlanned, units: Units) -> str:
    """Return how the ends lie in the reed: `12.0 per inch, 2 ends in each of 210 dents`; empty without a reed."""
    wish, answer = planned.wish, planned.plan
    if not answer.dent_ends or answer.dents is None or wish.reed_per_cm is None:
        return ""
    dents = f"{dense(wish.reed_per_cm, units)} {per_length_words(units)}"
    if len(answer.dent_ends) == 1:
        return (
            f"{dents}, {counted(answer.dent_ends[0], 'end')} in each of {answer.dents} dents{_sett_off(planned, units)}"
        )
    return f"{dents}, {in_dents_words(answer.dent_ends)}, in {answer.dents} dents{_sett_off(planned, units)}"


def in_dents_words(repeat: Sequence[int]) -> str:
    """Return the ends in the dents: `2 in a dent`, `1 and 2 ends by turns`, `1 1 1 1 2 ends by turns`."""
    if len(repeat) == 1:
        return f"{repeat[0]} in a dent"
    empty = " (0 is an empty dent)" if 0 in repeat else ""
    return f"{(' and ' if len(repeat) == 2 else ' ').join(map(str, repeat))} ends by turns{empty}"


def _sett_off(planned: ClothPlanned, units: Units) -> str:
    made, wished = (dense(sett, units) for sett in (planned.plan.sett, planned.wish.sett))
    if made == wished:
        return ""
    why = "was wished for" if PlanFact.SETT in planned.wished.told else "by the rule"
    return f" ({wished} {why})"


def ends_words(planned: ClothPlanned, units: Units) -> str:
    """Return `421 ends, 21.0 in wide in the reed`, and how often that is the draft."""
    answer, draft = planned.plan, planned.wished.draft
    repeats = ""
    if draft is not None and draft.ends:
        whole, over = divmod(answer.ends, draft.ends)
        more = f" and {counted(over, 'end')} more" if over else ""
        repeats = f"; the draft's {draft.ends} ends {whole} times{more}"
    return f"{counted(answer.ends, 'end')}, {measured_words(answer.width_in_reed_cm, units)} wide in the reed{repeats}"


def woven_words(planned: ClothPlanned, units: Units) -> str:
    """Return `each 80.0 in on the loom, 19.6 picks per inch`."""
    each = "each " if planned.wish.pieces > 1 else ""
    picks = f"{dense(planned.plan.picks_per_cm, units)} picks {per_length_words(units)}"
    return f"{each}{measured_words(planned.plan.woven_cm, units)} on the loom, {picks}"


def warp_words(planned: ClothPlanned, units: Units) -> str:
    """Return how long a warp to wind: `115.9 in (3.22 yd)`."""
    return long_words(planned.plan.warp_cm, units)


def need_words(planned: ClothPlanned, need: YarnNeed, units: Units) -> str:
    """Return a yarn's length and weight, and how many cones or skeins that is: `1,355.0 yd, 6.5 oz, 1 x 8.0 oz`."""
    number = planned.put_ups(need)
    put_up = "" if number is None else f", {number} x {weight_words(planned.put_up_g, units)}"
    weight = "weight not known" if need.grams is None else weight_words(need.grams, units)
    return f"{measured_yarn_words(need.metres, units)}, {weight}{put_up}"


def usual_words(planned: ClothPlanned, units: Units) -> str:
    """Return what was not given and is taken as usual: `draw-in 5 %, loom waste 27 in`; empty for nothing."""
    said = {fact: f"{CALLED[fact]} {usual_value(fact, units)}" for fact in planned.untold}
    if {PlanFact.SHRINKAGE, PlanFact.SHRINKAGE_WIDTH} <= said.keys():
        length, width = (usual_value(fact, units) for fact in (PlanFact.SHRINKAGE, PlanFact.SHRINKAGE_WIDTH))
        if length == width:
            said[PlanFact.SHRINKAGE] = f"shrinkage {length} in length and width"
            del said[PlanFact.SHRINKAGE_WIDTH]
    return ", ".join(said.values())


def usual_value(fact: PlanFact, units: Units) -> str:
    """Return what is usual: `5 %`, `27 in`."""
    return f"{USUAL[fact]:g} %" if fact in SHARES else tape_words(USUAL[fact], units)


def uncut_words(planned: ClothPlanned, units: Units) -> str:
    """Return how long the wefts are taken for that are laid in at untold lengths; empty where there are none."""
    if not planned.uncut:
        return ""
    each = f"each taken as {measured_words(planned.thrown_cm, units)}, as if it were thrown"
    return f"{' and '.join(planned.uncut)} laid in, length not set: {each}"


def plan_lines(planned: ClothPlanned, units: Units, another: str = "") -> list[str]:
    """Return all of it in lines; `another` says how another sett is had, where none was told."""
    wish, per = planned.wish, per_length_words(units)
    lines = [f"finished {length_words(wish.width_cm, units)} wide, {length_words(wish.length_cm, units)} long"]
    lines += [f"  {side} {read_words(yarn.words, yarn.size, units)}" for side, yarn in planned.wished.yarns.items()]
    if planned.setts:
        one = " in one layer" if planned.wished.layers() > 1 else ""
        lines.append(f"  setts of the warp yarn{one}, {per}: {setts_words(planned, units)} ({RULE})")
    told, layers = PlanFact.SETT in planned.wished.told, planned.wished.layers()
    if told:
        each = dense(planned.plan.sett / layers, units)
        chosen = f" in {_LAYERS[layers]} layers, {each} in each" if layers > 1 else ""
    else:
        chosen = f", for {planned.wished.sett_for().value}{_in_layers(planned)}{another}"
    lines.append(f"  sett {dense(planned.plan.sett, units)} {per}{chosen}")
    if reed := reed_words(planned, units):
        lines.append(f"  reed {reed}")
    lines += [
        f"  {ends_words(planned, units)}",
        f"  woven {woven_words(planned, units)}",
        f"  warp to wind {warp_words(planned, units)}",
    ]
    lines += [_need_line(planned, WARP, need, units, "end") for need in planned.warp]
    lines += [_need_line(planned, WEFT, need, units, "pick") for need in planned.weft]
    if uncut := uncut_words(planned, units):
        sample = tape_words(usual_length(_MAT_CM, units), units)
        lines.append(f"  {uncut}; say it in the draft, such as laid in {planned.uncut[0]} {sample}")
    if planned.untold:
        lines.append(f"  not given, {NOT_GIVEN}: {usual_words(planned, units)}")
    return lines


def _in_layers(planned: ClothPlanned) -> str:
    layers, met = planned.wished.layers(), planned.wished.layers_met()
    if layers == met:
        return f": {layers_words(layers)}" if layers > 1 else ""
    return f": {layers_words(layers) or 'one layer'}, as told; the draft weaves {met}"


def _need_line(planned: ClothPlanned, side: str, need: YarnNeed, units: Units, thread: str) -> str:
    name = "" if need.name == side else f" {need.name}"
    return f"  {side}{name}: {counted(need.threads, thread)}, {need_words(planned, need, units)}"
