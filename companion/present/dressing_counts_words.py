"""What is counted before a warp is put on, in words, for screen and terminal."""

from __future__ import annotations

from collections.abc import Iterator

from companion.draft.facing import Facing
from companion.draft.model import Draft
from companion.draft.repeat_search import read_repeats
from companion.draft.selvedge import floating_ends
from companion.draft.shorthand_print import print_run
from companion.draft.units import Units, counted, measured_words
from companion.draft.winding_list import winding_words
from companion.weaving.dressing_counts import DressingCounts


def counts_in_brief(draft: Draft, counts: DressingCounts, units: Units, facing: Facing) -> Iterator[str]:
    """Yield what is counted before, a line each: ends, heddles and what lacks, what is wound, where in the reed."""
    colours = ", ".join(f"{one.ends:,} {draft.yarns[one.yarn].name}" for one in counts.yarns)
    yield f"{counted(counts.ends, 'end')}: {colours}"
    if on_none := no_shaft_words(draft):
        yield on_none
    heddles = "   ".join(f"{shaft + 1}: {needed}" for shaft, needed in enumerate(counts.heddles))
    short = ", ".join(f"{one.heddles} on {one.shaft + 1}" for one in counts.short or ())
    enough = "; the loom has enough" if counts.short == () else ""
    yield f"heddles on {heddles}{f'; too few: {short}' if short else enough}"
    yield f"to wind: {winding_words(counts.winding, draft.yarns)}"
    if counts.dents is not None:
        yield f"{counted(counts.dents, 'dent')}, {measured_words(counts.width_cm, units)} wide"
        yield begin_words(counts, facing)
    if counts.raddle:
        yield f"in the spaces of the raddle: {raddle_words(counts)}"


def no_shaft_words(draft: Draft) -> str:
    """Return how many ends are on no shaft, and which of them are floating selvedges; empty where there are none.

    `2 on no shaft: floating selvedges (ends 1 and 18)`.
    """
    idle = sum(shaft is None for shaft in draft.threading)
    floating = floating_ends(draft)
    if not floating:
        return f"{idle} on no shaft" if idle else ""
    ends = " and ".join(str(end + 1) for end in floating)
    called = f"floating selvedges (ends {ends})" if len(floating) > 1 else f"floating selvedge (end {ends})"
    return f"{idle} on no shaft{': ' if idle == len(floating) else f', of these {len(floating)} '}{called}"


def raddle_words(counts: DressingCounts) -> str:
    """Return the ends in the spaces of the raddle, from the side of end 1, read as repeats: `20x3 12`."""
    return print_run(read_repeats(counts.raddle))


def begin_words(counts: DressingCounts, facing: Facing) -> str:
    """Return where a warp begins in the reed to lie centred, by the end of the reed where its length is known."""
    side = facing.first_end.value
    if counts.start_dent is not None:
        return f"centred: begin in dent {counts.start_dent:,} from the {side} end of the reed"
    if counts.dents is None or counts.beside_middle is None:
        return ""
    return f"centred: begin on the {side} in {middle_words(counts.dents, counts.beside_middle)}"


def middle_words(dents: int, beside_middle: int) -> str:
    """Return which dent from the middle of the reed is the first: `dent 16 from the middle (the middle dent is 1)`."""
    odd = " (the middle dent is 1)" if dents % 2 else ""
    return f"dent {beside_middle:,} from the middle of the reed{odd}"
