"""What is stated of a new warp beyond its drafts: its width, what was wound, its yarns, and each piece's measures."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import replace

from companion.cli.sizes import check_sizes, length, lengths_for_each, picks_for_each, share
from companion.cli.status import CommandError
from companion.cli.yarn_words import yarn_size
from companion.draft.errors import DraftError
from companion.draft.laying_in import lay_in
from companion.draft.model import Draft
from companion.draft.written import read_length
from companion.weaving.warp import LoomProfile, Winding
from companion.workshop.dressing import ANY_LENGTH_CM, Measures, PieceMeasures


def add_measures(parser: argparse._ActionsContainer) -> None:
    """Declare the measures; those of pieces take one value for all, or one for each with commas between.

    Each takes a unit; a number alone is centimetres, of `--picks` what the settings say.
    """
    parser.add_argument(
        "--width", type=length, metavar="LENGTH", help='width in the reed: "18 in", 45cm; a number alone is cm'
    )
    parser.add_argument("--length", type=length, metavar="LENGTH", help="warp wound")
    parser.add_argument("--waste", type=length, metavar="LENGTH", help="loom waste (default: the loom's)")
    parser.add_argument("--take-up", type=share, metavar="PERCENT", help="of the warp, by bending")
    parser.add_argument("--shrinkage", type=share, metavar="PERCENT", help="off the loom and washed")
    parser.add_argument("--picks", metavar="N,…", help="picks on the loom: 24/in, 6/cm, or a number in your units")
    parser.add_argument("--picks-per-cm", metavar="N,…", help="the same, where a number alone is picks per cm")
    parser.add_argument("--piece-length", metavar="LENGTH,…", help="planned length of each piece on the loom")
    parser.add_argument("--fringe", metavar="LENGTH,…", help="unwoven warp kept with each piece, both ends together")
    parser.add_argument("--spacer", metavar="LENGTH,…", help="warp cut away between a piece and the next")
    parser.add_argument(
        "--yarn", action="append", metavar="SIZE", help='such as "sand 16/2 cotton" or "sea 60 tex"; once for each yarn'
    )
    parser.add_argument(
        "--lay-in",
        action="append",
        metavar="WEFT",
        help='laid in or cut at each pick, not thrown: "rush 14 in", or "rush"; once for each such weft',
    )


def as_laid_in(arguments: argparse.Namespace, drafts: Sequence[Draft]) -> list[Draft]:
    """Return the drafts with the wefts of `--lay-in` laid in wherever they are woven; raises CommandError."""
    laid = list(drafts)
    for words in arguments.lay_in or ():
        name, length_cm = _weft_and_length(words, {draft.yarns[yarn].name for draft in drafts for yarn in draft.weft})
        try:
            laid = [lay_in(draft, name, length_cm) for draft in laid]
        except DraftError as error:
            raise CommandError(f"--lay-in {words:.40}: {error.mend or error}") from error
    return laid


def _weft_and_length(words: str, wefts: set[str]) -> tuple[str, float | None]:
    """Return the longest name of a weft that these words begin with, and the length behind it."""
    said = " ".join(words.split())
    for name in sorted(wefts, key=len, reverse=True):
        if said == name:
            return name, None
        if said.startswith(f"{name} "):
            try:
                return name, read_length(said[len(name) :])
            except ValueError as error:
                raise CommandError(f"--lay-in {words:.40}: {error}") from error
    known = ", ".join(sorted(wefts))
    raise CommandError(f"--lay-in {words:.40}: no weft is called so; the wefts are {known}")


def measures_of(arguments: argparse.Namespace, drafts: Sequence[Draft], only_planned: bool = False) -> Measures:
    """Return the measures asked for; raises CommandError, or WeavingError for a warp that cannot be wound.

    `only_planned`: no warp is wound yet, so that take-up and shrinkage need no length.
    """
    check_sizes(arguments, "width", "length", "take_up", "shrinkage")
    return Measures(
        _winding(arguments, only_planned),
        arguments.width or None,
        tuple(yarn_size(words, drafts) for words in arguments.yarn or ()),
        piece_measures(arguments, len(drafts)),
    )


def piece_measures(arguments: argparse.Namespace, pieces: int) -> tuple[PieceMeasures, ...]:
    """Return the measures of so many pieces; a spacer lies between two, so there is none after the last."""
    per_cm = picks_for_each(arguments, pieces)
    lengths = lengths_for_each(arguments, "piece_length", pieces)
    fringes = lengths_for_each(arguments, "fringe", pieces)
    spacers = (*lengths_for_each(arguments, "spacer", pieces - 1), None)
    return tuple(
        PieceMeasures(each, length, fringe or 0.0, spacer or 0.0)
        for each, length, fringe, spacer in zip(per_cm, lengths, fringes, spacers, strict=True)
    )


def with_waste(profile: LoomProfile, arguments: argparse.Namespace) -> LoomProfile:
    """Return the loom with the waste that was given, where one was; raises CommandError."""
    check_sizes(arguments, "waste")
    return profile if arguments.waste is None else replace(profile, loom_waste_cm=arguments.waste)


def _winding(arguments: argparse.Namespace, only_planned: bool) -> Winding | None:
    take_up, shrinkage = (arguments.take_up or 0.0) / 100, (arguments.shrinkage or 0.0) / 100
    if arguments.length is not None:
        return Winding(arguments.length, take_up, shrinkage)
    if only_planned:
        return Winding(ANY_LENGTH_CM, take_up, shrinkage)
    if take_up or shrinkage:
        raise CommandError("--take-up and --shrinkage are of the warp wound; give its --length too")
    return None
