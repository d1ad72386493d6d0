"""`fellside plan`: from the finished size of a cloth back to ends, reed, warp length and yarn."""

from __future__ import annotations

import argparse
import json
from collections.abc import Mapping

from companion.cli.sizes import check_sizes, length, option_of, share
from companion.cli.sources import load_draft
from companion.cli.spoken import tell
from companion.cli.status import DONE, CommandError
from companion.draft.errors import DraftError
from companion.draft.sley import parse_reed
from companion.draft.units import Units
from companion.draft.written import WEIGHT_SAMPLES, length_sign, read_density, read_weight
from companion.present.cloth_plan_words import CALLED, plan_lines, usual_value
from companion.present.trade_words import names_in
from companion.weaving.cloth_plan import (
    MOST_LAYERS,
    SHARES,
    USUAL,
    WARP,
    WEFT,
    ClothPlanned,
    ClothWished,
    PlanFact,
    PlannedYarn,
    plan_cloth,
)
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.planning import Weave, YarnNeed
from companion.weaving.yarn_written import read_yarn

SUMMARY = "from a finished size back to ends, reed, warp length and yarn"
_MOST_PERCENT = 99
_HEAVIEST_G = 100_000
"""Of a cone or a skein: more is a slip of the hand."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the cloth that is wanted, its yarns, and what is lost on the way to it."""
    parser.add_argument("file", nargs="?", metavar="FILE", help="a draft, for its weave, colours and repeats")
    parser.add_argument("--width", type=length, metavar="LENGTH", required=True, help='finished, such as "18 in"')
    parser.add_argument("--length", type=length, metavar="LENGTH", required=True, help="finished, of one piece")
    parser.add_argument("--pieces", type=int, default=1, metavar="N", help="so many on one warp (default 1)")
    parser.add_argument("--warp-yarn", metavar="SIZE", help='such as "8/2 cotton"; the weft is taken for the same')
    parser.add_argument("--weft-yarn", metavar="SIZE", help="where it is another")
    parser.add_argument(
        "--weave",
        choices=[weave.name.lower() for weave in Weave],
        help="for the sett (default: what suits FILE, else plain)",
    )
    parser.add_argument("--sett", metavar="N", help="ends on a length: 20/in, 8/cm, or a number in your units")
    layers = f"lie one above the other, each set as if it were alone, 1 to {MOST_LAYERS} (default: as FILE weaves)"
    parser.add_argument("--layers", type=int, metavar="N", help=layers)
    parser.add_argument("--picks", metavar="N", help="picks on a length (default: as many as ends)")
    parser.add_argument("--reed", metavar="DENTS", help="dents on a length: 10/in or 4/cm")
    for fact in SHARES:
        words = f"{CALLED[fact]} (usual: {USUAL[fact]:g} %%)"
        parser.add_argument(option_of(fact.value), type=share, metavar="PERCENT", help=words)
    usual = ", ".join(usual_value(PlanFact.WASTE, units) for units in (Units.INCH, Units.METRIC))
    parser.add_argument("--waste", type=length, metavar="LENGTH", help=f"loom waste (usual: {usual})")
    parser.add_argument("--fringe", type=length, metavar="LENGTH", help="of each piece, at both ends (usual: none)")
    parser.add_argument("--put-up", metavar="WEIGHT", help="what a cone or skein weighs: 8oz, 1 lb, 500g")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def run(arguments: argparse.Namespace) -> int:
    """Print the plan; what was not told and is taken as usual is listed."""
    try:
        planned = plan_cloth(_wished(arguments))
    except WeavingError as error:
        raise CommandError(error_words(error, arguments.units)) from error
    lines = plan_lines(planned, arguments.units, "; --weave, --layers or --sett takes another")
    if arguments.json:
        print(json.dumps(_document(planned)))
    else:
        draft, words = planned.wished.draft, [yarn.words for yarn in planned.wished.yarns.values()]
        tell(lines, arguments.trade, (*words, *(() if draft is None else names_in(draft))))
    return DONE


def _wished(arguments: argparse.Namespace) -> ClothWished:
    check_sizes(arguments, "width", "length", "waste", "fringe")
    for fact in SHARES:
        given = getattr(arguments, fact.value)
        if given is not None and not 0 <= given <= _MOST_PERCENT:
            raise CommandError(f"{option_of(fact.value)} {given:g}: give a number from 0 to {_MOST_PERCENT}")
    if arguments.layers is not None and not 1 <= arguments.layers <= MOST_LAYERS:
        raise CommandError(f"--layers {arguments.layers}: give a number from 1 to {MOST_LAYERS}")
    draft = None if arguments.file is None else load_draft(arguments.file)
    yarns = _yarns(arguments)
    if arguments.sett is None and WARP not in yarns:
        raise CommandError("how close do the ends lie? give --sett 20/in, or --warp-yarn, which gives it")
    told: dict[PlanFact, float | None] = {
        fact: getattr(arguments, fact.value)
        for fact in (PlanFact.WIDTH, PlanFact.LENGTH, PlanFact.PIECES, PlanFact.LAYERS, *USUAL)
    }
    told |= {fact: _density(arguments, fact.value) for fact in (PlanFact.SETT, PlanFact.PICKS)}
    told[PlanFact.REED] = None if arguments.reed is None else _reed(arguments.reed)
    told[PlanFact.PUT_UP] = None if arguments.put_up is None else _weight(arguments.put_up)
    weave = None if arguments.weave is None else Weave[arguments.weave.upper()]
    return ClothWished({fact: value for fact, value in told.items() if value is not None}, yarns, weave, draft)


def _yarns(arguments: argparse.Namespace) -> dict[str, PlannedYarn]:
    """Return the yarns of warp and weft as they were typed; the weft is as the warp where nobody says."""
    sizes = {WARP: arguments.warp_yarn, WEFT: arguments.weft_yarn or arguments.warp_yarn}
    return {side: _yarn(side, " ".join(words.split())) for side, words in sizes.items() if words is not None}


def _yarn(side: str, words: str) -> PlannedYarn:
    try:
        return PlannedYarn(words, read_yarn(words))
    except (ValueError, ArithmeticError) as error:
        raise CommandError(f"--{side}-yarn: {error}") from error


def _density(arguments: argparse.Namespace, option: str) -> float | None:
    words = getattr(arguments, option)
    if words is None:
        return None
    try:
        return read_density(words, length_sign(arguments.units))
    except ValueError as error:
        raise CommandError(f"{option_of(option)}: {error}") from error


def _reed(words: str) -> float:
    try:
        return parse_reed(words)
    except DraftError as error:
        raise CommandError(f"--reed: {error}") from error


def _weight(words: str) -> float:
    try:
        grams = read_weight(words)
    except ValueError as error:
        raise CommandError(f"--put-up: {error}") from error
    if not 0 < grams <= _HEAVIEST_G:
        raise CommandError(f"--put-up {words:.40}: write a weight, such as {WEIGHT_SAMPLES}")
    return grams


def _document(planned: ClothPlanned) -> dict[str, object]:
    wish, answer = planned.wish, planned.plan
    return {
        "finished": {"width_cm": wish.width_cm, "length_cm": wish.length_cm, "pieces": wish.pieces},
        "setts_per_cm": {weave.name.lower(): sett for weave, sett in planned.setts.items()},
        "sett_per_cm": answer.sett,
        "sett_for": None if PlanFact.SETT in planned.wished.told else planned.wished.sett_for().name.lower(),
        "suits_draft": None if (suited := planned.wished.suited()) is None else suited.name.lower(),
        "layers": planned.wished.layers(),
        "layers_in_draft": planned.wished.layers_met(),
        "picks_per_cm": answer.picks_per_cm,
        "ends": answer.ends,
        "ends_in_a_dent": answer.dent_ends[0] if len(answer.dent_ends) == 1 else None,
        "ends_in_dents_by_turns": list(answer.dent_ends),
        "dents": answer.dents,
        "width_in_reed_cm": answer.width_in_reed_cm,
        "woven_cm": answer.woven_cm,
        "warp_cm": answer.warp_cm,
        "picks": answer.picks,
        "put_up_grams": planned.put_up_g,
        "warp": _needs(planned, planned.warp),
        "weft": _needs(planned, planned.weft),
        "laid_in_length_not_set": list(planned.uncut),
        "taken_as_usual": [fact.value.replace("_", " ") for fact in planned.untold],
    }


def _needs(planned: ClothPlanned, needs: tuple[YarnNeed, ...]) -> list[Mapping[str, object]]:
    return [
        {
            "yarn": need.name,
            "threads": need.threads,
            "metres": need.metres,
            "grams": need.grams,
            "put_ups": planned.put_ups(need),
        }
        for need in needs
    ]
