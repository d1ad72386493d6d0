"""The treadling of a draft read as repeats, section by section, and where a pick lies in that reading."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field
from itertools import accumulate

from companion.draft.model import Draft, Section
from companion.draft.repeat_search import Reading, read_repeats
from companion.draft.repeats import Step, path
from companion.draft.throws import Throw, throws_of


@dataclass(frozen=True, slots=True)
class SectionReading:
    """A section and its treadling read as repeats; a draft without sections is one section without a name."""

    section: Section
    reading: Reading[Throw]


@dataclass(frozen=True, slots=True)
class PlaceInReading:
    """Where a pick lies: its section and its pick in there (indices), and the repeats round it, outermost first."""

    section: int
    pick: int
    steps: tuple[Step, ...]


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
        return PlaceInReading(section, within, path(here.reading.part, within))


def read_treadling(draft: Draft) -> TreadlingReading:
    """Read each section of a draft as the cheapest nested repeats, with what is pressed and what is thrown."""
    throws = throws_of(draft)
    sections = draft.sections or (Section("", draft.picks),)
    known: dict[tuple[Throw, ...], Reading[Throw]] = {}
    readings = []
    first = 0
    for section in sections:
        here = throws[first : first + section.picks]
        if here not in known:
            known[here] = read_repeats(here)
        readings.append(SectionReading(section, known[here]))
        first += section.picks
    return TreadlingReading(tuple(readings))
