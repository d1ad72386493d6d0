"""A warp on the shelf stays as it was begun: what is asked for anew must be what it has."""

from __future__ import annotations

import argparse
from math import isclose

from companion.cli.new_warp import as_laid_in, piece_measures
from companion.cli.seen import shuttles_seen
from companion.cli.sizes import option_of
from companion.cli.status import CommandError
from companion.cli.yarn_words import yarn_size
from companion.remap.loom.tieup_text import parse_tieup, print_tieup
from companion.weaving.warp import Warp

_CLOSE = 1e-6
"""Numbers that differ by a smaller share are one number, however they were worked out."""


def check_agrees(name: str, warp: Warp, arguments: argparse.Namespace) -> None:
    """Raise CommandError for the first option that contradicts the warp called `name`; options not given say nothing.

    Also raises RemapError for a present tie-up that cannot be read.
    """
    has = _as_typed(warp)
    for option, asked in _asked(arguments, warp).items():
        if asked.casefold() != has[option].casefold():
            _contradicts(name, option_of(option), asked, has[option])
    if arguments.shuttles is not None:
        piece = warp.pieces[0]
        for yarn, side in shuttles_seen(arguments.shuttles, piece.draft):
            if piece.start_of(yarn) is not side:
                lies = f'"{piece.draft.yarns[yarn].name} {piece.start_of(yarn).value}"'
                _contradicts(name, "--shuttles", f'"{arguments.shuttles}"', lies)
    if arguments.face_down and not all(piece.face_down for piece in warp.pieces):
        _contradicts(name, "--face-down", "", "")
    if arguments.same_feet and len({piece.footings for piece in warp.pieces}) > 1:
        _contradicts(name, "--same-feet", "", "")
    drafts = [piece.draft for piece in warp.pieces]
    if as_laid_in(arguments, drafts) != drafts:
        _contradicts(name, "--lay-in", ", ".join(arguments.lay_in), "")
    sizes = {size.yarn: size for size in warp.sizes}
    for words in arguments.yarn or ():
        size = yarn_size(words, [piece.draft for piece in warp.pieces])
        known = sizes.get(size.yarn)
        if known is None or not isclose(known.tex, size.tex, rel_tol=_CLOSE):
            _contradicts(name, "--yarn", words, "" if known is None else f'"{known.yarn} {known.tex:.6g} tex"')


def _contradicts(name: str, option: str, asked: str, has: str) -> None:
    stands = f"with {option} {has}" if has else f"without {option}"
    raise CommandError(
        f"warp {name!r} is on the shelf {stands} and stays so; leave {' '.join(filter(None, (option, asked)))} out, "
        "or make another warp of the draft under another --name"
    )


def _as_typed(warp: Warp) -> dict[str, str]:
    """Return every option as it would be typed for this warp; empty where it would not be."""
    loom, winding, pieces = warp.loom, warp.winding, warp.pieces
    present = "" if loom.present is None else print_tieup(loom.present, loom.loom.action)
    return {
        "loom": loom.name,
        "treadles": str(loom.loom.treadles),
        "shafts": str(loom.loom.shafts),
        "action": loom.loom.action.value,
        "reach": str(loom.loom.reach),
        "tabby": loom.loom.wish.tabby.value,
        "first_foot": loom.loom.wish.first_foot.value,
        "present": present,
        "width": _number(warp.width_cm),
        "length": "" if winding is None else _number(winding.length_cm),
        "waste": _number(loom.loom_waste_cm),
        "take_up": "" if winding is None else _number(100 * winding.take_up),
        "shrinkage": "" if winding is None else _number(100 * winding.shrinkage),
        "picks_per_cm": _list([piece.picks_per_cm for piece in pieces]),
        "piece_length": _list([piece.length_cm for piece in pieces]),
        "fringe": _list([piece.fringe_cm for piece in pieces]),
        "spacer": _list([piece.spacer_cm for piece in pieces[:-1]]),
    }


def _asked(arguments: argparse.Namespace, warp: Warp) -> dict[str, str]:
    """Return the options that were given, in the words of `_as_typed`."""
    plans = piece_measures(arguments, len(warp.pieces))
    asked = {
        "present": arguments.present
        and print_tieup(parse_tieup(arguments.present, warp.loom.loom.action), warp.loom.loom.action),
        "picks_per_cm": (arguments.picks or arguments.picks_per_cm) and _list([plan.picks_per_cm for plan in plans]),
        "piece_length": arguments.piece_length and _list([plan.length_cm for plan in plans]),
        "fringe": arguments.fringe and _list([plan.fringe_cm for plan in plans]),
        "spacer": arguments.spacer and _list([plan.spacer_cm for plan in plans[:-1]]),
        "loom": arguments.loom,
        "action": arguments.action,
        "tabby": arguments.tabby,
        "first_foot": arguments.first_foot,
    }
    for option in ("treadles", "shafts", "reach", "width", "length", "waste", "take_up", "shrinkage"):
        asked[option] = _number(getattr(arguments, option))
    return {option: words for option, words in asked.items() if words}


def _number(number: float | None) -> str:
    return "" if number is None else f"{number:g}"


def _list(numbers: list[float | None]) -> str:
    words = [_number(number) for number in numbers]
    return ",".join(words) if any(words) else ""
