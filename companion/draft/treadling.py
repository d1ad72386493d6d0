"""The treadling of a draft read as repeats, section by section, and where a pick lies in that reading."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field, replace
from itertools import accumulate

from companion.draft.masks import without
from companion.draft.model import Draft, Section
from companion.draft.repeat_search import Reading, read_repeats
from companion.draft.repeats import PathStep, path
from companion.draft.throws import Throw, throws_of

TABBY_COST = 7
"""What naming the tabby adds to the cost of a reading: two picks written and one mark, as `repeats` counts them."""


@dataclass(frozen=True, slots=True)
class SectionReading:
    """A section and its treadling read as repeats; a draft without sections is one section without a name.

    Where there is a `tabby`, `reading` holds the pattern picks alone: each is followed by a pick of plain weave, the
    two throws of `tabby` in turn.
    """

    section: Section
    reading: Reading[Throw]
    tabby: tuple[Throw, Throw] | None = None

    @property
    def cost(self) -> int:
        """The cost of the reading, tabby included."""
        return self.reading.cost + (0 if self.tabby is None else TABBY_COST)

    def steps(self, pick: int) -> tuple[PathStep, ...]:
        """Return the repeats and turns round a pick (index in the section), tabby picks counted too."""
        if self.tabby is None:
            return path(self.reading.part, pick)
        return tuple(
            replace(step, pick=2 * step.pick + pick % 2, picks=2 * step.picks)
            for step in path(self.reading.part, pick // 2)
        )


@dataclass(frozen=True, slots=True)
class PlaceInReading:
    """Where a pick lies: its section and its pick in there (indices), and the repeats round it, outermost first."""

    section: int
    pick: int
    steps: tuple[PathStep, ...]


@dataclass(frozen=True, slots=True)
class TreadlingReading:
    """The readings of all sections, in order."""

    sections: tuple[SectionReading, ...]
    ends: tuple[int, ...] = field(init=False, repr=False, compare=False)
    """For each section the number of picks up to its end."""

    def __post_init__(self) -> None:
        # Worked out once, as a place is asked for at every pick; a frozen value is only set this way.
        object.__setattr__(self, "ends", tuple(accumulate(one.section.picks for one in self.sections)))

    def place(self, pick: int) -> PlaceInReading:
        """Return where a pick (index) lies, as in "section 3, repeat 4 of 12, pick 5 of 8".

        Raises IndexError for a pick beyond the last.
        """
        if not self.ends or not 0 <= pick < self.ends[-1]:
            raise IndexError(f"pick {pick} is not in the treadling")
        section = bisect_right(self.ends, pick)
        here = self.sections[section]
        within = pick - (self.ends[section] - here.section.picks)
        return PlaceInReading(section, within, here.steps(within))


def read_treadling(draft: Draft) -> TreadlingReading:
    """Read each section of a draft as the cheapest nested repeats, with what is pressed and what is thrown."""
    throws = throws_of(draft)
    sheds = draft.sheds_of_ends()
    carrying = draft.threaded_shafts()
    known: dict[tuple[Throw, ...], SectionReading] = {}
    readings = []
    first = 0
    for section in draft.sections or (Section("", draft.picks),):
        picks = slice(first, first + section.picks)
        here = throws[picks]
        if here not in known:
            plain = len(here) > 3 and without(carrying, sheds[first + 1]) == sheds[first + 3]
            known[here] = _read(section, here, plain)
        readings.append(replace(known[here], section=section))
        first += section.picks
    return TreadlingReading(tuple(readings))


def _read(section: Section, throws: tuple[Throw, ...], plain: bool) -> SectionReading:
    """Read a section as a whole and, where every second pick may be tabby, without it; the cheaper reading counts."""
    whole = SectionReading(section, read_repeats(throws))
    tabby = _tabby_of(throws) if plain else None
    if tabby is None:
        return whole
    pattern = SectionReading(section, read_repeats(throws[::2]), tabby)
    return pattern if pattern.cost < whole.cost else whole


def _tabby_of(throws: tuple[Throw, ...]) -> tuple[Throw, Throw] | None:
    """Return the two throws that every second pick takes in turn, with a shuttle of their own; else None."""
    one, other = throws[1], throws[3]
    seconds = throws[1::2]
    in_turn = all(throw == (one, other)[index % 2] for index, throw in enumerate(seconds))
    apart = one.yarn == other.yarn and all(throw.yarn != one.yarn for throw in throws[::2])
    return (one, other) if len(throws) % 2 == 0 and one != other and in_turn and apart else None
