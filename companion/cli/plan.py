"""`fellside plan`: from the finished size of a cloth back to ends, reed, warp length and yarn."""

from __future__ import annotations

import argparse
import json
from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil

from companion.cli.sizes import check_sizes, length, option_of
from companion.cli.sources import load_draft
from companion.cli.status import DONE, CommandError
from companion.draft.errors import DraftError
from companion.draft.model import Draft
from companion.draft.sley import parse_reed
from companion.draft.units import (
    Units,
    counted,
    density_words,
    length_words,
    measured_words,
    measured_yarn_words,
    per_length_words,
    weight_words,
    yarn_size_words,
)
from companion.draft.written import WEIGHT_SAMPLES, length_sign, read_density, read_weight
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.planning import (
    USUAL_FRINGE_CM,
    USUAL_SHARES,
    USUAL_WASTE_CM,
    Plan,
    Shares,
    Weave,
    Wish,
    YarnNeed,
    plan,
    thread_needs,
    working_sett,
)
from companion.weaving.shuttles import WEFT_TAKE_UP
from companion.weaving.yarn_written import WrittenYarn, read_yarn

SUMMARY = "from a finished size back to ends, reed, warp length and yarn"
_USUAL: Mapping[str, float] = {
    "take_up": 100 * USUAL_SHARES.take_up,
    "draw_in": 100 * USUAL_SHARES.draw_in,
    "shrinkage": 100 * USUAL_SHARES.shrinkage_length,
    "shrinkage_width": 100 * USUAL_SHARES.shrinkage_width,
    "waste": USUAL_WASTE_CM,
    "fringe": USUAL_FRINGE_CM,
}
"""What is taken, and said to be, where an option is not given: percent, and cm."""
_PERCENT = ("take_up", "draw_in", "shrinkage", "shrinkage_width")
_CALLED = {"shrinkage": "shrinkage in length", "shrinkage_width": "shrinkage in width", "waste": "loom waste"}
WARP, WEFT = "warp", "weft"
_RULE = "three quarters of the closest, by T.R. Ashenhurst's rule"
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
    parser.add_argument("--weave", choices=[weave.name.lower() for weave in Weave], help="for the sett (default plain)")
    parser.add_argument("--sett", metavar="N", help="ends on a length: 20/in, 8/cm, or a number in your units")
    parser.add_argument("--picks", metavar="N", help="picks on a length (default: as many as ends)")
    parser.add_argument("--reed", metavar="DENTS", help="dents on a length: 10/in or 4/cm")
    for option in _PERCENT:
        words = f"{_CALLED.get(option, option.replace('_', '-'))} (usual: {_USUAL[option]:g})"
        parser.add_argument(option_of(option), type=float, metavar="PERCENT", help=words)
    parser.add_argument("--waste", type=length, metavar="LENGTH", help="loom waste (usual: 27 in)")
    parser.add_argument("--fringe", type=length, metavar="LENGTH", help="of each piece, at both ends (usual: none)")
    parser.add_argument("--put-up", metavar="WEIGHT", help="what a cone or skein weighs: 8oz, 1 lb, 500g")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


@dataclass(frozen=True, slots=True)
class _Planned:
    """The answer: what was wished, what it takes, the setts of its yarn, and which values nobody told."""

    wish: Wish
    plan: Plan
    setts: Mapping[Weave, float]
    weave: Weave
    warp: tuple[YarnNeed, ...]
    weft: tuple[YarnNeed, ...]
    yarns: Mapping[str, WrittenYarn]
    said: Mapping[str, str]
    draft: Draft | None
    untold: tuple[str, ...]
    put_up_g: float | None


def run(arguments: argparse.Namespace) -> int:
    """Print the plan; what was not told and is taken as usual is listed."""
    try:
        planned = _planned(arguments)
    except WeavingError as error:
        raise CommandError(error_words(error, arguments.units)) from error
    print(json.dumps(_document(planned)) if arguments.json else "\n".join(_lines(planned, arguments)))
    return DONE


def _planned(arguments: argparse.Namespace) -> _Planned:
    check_sizes(arguments, "width", "length", "waste", "fringe")
    for option in _PERCENT:
        share = getattr(arguments, option)
        if share is not None and not 0 <= share <= _MOST_PERCENT:
            raise CommandError(f"{option_of(option)} {share:g}: give a number from 0 to {_MOST_PERCENT}")
    draft = None if arguments.file is None else load_draft(arguments.file)
    said = _said(arguments)
    yarns = {side: _yarn(side, words) for side, words in said.items()}
    setts = {weave: working_sett(yarns[WARP].tex, weave) for weave in Weave} if WARP in yarns else {}
    weave = Weave[(arguments.weave or "plain").upper()]
    told_sett, told_picks = _density(arguments, "sett"), _density(arguments, "picks")
    sett = setts.get(weave) if told_sett is None else told_sett
    if sett is None:
        raise CommandError("how close do the ends lie? give --sett 20/in, or --warp-yarn, which gives it")
    told = {option: getattr(arguments, option) for option in _USUAL}
    taken = {option: _USUAL[option] if value is None else value for option, value in told.items()}
    shares = Shares(*(taken[option] / 100 for option in _PERCENT))
    reed = None if arguments.reed is None else _reed(arguments.reed)
    picks = sett if told_picks is None else told_picks
    wish = Wish(
        arguments.width, arguments.length, sett, picks, shares, taken["waste"], taken["fringe"], arguments.pieces, reed
    )
    answer = plan(wish)
    sizes = _sizes(draft, yarns)
    warp = thread_needs(answer.ends, _order(draft, WARP), answer.warp_cm, sizes[WARP])
    weft = thread_needs(answer.picks, _order(draft, WEFT), answer.width_in_reed_cm * (1 + WEFT_TAKE_UP), sizes[WEFT])
    untold = tuple(option for option, value in told.items() if value is None)
    put_up = None if arguments.put_up is None else _weight(arguments.put_up)
    return _Planned(wish, answer, setts, weave, warp, weft, yarns, said, draft, untold, put_up)


def _said(arguments: argparse.Namespace) -> dict[str, str]:
    """Return the sizes of warp and weft as they were typed; the weft is as the warp where nobody says."""
    sizes = {WARP: arguments.warp_yarn, WEFT: arguments.weft_yarn or arguments.warp_yarn}
    return {side: " ".join(words.split()) for side, words in sizes.items() if words is not None}


def _yarn(side: str, words: str) -> WrittenYarn:
    try:
        return read_yarn(words)
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


def _order(draft: Draft | None, side: str) -> tuple[str, ...]:
    if draft is None:
        return (side,)
    threads = draft.warp if side == WARP else draft.weft
    return tuple(draft.yarns[yarn].name or f"yarn {yarn + 1}" for yarn in threads) or (side,)


def _sizes(draft: Draft | None, yarns: Mapping[str, WrittenYarn]) -> dict[str, dict[str, float]]:
    return {side: dict.fromkeys(_order(draft, side), yarns[side].tex) if side in yarns else {} for side in (WARP, WEFT)}


def _lines(planned: _Planned, arguments: argparse.Namespace) -> list[str]:
    wish, answer, units = planned.wish, planned.plan, arguments.units
    per = per_length_words(units)

    def dense(per_cm: float) -> str:
        return density_words(per_cm, units, ".1f")

    lines = [f"finished {length_words(wish.width_cm, units)} wide, {length_words(wish.length_cm, units)} long"]
    lines += [
        f"  {side} {planned.said[side]}, {yarn_size_words(yarn.tex, units)}; {yarn.read_as}"
        for side, yarn in planned.yarns.items()
    ]
    if planned.setts:
        setts = ", ".join(f"{weave.value} {dense(sett)}" for weave, sett in planned.setts.items())
        lines.append(
            f"  setts of the warp yarn, {per}: {setts} (three quarters of the closest, T.R. Ashenhurst's rule)"
        )
    chosen = "" if arguments.sett else f", for {planned.weave.value}; --weave or --sett takes another"
    lines.append(f"  sett {dense(answer.sett)} {per}{chosen}")
    if answer.dent_ends is not None:
        off = "" if abs(answer.sett - wish.sett) < 0.02 * wish.sett else f" (wished were {dense(wish.sett)})"
        dents = f"{dense(wish.reed_per_cm or 0)} {per}"
        lines.append(f"  reed {dents}, {counted(answer.dent_ends, 'end')} in each of {answer.dents} dents{off}")
    in_reed = f"{measured_words(answer.width_in_reed_cm, units)} wide in the reed"
    lines.append(f"  {counted(answer.ends, 'end')}, {in_reed}{_repeats(planned)}")
    each = "each " if wish.pieces > 1 else ""
    lines.append(f"  woven {each}{measured_words(answer.woven_cm, units)} on the loom, {dense(wish.picks)} picks {per}")
    long = f", {measured_yarn_words(answer.warp_cm / 100, units)}"
    lines.append(f"  warp to wind {measured_words(answer.warp_cm, units)}{long}")
    lines += [_need(WARP, need, planned, units, "end") for need in planned.warp]
    lines += [_need(WEFT, need, planned, units, "pick") for need in planned.weft]
    if planned.untold:
        usual = ", ".join(_taken(option, units) for option in planned.untold)
        lines.append(f"  not given, taken as usual (common practice, no source): {usual}")
    return lines


def _repeats(planned: _Planned) -> str:
    draft = planned.draft
    if draft is None or not draft.ends:
        return ""
    whole, over = divmod(planned.plan.ends, draft.ends)
    return f"; the draft's {draft.ends} ends {whole} times" + (f" and {counted(over, 'end')} more" if over else "")


def _need(side: str, need: YarnNeed, planned: _Planned, units: Units, thread: str) -> str:
    name = "" if need.name == side else f" {need.name}"
    put_up = ""
    if planned.put_up_g is not None and need.grams is not None:
        number = _put_ups(need.grams, planned.put_up_g)
        put_up = f", {number} x {weight_words(planned.put_up_g, units)}"
    amounts = f"{measured_yarn_words(need.metres, units)}, {weight_words(need.grams, units)}"
    return f"  {side}{name}: {counted(need.threads, thread)}, {amounts}{put_up}"


def _taken(option: str, units: Units) -> str:
    called = _CALLED.get(option, option.replace("_", "-"))
    return f"{called} {_USUAL[option]:g} %" if option in _PERCENT else f"{called} {length_words(_USUAL[option], units)}"


def _document(planned: _Planned) -> dict[str, object]:
    wish, answer = planned.wish, planned.plan
    return {
        "finished": {"width_cm": wish.width_cm, "length_cm": wish.length_cm, "pieces": wish.pieces},
        "setts_per_cm": {weave.name.lower(): sett for weave, sett in planned.setts.items()},
        "sett_per_cm": answer.sett,
        "picks_per_cm": wish.picks,
        "ends": answer.ends,
        "ends_in_a_dent": answer.dent_ends,
        "dents": answer.dents,
        "width_in_reed_cm": answer.width_in_reed_cm,
        "woven_cm": answer.woven_cm,
        "warp_cm": answer.warp_cm,
        "picks": answer.picks,
        "put_up_grams": planned.put_up_g,
        "warp": [_need_document(need, planned.put_up_g) for need in planned.warp],
        "weft": [_need_document(need, planned.put_up_g) for need in planned.weft],
        "taken_as_usual": [option.replace("_", " ") for option in planned.untold],
    }


def _need_document(need: YarnNeed, put_up_g: float | None) -> dict[str, object]:
    put_ups = None if put_up_g is None or need.grams is None else _put_ups(need.grams, put_up_g)
    return {
        "yarn": need.name,
        "threads": need.threads,
        "metres": need.metres,
        "grams": need.grams,
        "put_ups": put_ups,
    }


def _put_ups(weight_g: float, put_up_g: float) -> int:
    """Return how many cones or skeins hold a weight."""
    return ceil(weight_g / put_up_g - 1e-9)
