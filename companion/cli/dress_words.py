"""What is counted before a warp is put on, as lines to read and as a document."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from companion.draft.model import Draft
from companion.draft.repeat_search import Reading
from companion.draft.repeats import Back, Repeat, SequencePart, Series, SymbolRun
from companion.draft.shorthand_print import print_sley
from companion.draft.sley import Sley, print_reed
from companion.draft.units import Units, counted, measured_words
from companion.draft.winding_list import WoundTurn, winding_words
from companion.present.dressing_counts_words import middle_words, no_shaft_words, raddle_words
from companion.weaving.dressing_counts import DressingCounts

_WIDTH = 78


def counts_lines(draft: Draft, counts: DressingCounts, sley: Sley, units: Units) -> Iterator[str]:
    """Yield the counts as lines, what is not known left out."""
    yield f"{draft.title or 'Draft without a title'}: {counted(counts.ends, 'end')}"
    for one in counts.yarns:
        yield f"  {draft.yarns[one.yarn].name}: {counted(one.ends, 'end')}"
    yield ""
    yield f"Heddles, {counted(sum(counts.heddles), 'heddle')} in all"
    lacking = {short.shaft: short.heddles for short in counts.short or ()}
    for shaft, heddles in enumerate(counts.heddles):
        short = f"; {lacking[shaft]:,} too few on the loom" if shaft in lacking else ""
        yield f"  shaft {shaft + 1}: {heddles:,}{short}"
    if counts.short == ():
        yield "  the loom has enough on each shaft"
    if on_none := no_shaft_words(draft):
        yield f"  {on_none}"
    yield ""
    yield "Winding, from the side of end 1"
    yield from _wrapped(winding_words(counts.winding, draft.yarns) or "nothing")
    yield ""
    yield f"Threading in {counted(len(counts.groups), 'group')}, from the side of end 1"
    for number, group in enumerate(counts.groups, 1):
        shafts = [0 if shaft is None else shaft + 1 for shaft in draft.threading[group.first : group.last + 1]]
        yield f"  {number:>3}  ends {group.first + 1} to {group.last + 1}: {' '.join(map(str, shafts))}"
    yield from _in_the_reed(draft, counts, sley, units)


def _in_the_reed(draft: Draft, counts: DressingCounts, sley: Sley, units: Units) -> Iterator[str]:
    if not sley.dents and sley.reed_per_cm is None:
        return
    yield ""
    yield "In the reed"
    if sley.reed_per_cm is not None:
        yield f"  a reed of {print_reed(sley.reed_per_cm)}"
    if not sley.dents:
        return
    yield from _wrapped(f"ends in the dents: {print_sley(sley, draft.ends)}")
    if counts.unplanned > 0:
        yield f"  ! the plan has no dents for the last {counted(counts.unplanned, 'end')}"
    elif counts.unplanned < 0:
        yield f"  ! the plan has dents for {counted(-counts.unplanned, 'end')} more than there are"
    if counts.dents is not None and counts.beside_middle is not None:
        yield f"  {counted(counts.dents, 'dent')}, {measured_words(counts.width_cm, units)} wide"
        yield f"  to centre it, begin on the side of end 1 in {middle_words(counts.dents, counts.beside_middle)}"
    if counts.start_dent is not None:
        yield f"  that is dent {counts.start_dent:,} from the edge of the reed on that side"
    if counts.raddle:
        yield from _wrapped(f"ends in the spaces of the raddle: {raddle_words(counts)}")


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False)


def counts_document(draft: Draft, counts: DressingCounts) -> dict[str, object]:
    """Return the counts for JSON: lengths in cm, shafts, ends and dents from 1; those of dents only where known.

    `start_dent` counts from the edge of the reed where its length is known, else from its middle, as `start_dent_from`
    says.
    """
    document: dict[str, object] = {
        "ends": counts.ends,
        "heddles": list(counts.heddles),
        "colours": [{"yarn": draft.yarns[one.yarn].name, "ends": one.ends} for one in counts.yarns],
        "winding": list(_winding_entries(draft, counts.winding, counts.winding.part)),
        "groups": [
            {
                "first": group.first + 1,
                "last": group.last + 1,
                "shafts": [
                    0 if shaft is None else shaft + 1 for shaft in draft.threading[group.first : group.last + 1]
                ],
            }
            for group in counts.groups
        ],
    }
    if counts.short is not None:
        document["short"] = [{"shaft": short.shaft + 1, "heddles": short.heddles} for short in counts.short]
    if counts.dents is not None:
        from_edge = counts.start_dent is not None
        document |= {
            "dents": counts.dents,
            "width_cm": counts.width_cm,
            "start_dent": counts.start_dent if from_edge else counts.beside_middle,
            "start_dent_from": "edge" if from_edge else "middle",
        }
    if counts.unplanned:
        document["unplanned_ends"] = counts.unplanned
    if counts.raddle:
        document["raddle"] = list(counts.raddle)
    return document


def _winding_entries(draft: Draft, reading: Reading[WoundTurn], part: SequencePart) -> Iterator[dict[str, object]]:
    match part:
        case SymbolRun(symbols):
            for symbol in symbols:
                turn = reading.items[symbol]
                names = [draft.yarns[yarn].name for yarn in turn.yarns]
                each: dict[str, object] = {"yarn": names[0]} if len(names) == 1 else {"yarns": names}
                yield {"ends": turn.times * len(names), **each}
        case Series(parts):
            for inner in parts:
                yield from _winding_entries(draft, reading, inner)
        case Repeat(body, times):
            yield {"times": times, "parts": list(_winding_entries(draft, reading, body))}
        case Back(body, turn):
            yield {"turned": turn.name.lower(), "parts": list(_winding_entries(draft, reading, body))}
