"""`fellside check`: what a draft is, what it weaves, and what a weaver would want to know before weaving it."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from companion.cli import check_words
from companion.cli.sources import load_draft_with_deviations
from companion.cli.spoken import tell
from companion.cli.status import DONE, CommandError
from companion.draft.checks import Finding
from companion.draft.cloth import Surface
from companion.draft.deviations import Deviation
from companion.draft.errors import DraftError
from companion.draft.facing import Facing
from companion.draft.facts import Facts, facts_of
from companion.draft.floats import LongestFloats, Threads
from companion.draft.layers import hangs_together
from companion.draft.masks import shafts_of
from companion.draft.model import Draft
from companion.draft.pictures import cloth_picture, drawdown_picture
from companion.draft.png import png
from companion.draft.selvedge import Edge, SelvedgeTurns, floating_ends
from companion.journal.disk import write_whole
from companion.present.trade_words import names_in
from companion.remap.loom.loom import Action

SUMMARY = "what a draft is: counts, sheds, floats, layers, shuttles, warnings"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the file, and the loom's action where it matters."""
    parser.add_argument("file", metavar="FILE", help="a draft: a Weaving Information File or shorthand")
    parser.add_argument(
        "--action",
        choices=[action.value for action in Action],
        help="how the loom works, for warnings that depend on it (default: as the draft is written)",
    )
    parser.add_argument("--pictures", metavar="FOLDER", help="draw drawdown, face and back as PNG files in this folder")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def run(arguments: argparse.Namespace) -> int:
    """Read the draft, check it, and print what was found; warnings do not change the exit status."""
    draft, deviations = load_draft_with_deviations(arguments.file)
    written_for = Action.RISING if draft.rising else Action.SINKING
    action = Action(arguments.action) if arguments.action else written_for
    facts = facts_of(draft, counterbalanced=action is Action.SINKING)
    drawn = (
        _draw(draft, Path(arguments.pictures), Path(arguments.file).stem, arguments.facing)
        if arguments.pictures
        else []
    )
    if arguments.json:
        document = _document(facts, deviations)
        if arguments.pictures:
            document["pictures"] = drawn
        print(json.dumps(document))
    else:
        said = check_words.lines(facts, deviations, arguments.units, arguments.facing)
        tell([*said, *(f"drawn: {name}" for name in drawn)], arguments.trade, names_in(draft))
    return DONE


def _draw(draft: Draft, folder: Path, name: str, facing: Facing) -> list[str]:
    """Draw the three pictures, written over where they were drawn before, and return their names."""
    drawn = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for what, picture in _pictures(draft, facing):
            path = folder / f"{name}-{what}.png"
            write_whole(path, png(picture))
            drawn.append(str(path))
    except OSError as error:
        raise CommandError(f"{folder}: {error.strerror or error}; name a folder that can be written to") from error
    except DraftError as error:
        raise CommandError(f"{name}: {error}") from error
    return drawn


def _pictures(draft: Draft, facing: Facing) -> Iterator[tuple[str, NDArray[np.uint8]]]:
    yield "drawdown", drawdown_picture(draft, facing)
    for surface in Surface:
        yield surface.value, cloth_picture(draft, surface, facing)


def _document(facts: Facts, deviations: tuple[Deviation, ...]) -> dict[str, object]:
    draft = facts.draft
    floating = floating_ends(draft)
    loose = tuple(end for end in facts.loose.ends if end not in floating)
    return {
        "draft": {
            "title": draft.title,
            "shafts": draft.shafts,
            "treadles": draft.treadles,
            "picks": draft.picks,
            "ends": draft.ends,
            "sheds": len(facts.picks_of_shed),
            "rising": draft.rising,
        },
        "sections": [
            {
                "name": section.name,
                "picks": section.picks,
                "until_cm": section.until_cm,
                "laid_in": [
                    {"shuttle": draft.yarns[laid.yarn].name, "length_cm": laid.length_cm} for laid in section.laid_in
                ],
            }
            for section in draft.sections
        ],
        "sheds": [{"shafts": list(shafts_of(shed)), "picks": picks} for shed, picks in facts.picks_of_shed],
        "tabby": [list(shafts_of(shed)) for shed in facts.tabby] if facts.tabby else None,
        "floats": [_float_entry(floats) for floats in facts.floats],
        "never_interlacing": {"ends": _numbers(loose), "picks": _numbers(facts.loose.picks)},
        "hangs_together": hangs_together(facts.layers),
        "layers": [{"ends": _numbers(layer.ends), "picks": _numbers(layer.picks)} for layer in facts.layers],
        "joins": [
            {"upper": pair.upper + 1, "lower": pair.lower + 1, "joined": pair.join.value} for pair in facts.joins
        ],
        "shuttles": [_shuttle_entry(draft, turns) for turns in facts.selvedges.shuttles],
        "floating_selvedge": facts.selvedges.needs_floating,
        "floating_ends": _numbers(floating),
        "warnings": [_warning_entry(draft, finding) for finding in facts.findings],
        "deviations": [_deviation_entry(deviation) for deviation in deviations],
    }


def _numbers(indices: tuple[int, ...]) -> list[int]:
    return [index + 1 for index in indices]


def _float_entry(floats: LongestFloats) -> dict[str, object]:
    thread, crossed = ("end", "picks") if floats.threads is Threads.WARP else ("pick", "ends")
    return {
        "threads": floats.threads.value,
        "surface": floats.surface.value,
        "length": floats.length,
        "count": floats.count,
        "places": [
            {thread: place.thread + 1, crossed: [place.first + 1, place.first + place.length]}
            for place in floats.places
        ],
    }


def _shuttle_entry(draft: Draft, turns: SelvedgeTurns) -> dict[str, object]:
    yarn = draft.yarns[turns.shuttle]
    return {
        "name": yarn.name,
        "colour": list(yarn.colour),
        "picks": draft.weft.count(turns.shuttle),
        "start_at_end": 1 if turns.start is Edge.FIRST_END else draft.ends,
        "turns": turns.turns,
        "turns_missed": turns.missed,
        "missed_after_picks": sorted(_numbers(turns.missed_first + turns.missed_last)),
    }


def _warning_entry(draft: Draft, finding: Finding) -> dict[str, object]:
    entry: dict[str, object] = {"what": finding.kind.value}
    for name, places in (
        ("picks", finding.picks),
        ("ends", finding.ends),
        ("shafts", finding.shafts),
        ("treadles", finding.treadles),
    ):
        if places:
            entry[name] = _numbers(places)
    if finding.shuttle is not None:
        entry["shuttle"] = draft.yarns[finding.shuttle].name
    if finding.section is not None:
        entry["section"] = draft.sections[finding.section].name
    return entry


def _deviation_entry(deviation: Deviation) -> dict[str, object]:
    place = deviation.place
    return {
        "what": deviation.what,
        "section": place.section,
        "key": place.key,
        "line": place.line,
        "times": deviation.times,
    }
