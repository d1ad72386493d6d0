"""The selvedges: whether each turn of each shuttle goes round the outermost end.

A shuttle that comes out of one shed and goes into the next on the same side goes round the outermost end when that end
is up in one of the two sheds and down in the other. If not, the weft slips back to the first end that changes. Which
edge a turn lies at depends on the side from which the shuttle starts, so both are worked out; where neither start
catches every turn, weavers add a floating selvedge: an end in no heddle, which the shuttle rounds by hand. An outermost
end that is on no shaft is taken for one. (Common practice, no source.)
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from companion.draft.cloth import Crossings, crossings_of
from companion.draft.model import Draft


class Edge(Enum):
    """An edge of the cloth, named by its end: drafts do not say on which side end 1 lies."""

    FIRST_END = "first end"
    LAST_END = "last end"


@dataclass(frozen=True, slots=True)
class SelvedgeTurns:
    """The turns of one shuttle (yarn index) that starts at the edge `start`.

    `missed_first` and `missed_last` are the picks (indices) after which the weft does not catch the first or the last
    end; `turns` is how many turns there are at both edges.
    """

    shuttle: int
    start: Edge
    turns: int
    missed_first: tuple[int, ...]
    missed_last: tuple[int, ...]

    @property
    def missed(self) -> int:
        """How many turns catch no outermost end."""
        return len(self.missed_first) + len(self.missed_last)


@dataclass(frozen=True, slots=True)
class Selvedges:
    """The better start for each shuttle, by fewest missed turns and then from the first end."""

    shuttles: tuple[SelvedgeTurns, ...]

    @property
    def needs_floating(self) -> bool:
        """Whether some shuttle misses an outermost end from whichever side it starts."""
        return any(turns.missed for turns in self.shuttles)


def selvedges(draft: Draft) -> Selvedges:
    """Return, for each shuttle of the draft in order of first use, the start that catches the most turns."""
    if not draft.ends:
        return Selvedges(())
    woven = crossings_of(draft)
    return Selvedges(
        tuple(
            min((turns_of(draft, woven, shuttle, start) for start in Edge), key=lambda turns: turns.missed)
            for shuttle in draft.shuttles()
        )
    )


def turns_of(draft: Draft, woven: Crossings, shuttle: int, start: Edge) -> SelvedgeTurns:
    """Return the turns of one shuttle (yarn index) that starts at this edge; the draft must have ends."""
    picks = np.flatnonzero(np.array(draft.weft, dtype=np.intp) == shuttle)
    # The turn after a shuttle's first pick is at the edge opposite to its start, and then they alternate.
    opposite = np.arange(len(picks) - 1) % 2 == 0
    at_first = opposite == (start is Edge.LAST_END)
    return SelvedgeTurns(
        shuttle=shuttle,
        start=start,
        turns=max(len(picks) - 1, 0),
        missed_first=_missed(draft, woven, 0, picks, at_first),
        missed_last=_missed(draft, woven, draft.ends - 1, picks, ~at_first),
    )


def _missed(
    draft: Draft, woven: Crossings, end: int, picks: NDArray[np.intp], here: NDArray[np.bool_]
) -> tuple[int, ...]:
    if draft.threading[end] is None:
        return ()
    up = woven.raised[woven.shed_of_pick[picks], woven.shaft_of_end[end]]
    return tuple(picks[:-1][(up[1:] == up[:-1]) & here].tolist())
