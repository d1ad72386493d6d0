"""The treadling of a draft read as repeats, section by section, and where a pick lies in that reading."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate, pairwise

from companion.draft.masks import Shed, without
from companion.draft.model import Draft, Section
from companion.draft.repeat_search import Reading, read_repeats
from companion.draft.repeats import MARK_COST, PICK_COST, PathStep, path
from companion.draft.throws import Throw, throws_of

TABBY_COST = 2 * PICK_COST
"""What naming the two tabby picks adds to the cost of a section; each stretch with tabby is one mark more."""


@dataclass(frozen=True, slots=True)
class StretchReading:
    """Neighbouring picks read as repeats.

    `with_tabby`: `reading` holds the pattern picks alone, and each is followed by a pick of plain weave.
    """

    reading: Reading[Throw]
    with_tabby: bool = False

    @property
    def picks(self) -> int:
        """How many picks it expands to, tabby counted."""
        return self.reading.part.picks * (2 if self.with_tabby else 1)

    @property
    def cost(self) -> int:
        """The cost of the reading and of its mark."""
        return self.reading.cost + (MARK_COST if self.with_tabby else 0)

    def steps(self, pick: int) -> tuple[PathStep, ...]:
        """Return the repeats and turns round a pick (index in the stretch), tabby picks counted too."""
        if not self.with_tabby:
            return path(self.reading.part, pick)
        return tuple(
            replace(step, pick=2 * step.pick + pick % 2, picks=2 * step.picks)
            for step in path(self.reading.part, pick // 2)
        )


@dataclass(frozen=True, slots=True)
class SectionReading:
    """A section and its treadling read as repeats; a draft without sections is one section without a name.

    The two throws of `tabby` follow the pattern picks of those stretches that have tabby, in turn over the section.
    `exact`: the shorthand has no cheaper way to say it.
    """

    section: Section
    stretches: tuple[StretchReading, ...]
    exact: bool
    tabby: tuple[Throw, Throw] | None = None

    @property
    def cost(self) -> int:
        """The cost of the reading, tabby included."""
        return sum(stretch.cost for stretch in self.stretches) + (0 if self.tabby is None else TABBY_COST)

    def steps(self, pick: int) -> tuple[PathStep, ...]:
        """Return the repeats and turns round a pick (index in the section), tabby picks counted too.

        Raises IndexError beyond the section.
        """
        for stretch in self.stretches:
            if pick < stretch.picks:
                return stretch.steps(pick)
            pick -= stretch.picks
        raise IndexError("a pick beyond the section")


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
            shed_of = dict(zip(here, sheds[picks], strict=True))
            known[here] = _read(section, here, tuple(_tabbies(shed_of, carrying)))
        readings.append(replace(known[here], section=section))
        first += section.picks
    return TreadlingReading(tuple(readings))


def _tabbies(shed_of: Mapping[Throw, Shed], carrying: Shed) -> Iterator[tuple[Throw, Throw]]:
    """Yield any two throws of one yarn in opposite sheds, in both orders: what tabby may be."""
    by_shed: dict[tuple[Shed, int], list[Throw]] = {}
    for throw, shed in shed_of.items():
        by_shed.setdefault((shed, throw.yarn), []).append(throw)
    for throw, shed in shed_of.items():
        yield from ((throw, other) for other in by_shed.get((without(carrying, shed), throw.yarn), ()))


def _read(section: Section, throws: tuple[Throw, ...], tabbies: Sequence[tuple[Throw, Throw]]) -> SectionReading:
    """Read a section without tabby and, where plain weave lies between its picks, with it; the cheaper one counts."""
    whole = read_repeats(throws)
    found = SectionReading(section, (StretchReading(whole),), whole.exact)
    # Repeats and turns are read exactly; of the ways to take tabby out only the widest is tried.
    least = min((_least_with_tabby(throws, tabby) for tabby in tabbies), default=found.cost)
    cuts = ((tabby, tuple(_cut(throws, tabby))) for tabby in tabbies)
    tabby, cut = max(cuts, key=lambda found: _with_tabby(found[1]), default=((), ()))
    if len(tabby) == 2 and _with_tabby(cut) > 1:
        stretches = tuple(StretchReading(read_repeats(picks), with_tabby) for picks, with_tabby in cut)
        other = SectionReading(section, stretches, all(one.reading.exact for one in stretches), tabby)
        if other.cost < found.cost:
            found = other
    return replace(found, exact=found.exact and found.cost <= least)


def _cut(throws: tuple[Throw, ...], tabby: tuple[Throw, Throw]) -> Iterator[tuple[tuple[Throw, ...], bool]]:
    """Yield the stretches of a section, and whether they are pattern picks that tabby follows, the two in turn."""
    stretch: list[Throw] = []
    in_tabby, at, turn = False, 0, 0
    while at < len(throws):
        pair = throws[at : at + 2]
        follows = len(pair) == 2 and pair[0].yarn != tabby[0].yarn and pair[1] == tabby[turn % 2]
        if follows != in_tabby and stretch:
            yield tuple(stretch), in_tabby
            stretch = []
        in_tabby = follows
        stretch.append(throws[at])
        at, turn = (at + 2, turn + 1) if follows else (at + 1, turn)
    if stretch or not throws:
        yield tuple(stretch), in_tabby


def _with_tabby(cut: Sequence[tuple[tuple[Throw, ...], bool]]) -> int:
    """Return how many pattern picks of a cut section are followed by tabby."""
    return sum(len(picks) for picks, with_tabby in cut if with_tabby)


def _least_with_tabby(throws: Sequence[Throw], tabby: tuple[Throw, Throw]) -> int:
    """Return a cost that no reading with this tabby goes below.

    It is named and marked once at least, and takes at most every second pick. The others are written out, or each
    different one is written once and something is repeated. Where not every throw like tabby can be tabby, as it comes
    out of turn or follows no other pick, one of the two is written as well.
    """
    like_tabby = [at for at, throw in enumerate(throws) if throw in tabby]
    in_turn = all(throws[one] != throws[other] and other > one + 1 for one, other in pairwise(like_tabby))
    all_tabby = in_turn and 0 not in like_tabby
    different = max(1, len(set(throws).difference(tabby)) + (not all_tabby))
    written = min(PICK_COST * (len(throws) - len(throws) // 2), PICK_COST * different + MARK_COST)
    return TABBY_COST + MARK_COST + written
