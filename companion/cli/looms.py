"""`fellside looms`: the looms that this weaver owns, listed, added, changed and removed."""

from __future__ import annotations

import argparse
import json
from dataclasses import replace
from functools import partial

from companion.cli.loom_options import Usual, add_loom_arguments, heddles_of, known_looms, overridden
from companion.cli.sizes import length, option_of
from companion.cli.spoken import tell
from companion.cli.status import DONE, CommandError
from companion.draft.units import Units, length_words
from companion.present.feet_wish import wish_words
from companion.present.loom_kinds import loom_in_full
from companion.remap.errors import RemapError
from companion.remap.loom.tieup_text import print_tieup
from companion.weaving.warp import LoomProfile
from companion.workshop import app
from companion.workshop.looms import Looms, LoomsError, loom_named, with_loom, without_loom
from companion.workshop.looms_file import change_looms

SUMMARY = "your looms and how they are tied now: list, add, change, remove"
ADD, CHANGE, REMOVE = "add", "change", "remove"
UNKNOWN = "unknown"
"""Said of a present tie-up that nobody knows any more."""
_OF_A_LOOM = ("treadles", "shafts", "action", "reach", "tabby", "first_foot", "present", "width", "waste", "heddles")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what to do, with which loom, and what it is."""
    parser.add_argument("what", nargs="?", choices=(ADD, CHANGE, REMOVE), help="without it the looms are listed")
    parser.add_argument("name", nargs="?", metavar="NAME", help="the loom")
    add_loom_arguments(parser, owned=False)
    parser.add_argument("--width", type=length, metavar="LENGTH", help="the widest warp that it takes")
    parser.add_argument("--waste", type=length, metavar="LENGTH", help="warp at both ends that no cloth comes of")
    parser.add_argument("--heddles", metavar="N,…", help="heddles on each shaft, shaft 1 first; one number is for all")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def run(arguments: argparse.Namespace) -> int:
    """Do what is asked and print the looms as they are then."""
    looms = known_looms()
    given = [option for option in _OF_A_LOOM if getattr(arguments, option) is not None]
    if arguments.what is not None and arguments.name is None:
        raise CommandError(f"which loom? give its name: fellside looms {arguments.what} NAME")
    if given and arguments.what not in (ADD, CHANGE):
        raise CommandError(f"{option_of(given[0])} goes with: fellside looms {ADD} NAME, or {CHANGE} NAME")
    try:
        if arguments.what is not None:
            looms = change_looms(app.looms_file(), partial(_changed, arguments))
    except (LoomsError, RemapError) as error:
        raise CommandError(str(error)) from error
    if arguments.json:
        print(json.dumps({"looms": [_document(loom) for loom in looms]}))
    elif not looms:
        print(f"no loom yet; fellside looms {ADD} NAME --shafts N --treadles N keeps one")
    else:
        lines = (line for loom in looms for line in _lines(loom, arguments.units))
        tell(lines, arguments.trade, [loom.name for loom in looms])
    return DONE


def _changed(arguments: argparse.Namespace, looms: Looms) -> Looms:
    if arguments.what == REMOVE:
        return without_loom(looms, arguments.name)
    if arguments.what == CHANGE:
        return with_loom(looms, _loom(arguments, loom_named(looms, arguments.name)))
    try:
        loom_named(looms, arguments.name)
    except LoomsError:
        if arguments.shafts is None:
            raise CommandError("how many shafts has the loom? give --shafts N") from None
        return with_loom(looms, _loom(arguments, None))
    raise CommandError(f"a loom called {arguments.name!r} is kept already; fellside looms {CHANGE} NAME alters it")


def _loom(arguments: argparse.Namespace, before: LoomProfile | None) -> LoomProfile:
    forget = arguments.present == UNKNOWN
    if forget:
        arguments.present = None
    loom = overridden(arguments, Usual(arguments.shafts or 0), before)
    return replace(
        loom,
        name=arguments.name if before is None else before.name,
        present=None if forget else loom.present,
        weaving_width_cm=loom.weaving_width_cm if arguments.width is None else arguments.width,
        loom_waste_cm=loom.loom_waste_cm if arguments.waste is None else arguments.waste,
        heddles=loom.heddles if arguments.heddles is None else heddles_of(arguments.heddles, loom.loom.shafts),
    )


def _lines(loom: LoomProfile, units: Units) -> list[str]:
    present = UNKNOWN if loom.present is None else print_tieup(loom.present, loom.loom.action)
    width = "" if loom.weaving_width_cm is None else f"; weaves {length_words(loom.weaving_width_cm, units)}"
    return [
        f"{loom.name}: {loom_in_full(loom.loom)}{width}; loom waste {length_words(loom.loom_waste_cm, units)}",
        *([f"  tied now: {present}"] if loom.loom.treadles else []),
        *([f"  feet: {wish}"] if (wish := wish_words(loom.loom.wish)) else []),
        *([f"  heddles: {', '.join(map(str, loom.heddles))}"] if loom.heddles else []),
    ]


def _document(loom: LoomProfile) -> dict[str, object]:
    return {
        "name": loom.name,
        "shafts": loom.loom.shafts,
        "treadles": loom.loom.treadles,
        "action": loom.loom.action.value,
        "reach": loom.loom.reach,
        "present": None if loom.present is None else print_tieup(loom.present, loom.loom.action),
        "width_cm": loom.weaving_width_cm,
        "waste_cm": loom.loom_waste_cm,
        "heddles": list(loom.heddles),
        "tabby": loom.loom.wish.tabby.value,
        "first_foot": loom.loom.wish.first_foot.value,
    }
