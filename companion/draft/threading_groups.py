"""The threading in groups that hand and eye take at once, cut where the threading itself breaks.

Where a named block ends, or the threading turns from one long repeat to another, a section ends, and no group reaches
across. Within a section
the cuts are chosen together: few groups, nearly as long as asked for, that end with a repeat or a block, else where
the run of shafts turns, and only at last in the middle of a run.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from companion.draft.errors import DraftError
from companion.draft.model import Draft
from companion.draft.repeat_search import read_repeats
from companion.draft.repeats import Back, Repeat, SequencePart, Series, SymbolRun, Turn

USUAL_GROUP = 12
"""Ends in a group where nobody says: what is counted at a glance and tied with one slip knot (common practice)."""
MOST_IN_GROUP = 64
_EXACT_ENDS = 400
"""Up to here the reading of the threading is the shortest there is; a longer one is read by a window of this many."""
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
    groups: list[ThreadingGroup] = []
    began = 0
    for stop in (*(cut for cut in sorted(costs) if costs[cut] == _SECTION), len(threading)):
        groups += _within(began, stop, costs, most)
        began = stop
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
    part = read_repeats(shafts, exact_picks=_EXACT_ENDS, window=256).part
    for cut, cost in _cuts(part, most, 0).items():
        found[cut] = min(cost, found.get(cut, cost))
    return {cut: cost for cut, cost in found.items() if 0 < cut < len(shafts)}


def _cuts(part: SequencePart, most: int, level: int) -> _Cuts:
    """Return the cuts within a part, counted from its first end; `level` repeats stand round it."""
    here = min(_REPEAT + _DEEPER * level, _TURN)
    match part:
        case SymbolRun():
            return {}
        case Series(parts):
            found: _Cuts = {}
            for at, inner in enumerate(parts):
                began = part.ends[at] - inner.picks
                found |= {began + cut: cost for cut, cost in _cuts(inner, most, level).items()}
                if at:
                    found[began] = _SECTION if _sections_meet(parts[at - 1], inner, most) else here
            return found
        case Repeat(body, times):
            within = _cuts(body, most, level + 1)
            edge = _SECTION if body.picks > most else here
            return {at * body.picks: edge for at in range(1, times)} | {
                at * body.picks + cut: cost for at in range(times) for cut, cost in within.items()
            }
        case Back(body, turn):
            within = _cuts(body, most, level + 1)
            whole = 2 * body.picks - (0 if turn is Turn.TWICE else 1)
            mirrored = {whole - cut: cost for cut, cost in within.items() if whole - cut < part.picks}
            return {body.picks: here} | within | mirrored


def _sections_meet(one: SequencePart, other: SequencePart, most: int) -> bool:
    """Tell whether two parts are sections of their own: longer than half a group, and a repeat or turn among them."""
    runs = isinstance(one, SymbolRun) and isinstance(other, SymbolRun)
    return not runs and 2 * min(one.picks, other.picks) > most


def _within(began: int, stop: int, costs: _Cuts, most: int) -> Iterator[ThreadingGroup]:
    """Yield the groups of a section: of all ways to cut it the one that costs least, longer groups first."""
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
    while cuts[-1]:
        cuts.append(cuts[-1] - int(longest[cuts[-1]]))
    for first, after in zip(cuts[:0:-1], cuts[-2::-1], strict=True):
        yield ThreadingGroup(began + first, began + after - 1)
