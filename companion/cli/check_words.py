"""The facts of a draft as lines for a weaver to read."""

from __future__ import annotations

from collections.abc import Iterator

from companion.cli.phrases import numbered
from companion.draft.checks import Finding
from companion.draft.deviations import Deviation
from companion.draft.facing import Facing
from companion.draft.facts import Facts
from companion.draft.floats import Float, LongestFloats, Threads
from companion.draft.layers import Join
from companion.draft.masks import print_shed
from companion.draft.model import Draft
from companion.draft.selvedge import Edge, SelvedgeTurns, floating_ends
from companion.draft.units import Units, counted, length_words
from companion.present.laid_in_words import section_laid_in_words

_MOST_SHEDS = 24
_MOST_LAYERS = 6
_JOINED = {
    Join.NOT: "nothing joins them",
    Join.ONE_EDGE: "the weft joins them at one edge: they open out to double width",
    Join.TUBE: "the weft joins them at both edges: a tube",
}


def lines(facts: Facts, deviations: tuple[Deviation, ...], units: Units, facing: Facing) -> Iterator[str]:
    """Yield everything that `check` says, a blank line between the parts."""
    yield from _heading(facts, units)
    for title, part in (
        ("Sheds", _sheds(facts)),
        ("Longest floats within the piece", _floats(facts)),
        ("Cloth", _cloth(facts)),
        ("Shuttles", _shuttles(facts, facing)),
        ("To look at before weaving", _findings(facts)),
        ("Where the file departs from the standard", map(str, deviations)),
    ):
        body = list(part)
        if body:
            yield ""
            yield title
            yield from (f"  {line}" for line in body)


def _heading(facts: Facts, units: Units) -> Iterator[str]:
    draft = facts.draft
    yield draft.title or "Draft without a title"
    lifting = counted(draft.treadles, "treadle") if draft.treadles else "lift plan"
    yield f"  {counted(draft.shafts, 'shaft')}, {lifting}, {counted(draft.ends, 'end')}, {counted(draft.picks, 'pick')}"
    if not draft.rising:
        yield "  written for a sinking shed: tied shafts go down"
    for section in draft.sections:
        until = "" if section.until_cm is None else f", repeated until {length_words(section.until_cm, units)}"
        laid_in = section_laid_in_words(section, draft.yarns, units)
        yield f"  section {section.name}: {counted(section.picks, 'pick')}{until}{laid_in and f'; {laid_in}'}"


def _sheds(facts: Facts) -> Iterator[str]:
    rows = [(print_shed(shed), picks) for shed, picks in facts.picks_of_shed]
    shown = rows[:_MOST_SHEDS]
    yield f"{len(rows)} different; shafts raised:"
    width = max((len(shafts) for shafts, _ in shown), default=0)
    for shafts, picks in shown:
        yield f"{shafts:<{width}}  {counted(picks, 'pick')}"
    if len(rows) > len(shown):
        yield f"and {len(rows) - len(shown)} more"
    if facts.tabby:
        first, second = map(print_shed, facts.tabby)
        yield f"plain weave on this threading: {first} against {second}"
    else:
        yield "no plain weave on this threading"


def _floats(facts: Facts) -> Iterator[str]:
    for floats in facts.floats:
        if not floats.count:
            yield f"{floats.threads.value} on the {floats.surface.value}: none"
            continue
        first = _float_place(floats, floats.places[0])
        more = f", and {floats.count - 1:,} more" if floats.count > 1 else ""
        yield f"{floats.threads.value} on the {floats.surface.value}: {floats.length} ({first}{more})"


def _float_place(floats: LongestFloats, place: Float) -> str:
    thread, crossed = ("end", "pick") if floats.threads is Threads.WARP else ("pick", "end")
    return f"{thread} {place.thread + 1} over {numbered(crossed, range(place.first, place.first + place.length))}"


def _cloth(facts: Facts) -> Iterator[str]:
    if not (facts.draft.ends and facts.draft.picks):
        yield f"none yet: {counted(facts.draft.ends, 'end')}, {counted(facts.draft.picks, 'pick')}"
        return
    if len(facts.layers) == 1:
        yield "hangs together in one layer"
        return
    cloths = [layer for layer in facts.layers if layer.is_cloth]
    floating = floating_ends(facts.draft)
    ends = sorted(end for layer in facts.layers if not layer.is_cloth for end in layer.ends if end not in floating)
    picks = sorted(pick for layer in facts.layers if not layer.is_cloth for pick in layer.picks)
    if len(cloths) == 1:
        yield "one cloth hangs together"
    else:
        yield f"does not hang together: {counted(len(cloths), 'cloth')}, the topmost first"
        for number, layer in enumerate(cloths[:_MOST_LAYERS], 1):
            yield f"{number}: {counted(len(layer.ends), 'end')} with {counted(len(layer.picks), 'pick')}"
    if len(cloths) > _MOST_LAYERS:
        yield f"and {len(cloths) - _MOST_LAYERS} more"
    number_of = {index: number for number, index in enumerate(_cloth_indices(facts), 1)}
    for pair in facts.joins[:_MOST_LAYERS]:
        yield f"{number_of[pair.upper]} and {number_of[pair.lower]}: {_JOINED[pair.join]}"
    if ends:
        yield f"nothing holds {numbered('end', ends)}"
    if picks:
        yield f"nothing holds {numbered('pick', picks)}"


def _cloth_indices(facts: Facts) -> list[int]:
    return [index for index, layer in enumerate(facts.layers) if layer.is_cloth]


def _shuttles(facts: Facts, facing: Facing) -> Iterator[str]:
    draft = facts.draft
    floating = floating_ends(draft)
    if floating:
        kind = "floating selvedge" if len(floating) == 1 else "floating selvedges"
        yield f"{kind}: {numbered('end', floating)}; the shuttle goes in over it and comes out under it"
    for turns in facts.selvedges.shuttles:
        picks = counted(draft.weft.count(turns.shuttle), "pick")
        yield f"{draft.yarns[turns.shuttle].name}: {picks}{_turns(turns, facing)}"
    if facts.selvedges.needs_floating:
        yield "use floating selvedges: they catch what is missed from the better side too"


def _turns(turns: SelvedgeTurns, facing: Facing) -> str:
    if not turns.turns:
        return ""
    start = f"starts from the {facing.side_of(turns.start is Edge.FIRST_END).value}"
    if not turns.missed:
        return f"; {start}, no turn misses its edge"
    return f"; {start}, {turns.missed:,} of {counted(turns.turns, 'turn')} miss the outermost end"


def _findings(facts: Facts) -> Iterator[str]:
    for finding in facts.findings:
        yield f"{finding.kind.value}{_places(facts.draft, finding)}"


def _places(draft: Draft, finding: Finding) -> str:
    parts = [
        numbered(noun, indices)
        for noun, indices in (
            ("pick", finding.picks),
            ("end", finding.ends),
            ("shaft", finding.shafts),
            ("treadle", finding.treadles),
        )
        if indices
    ]
    if finding.shuttle is not None:
        parts.append(draft.yarns[finding.shuttle].name)
        where = "over the whole piece" if finding.section is None else f"in {draft.sections[finding.section].name}"
        parts.append(where)
    return f": {', '.join(parts)}" if parts else ""
