"""`fellside picks`: the treadling as a weaver would chant it, section by section, and where a pick lies in it."""

from __future__ import annotations

import argparse
import json
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import replace

from companion.cli.sources import load_draft
from companion.cli.spoken import tell
from companion.cli.status import DONE, CommandError
from companion.draft.chant import chant, chant_tabby
from companion.draft.masks import bits_of
from companion.draft.model import Draft, Yarn
from companion.draft.repeat_search import Reading
from companion.draft.repeats import Back, PathStep, Repeat, RepeatStep, SequencePart, Series, SymbolRun
from companion.draft.throws import Throw
from companion.draft.treadling import PlaceInReading, SectionReading, StretchReading, TreadlingReading, read_treadling
from companion.draft.units import Units, counted, length_words
from companion.present.laid_in_words import section_laid_in_words
from companion.present.trade_words import names_in
from companion.weaving.pick_table import pick_table
from companion.weaving.uniqueness import rows_that_tell
from companion.weaving.warp import Piece

SUMMARY = "the treadling read as repeats, section by section"
_WIDTH = 78


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the file, and a pick to be placed."""
    parser.add_argument("file", metavar="FILE", help="a draft: a Weaving Information File or shorthand")
    parser.add_argument("--pick", type=int, metavar="N", help="say in which section and repeat pick N lies")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def run(arguments: argparse.Namespace) -> int:
    """Read the draft, read its treadling as repeats, and print it."""
    draft = load_draft(arguments.file)
    reading = read_treadling(draft)
    # Without its sections: one that cannot be woven, of no picks until a length, is still chanted.
    telling = rows_that_tell(pick_table(Piece("as listed", replace(draft, sections=()))).look).tolist()
    place = None
    if arguments.pick is not None:
        if not 1 <= arguments.pick <= draft.picks:
            raise CommandError(f"{arguments.file}: no pick {arguments.pick}; give 1 to {draft.picks}")
        place = reading.place(arguments.pick - 1)
    if arguments.json:
        print(json.dumps(_document(draft, reading, telling, arguments.pick, place)))
    else:
        lines = _lines(draft, reading, telling, arguments.pick, place, arguments.units)
        tell(lines, arguments.trade, names_in(draft))
    return DONE


def _lines(
    draft: Draft,
    reading: TreadlingReading,
    tell: list[int],
    pick: int | None,
    place: PlaceInReading | None,
    units: Units,
) -> Iterator[str]:
    if pick is not None and place is not None:
        yield f"pick {pick}: {place_words(place, named=bool(draft.sections))}"
        rows = tell[pick - 1]
        yield f"its newest {'row lies' if rows == 1 else f'{rows} rows lie'} so nowhere else"
        return
    title = draft.title or "Draft without a title"
    sections = f" in {counted(len(draft.sections), 'section')}" if draft.sections else ""
    yield f"{title}: {counted(draft.picks, 'pick')}{sections}"
    first = 1
    for number, one in enumerate(reading.sections, 1):
        yield ""
        if draft.sections:
            yield f"{number}  {_section_words(one, draft.yarns, first, units)}"
        words = _chanted(draft, one) or "no picks"
        if one.tabby is not None:
            words += f", {chant_tabby(one.tabby, draft.yarns)}"
        yield from textwrap.wrap(words, _WIDTH, initial_indent="   ", subsequent_indent="     ", break_on_hyphens=False)
        if not one.exact:
            yield "   (the shortest reading found; there may be a shorter one)"
        first += one.section.picks
    if tell:
        middle, most = sorted(tell)[len(tell) // 2], max(tell)
        yield ""
        yield f"Rows at the fell that tell a pick from every other: {middle:,} for half of the picks, {most:,} for all."


def _chanted(draft: Draft, one: SectionReading, whole: str = "({}) with tabby") -> str:
    """Return a section in words; `whole` is the form of one that has tabby from its first pick to its last."""
    with_tabby = whole if len(one.stretches) == 1 else "({}) with tabby"
    words = ((stretch, chant(stretch.reading, draft.yarns)) for stretch in one.stretches)
    return " ".join(with_tabby.format(said) if stretch.with_tabby else said for stretch, said in words)


def _section_words(one: SectionReading, yarns: Sequence[Yarn], first: int, units: Units) -> str:
    section = one.section
    until = "" if section.until_cm is None else f", again and again until {length_words(section.until_cm, units)}"
    if laid := section_laid_in_words(section, yarns, units):
        until += f"; {laid}"
    last = first + section.picks - 1
    where = f" ({first} to {last})" if section.picks > 1 else f" ({first})" if section.picks else ""
    return f"{section.name}: {counted(section.picks, 'pick')}{where}{until}"


def place_words(place: PlaceInReading, *, named: bool) -> str:
    """Return a place as a weaver says it: `section 3, repeat 4 of 12, pick 5 of 8`; the section only where `named`."""
    words = [f"section {place.section + 1}"] if named else []
    pick = f"pick {place.pick + 1}"
    for step in place.steps:
        if isinstance(step, RepeatStep):
            words.append(f"repeat {step.repeat + 1} of {step.times}")
        else:
            words.append("on the way back" if step.back else "on the way forth")
        pick = f"pick {step.pick + 1} of {step.picks}"
    return ", ".join([*words, pick])


def _document(
    draft: Draft, reading: TreadlingReading, tell: list[int], pick: int | None, place: PlaceInReading | None
) -> dict[str, object]:
    document: dict[str, object] = {
        "draft": {"title": draft.title, "picks": draft.picks, "sections": len(draft.sections)},
        "sections": list(_section_entries(draft, reading)),
        "rows_that_tell": tell,
    }
    if place is not None:
        document["place"] = {
            "pick": pick,
            "section": place.section + 1,
            "pick_in_section": place.pick + 1,
            "steps": [_step_entry(step) for step in place.steps],
        }
    return document


def _section_entries(draft: Draft, reading: TreadlingReading) -> Iterator[dict[str, object]]:
    first = 1
    for one in reading.sections:
        yield {
            "name": one.section.name,
            "first": first,
            "picks": one.section.picks,
            "until_cm": one.section.until_cm,
            "reading": _chanted(draft, one, whole="{}"),
            "tabby": None if one.tabby is None else chant_tabby(one.tabby, draft.yarns),
            "cost": one.cost,
            "exact": one.exact,
            "parts": [entry for stretch in one.stretches for entry in _stretch_entries(draft, one, stretch)],
        }
        first += one.section.picks


def _stretch_entries(draft: Draft, one: SectionReading, stretch: StretchReading) -> list[dict[str, object]]:
    parts = list(_part_entries(draft, stretch.reading, stretch.reading.part))
    if stretch.with_tabby and len(one.stretches) > 1:
        return [{"with_tabby": True, "parts": parts}]
    return parts


def _part_entries(draft: Draft, reading: Reading[Throw], part: SequencePart) -> Iterator[dict[str, object]]:
    match part:
        case SymbolRun(symbols):
            moved = "treadles" if draft.treadles else "shafts"
            for symbol in symbols:
                throw = reading.items[symbol]
                numbers = [bit + 1 for bit in bits_of(throw.moved)]
                yield {moved: numbers, "shuttle": draft.yarns[throw.yarn].name}
        case Series(parts):
            for inner in parts:
                yield from _part_entries(draft, reading, inner)
        case Repeat(body, times):
            yield {"times": times, "parts": list(_part_entries(draft, reading, body))}
        case Back(body, turn):
            yield {"turned": turn.name.lower(), "parts": list(_part_entries(draft, reading, body))}


def _step_entry(step: PathStep) -> dict[str, object]:
    entry: dict[str, object] = {"pick": step.pick + 1, "picks": step.picks}
    if isinstance(step, RepeatStep):
        return {"repeat": step.repeat + 1, "times": step.times, **entry}
    return {"back": step.back, **entry}
