"""The threading in groups that hand and eye take at once, cut where the threading itself breaks.

Where a named block ends, or the threading turns from one long repeat to another, a section ends, and no group reaches
across. Within a section the cuts are chosen together: few groups, nearly as long as asked for, that end with a repeat
or a block, else where the run of shafts turns, and only at last in the middle of a run. Repeats are those of the draft,
in its phase (`threading_repeats`), and each is cut like the last one with the ends that balance it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from companion.draft.errors import DraftError
from companion.draft.model import Draft
from companion.draft.repeats import Repeat, SequencePart, Series, SymbolRun
from companion.draft.threading_repeats import read_threading

USUAL_GROUP = 12
"""Ends in a group where nobody says: what is counted at a glance and tied with one slip knot (common practice)."""
MOST_IN_GROUP = 64
_SECTION, _REPEAT, _DEEPER, _TURN, _ANYWHERE = -1, 0, 150, 700, 1_500
"""What a cut costs by where it lies: at a section's end (none can be saved there), after a repeat and for each level
below it, where the run turns, anywhere. Against them stand `_GROUP` for each group and up to `_SHORT` for a short one.
"""
_GROUP, _SHORT = 1_000, 1_000

_Cuts = dict[int, int]
"""After how many ends the threading may be cut, and what it costs there."""


@dataclass(frozen=True, slots=True)
class ThreadingGroup:
    """The ends `first` to `last` (indices, both in it) that are threaded together."""

    first: int
    last: int

    @property
    def ends(self) -> int:
        """How many ends are in it."""
        return self.last - self.first + 1


def threading_groups(
    threading: Sequence[int | None], most: int = USUAL_GROUP, blocks: Sequence[int] = ()
) -> tuple[ThreadingGroup, ...]:
    """Return the groups of at most `most` ends, in order: straight draws of 4 shafts by 12 go 12, 12, 12, …

    `blocks` are the ends of each named block of the threading; no group reaches across one. Raises DraftError for a
    length that is no group.
    """
    if not 1 <= most <= MOST_IN_GROUP:
        raise DraftError(f"groups of {most} ends", mend=f"give 1 to {MOST_IN_GROUP}")
    if not threading:
        return ()
    costs: _Cuts = {}
    began = 0
    for ends in blocks or (len(threading),):
        costs |= {began + cut: cost for cut, cost in _costs(threading[began : began + ends], most).items()}
        began += ends
        costs[began] = _SECTION
    costs.pop(len(threading), None)
    stops = (*(cut for cut in sorted(costs) if costs[cut] == _SECTION), len(threading))
    groups: list[ThreadingGroup] = []
    later: tuple[int, ...] = ()
    after = len(threading)
    for began, stop in reversed(tuple(zip((0, *stops), stops, strict=False))):
        ends = stop - began
        if threading[began:stop] != threading[stop : stop + min(ends, after - stop)]:
            later = _cuts_within(began, stop, costs, most)
        # A section that begins the next one, too, is cut as that one is: repeats are threaded alike to the last.
        later = (*(cut for cut in later if cut < ends), ends)
        groups[:0] = [ThreadingGroup(began + one, began + other - 1) for one, other in pairwise((0, *later))]
        after = stop
    return tuple(groups)


def groups_of(draft: Draft, most: int = USUAL_GROUP) -> tuple[ThreadingGroup, ...]:
    """Return the groups of a draft's threading, none of them across its named blocks; raises as `threading_groups`."""
    return threading_groups(draft.threading, most, [block.ends for block in draft.blocks])


def _costs(threading: Sequence[int | None], most: int) -> _Cuts:
    """Return what a cut costs after each end; cuts that are not there cost `_ANYWHERE`."""
    shafts = [0 if shaft is None else shaft + 1 for shaft in threading]
    found: _Cuts = {}
    for at in range(2, len(shafts)):
        if shafts[at] - shafts[at - 1] != shafts[at - 1] - shafts[at - 2]:
            found[at] = _TURN
    for cut, cost in _cuts(read_threading(shafts), most, 0).items():
        found[cut] = min(cost, found.get(cut, cost))
    return {cut: cost for cut, cost in found.items() if 0 < cut < len(shafts)}


def _cuts(part: SequencePart, most: int, level: int) -> _Cuts:
    """Return the cuts within a part, counted from its first end; `level` repeats stand round it."""
    here = min(_REPEAT + _DEEPER * level, _TURN)
    match part:
        case Series(parts):
            found: _Cuts = {}
            began = 0
            for inner in parts:
                if began:
                    found[began] = min(here + _DEEPER, _TURN)
                found |= {began + cut: cost for cut, cost in _cuts(inner, most, level).items()}
                began += inner.picks
            return found | {cut: _SECTION if meet else here for cut, meet in _between_stretches(parts, most)}
        case Repeat(body, times):
            within = _cuts(body, most, level + 1)
            edge = _SECTION if body.picks > most else here
            return {at * body.picks: edge for at in range(1, times)} | {
                at * body.picks + cut: cost for at in range(times) for cut, cost in within.items()
            }
        case _:
            # Written out: only where it turns is one place better than another.
            return {}


def _between_stretches(parts: Sequence[SequencePart], most: int) -> Iterator[tuple[int, bool]]:
    """Yield the cuts between the stretches of a series, and whether sections meet there.

    Sections are longer than half a group, and one of two that meet is repeated. A few ends after a repeat belong to it:
    they balance it, or lead over to the next. Where a series begins with such and ends with a repeat they come before.
    """
    lead = isinstance(parts[0], SymbolRun) and not isinstance(parts[-1], SymbolRun)
    stretches: list[tuple[int, bool]] = []
    for part in reversed(parts) if lead else parts:
        written = isinstance(part, SymbolRun)
        if stretches and written and 2 * part.picks <= most and stretches[-1][1]:
            stretches[-1] = stretches[-1][0] + part.picks, True
        else:
            stretches.append((part.picks, not written))
    stop = 0
    for (ends, repeated), (after, then_repeated) in pairwise(reversed(stretches) if lead else stretches):
        stop += ends
        yield stop, 2 * min(ends, after) > most and (repeated or then_repeated)


def _cuts_within(began: int, stop: int, costs: _Cuts, most: int) -> tuple[int, ...]:
    """Return after how many of its ends a section is cut: of all ways the one that costs least, longer groups first."""
    ends = stop - began
    lengths = np.arange(most, 0, -1)
    shapes = _GROUP + _SHORT * (most - lengths) ** 2 // most**2
    best = np.zeros(ends + 1, dtype=np.int64)
    longest = np.zeros(ends + 1, dtype=np.int64)
    for end in range(1, ends + 1):
        reach = min(most, end)
        ways = best[end - reach : end] + shapes[most - reach :]
        # The last of equal ways has the shortest group here, and so the longer ones before it.
        way = reach - 1 - int(ways[::-1].argmin())
        longest[end] = reach - way
        best[end] = ways[way] + (0 if end == ends else costs.get(began + end, _ANYWHERE))
    cuts = [ends]
    while longest[cuts[-1]] < cuts[-1]:
        cuts.append(cuts[-1] - int(longest[cuts[-1]]))
    return tuple(reversed(cuts))
