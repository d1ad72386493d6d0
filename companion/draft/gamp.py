"""A gamp as a table of squares: each block of the threading crossed with each section of the treadling.

Blocks and sections that the draft names are taken as they are; one without a name is a divider, which is no square.
Where the draft names none, the stretches that its threading or treadling repeats are found by reading it.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count

from companion.draft.errors import DraftError
from companion.draft.model import Draft
from companion.draft.repeat_search import read_repeats
from companion.draft.repeats import SequencePart, Series, SymbolRun
from companion.draft.throws import throws_of

FEWEST_THREADS = 4
"""A shorter repeat found by reading is an edge or a divider, not a block."""


@dataclass(frozen=True, slots=True)
class GampStretch:
    """A block or a section: its name, its first thread (index) and the one after its last."""

    name: str
    first: int
    last: int

    @property
    def threads(self) -> int:
        """How many ends or picks there are in it."""
        return self.last - self.first


@dataclass(frozen=True, slots=True)
class Gamp:
    """The squares of a draft: all `blocks` by all `sections`; `named` tells that the draft itself names both."""

    blocks: tuple[GampStretch, ...]
    sections: tuple[GampStretch, ...]
    named: bool


@dataclass(frozen=True, slots=True)
class Area:
    """A rectangle of cloth: ends `first_end` up to before `last_end`, picks likewise, all indices, and what it is."""

    first_end: int
    last_end: int
    first_pick: int
    last_pick: int
    name: str = ""

    @property
    def ends(self) -> int:
        """How many ends it has."""
        return self.last_end - self.first_end

    @property
    def picks(self) -> int:
        """How many picks it has."""
        return self.last_pick - self.first_pick


def gamp_of(draft: Draft) -> Gamp:
    """Return the squares of a draft; one of which nothing is named or repeated is a single square."""
    blocks = _named((block.name, block.ends) for block in draft.blocks)
    sections = _named((section.name, section.picks) for section in draft.sections)
    return Gamp(
        blocks=blocks or _read(list(zip(draft.threading, draft.warp, strict=True)), "block"),
        sections=sections or _read(throws_of(draft), "section"),
        named=bool(blocks and sections),
    )


def area_of(gamp: Gamp, draft: Draft, block: int | None, section: int | None) -> Area:
    """Return the square of a block and a section (indices); None takes all ends, or all picks.

    Raises DraftError where there is no such block or section.
    """
    across = _one_of(gamp.blocks, block, "block", draft.ends)
    along = _one_of(gamp.sections, section, "section", draft.picks)
    # The treadling is woven on the threading: "Point on Rosepath".
    name = " on ".join(filter(None, (along.name, across.name)))
    return Area(across.first, across.last, along.first, along.last, name)


def squares_of(gamp: Gamp, draft: Draft) -> dict[Area, Area]:
    """Return every square of the gamp, section by section, by what it is without its name."""
    every = (
        area_of(gamp, draft, block, section)
        for section in range(len(gamp.sections))
        for block in range(len(gamp.blocks))
    )
    return {replace(area, name=""): area for area in every}


def stretch_called(stretches: Sequence[GampStretch], wanted: str, what: str) -> int:
    """Return the index of the stretch with this number (from 1) or name, in any case; raises DraftError with the names.

    `what` is what they are called: `block` or `section`.
    """
    names = [stretch.name.casefold() for stretch in stretches]
    if wanted.isascii() and wanted.isdigit() and 1 <= int(wanted) <= len(stretches):
        return int(wanted) - 1
    if names.count(wanted.strip().casefold()) == 1:
        return names.index(wanted.strip().casefold())
    known = ", ".join(f"{number} {stretch.name}" for number, stretch in enumerate(stretches, 1))
    raise DraftError(f"there is no {what} {wanted!r:.40}", mend=f"the {what}s are {known:.400}")


def _one_of(stretches: Sequence[GampStretch], index: int | None, what: str, threads: int) -> GampStretch:
    if index is None:
        return GampStretch("", 0, threads)
    if not 0 <= index < len(stretches):
        raise DraftError(f"there is no {what} {index + 1}", mend=f"there are {len(stretches)}")
    return stretches[index]


def _named(stretches: Iterable[tuple[str, int]]) -> tuple[GampStretch, ...]:
    found, first = [], 0
    for name, threads in stretches:
        if name.strip() and threads:
            found.append(GampStretch(name, first, first + threads))
        first += threads
    return tuple(found)


def _read(sequence: Sequence[Hashable], what: str) -> tuple[GampStretch, ...]:
    numbers = count(1)
    found = [
        GampStretch(f"{what} {next(numbers)}", first, last)
        for first, last in _repeated(read_repeats(sequence).part)
        if last - first >= FEWEST_THREADS
    ]
    return tuple(found) or ((GampStretch(f"{what} 1", 0, len(sequence)),) if sequence else ())


def _repeated(part: SequencePart) -> Iterator[tuple[int, int]]:
    first = 0
    for one in part.parts if isinstance(part, Series) else (part,):
        if not isinstance(one, SymbolRun):
            yield first, first + one.picks
        first += one.picks
