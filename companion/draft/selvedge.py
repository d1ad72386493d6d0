"""The selvedges: whether each turn of each shuttle goes round the outermost end.

A shuttle that comes out of one shed and goes into the next on the same side goes round the outermost end when that end
is up in one of the two sheds and down in the other. If not, the weft slips back to the first end that changes. Which
edge a turn lies at depends on the side from which the shuttle starts, so both are worked out; where neither start
catches every turn, weavers add a floating selvedge: an end in no heddle, which the shuttle rounds by hand: in over the
one where it enters, out under the other. An outermost end that is on no shaft is taken for one. (Common practice, no
source.)

Where the cloth falls into several, each turn is judged by the outermost end of its own cloth; a turn from one cloth
into another is the fold that joins them, and misses nothing. What is laid in at each pick turns nowhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise

from companion.draft.facing import Facing, Side
from companion.draft.layers import Layer
from companion.draft.laying_in import laid_in_at, thrown_yarns
from companion.draft.masks import is_raised
from companion.draft.model import Draft


class Edge(Enum):
    """An edge of the cloth, named by its end: drafts do not say on which side end 1 lies."""

    FIRST_END = "first end"
    LAST_END = "last end"

    @property
    def opposite(self) -> Edge:
        """The other edge."""
        return Edge.LAST_END if self is Edge.FIRST_END else Edge.FIRST_END


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

    def start_of(self, shuttle: int) -> Edge:
        """Return the edge at which a shuttle (yarn index) should start."""
        return next((turns.start for turns in self.shuttles if turns.shuttle == shuttle), Edge.FIRST_END)

    @property
    def needs_floating(self) -> bool:
        """Whether some shuttle misses an outermost end from whichever side it starts."""
        return any(turns.missed for turns in self.shuttles)


def selvedges(draft: Draft, found: Sequence[Layer]) -> Selvedges:
    """Return, for each shuttle in order of first use, the start that catches the most turns; `found` are the layers."""
    return Selvedges(
        tuple(
            min((turns_of(draft, found, shuttle, start) for start in Edge), key=lambda turns: turns.missed)
            for shuttle in thrown_yarns(draft)
        )
    )


def turns_of(draft: Draft, found: Sequence[Layer], shuttle: int, start: Edge) -> SelvedgeTurns:
    """Return the turns of one shuttle (yarn index) that starts at this edge."""
    laid_in = laid_in_at(draft)
    picks = [pick for pick, yarn in enumerate(draft.weft) if yarn == shuttle and pick not in laid_in]
    sheds = draft.sheds()
    layer_of_pick = {pick: layer for layer in found if layer.is_cloth for pick in layer.picks}
    missed: dict[Edge, list[int]] = {edge: [] for edge in Edge}
    at = start
    for before, after in pairwise(picks):
        # The turn after a shuttle's first pick is at the edge opposite to its start, and then they alternate.
        at = at.opposite
        layer = layer_of_pick.get(before)
        if layer is None or layer is not layer_of_pick.get(after) or _is_floating(draft, at):
            continue
        shaft = draft.threading[layer.ends[0 if at is Edge.FIRST_END else -1]]
        if shaft is None or is_raised(sheds[before], shaft) == is_raised(sheds[after], shaft):
            missed[at].append(before)
    return SelvedgeTurns(
        shuttle=shuttle,
        start=start,
        turns=max(len(picks) - 1, 0),
        missed_first=tuple(missed[Edge.FIRST_END]),
        missed_last=tuple(missed[Edge.LAST_END]),
    )


def floating_ends(draft: Draft) -> tuple[int, ...]:
    """Return the floating selvedges: the outermost ends (indices) that are on no shaft, beside others that are."""
    if all(shaft is None for shaft in draft.threading):
        return ()
    last = draft.ends - 1
    return tuple(end for end in dict.fromkeys((0, last)) if draft.threading[end] is None)


def goes_under(draft: Draft, comes_from: Side, facing: Facing) -> tuple[int, ...]:
    """Return the floating selvedges (indices) that lie on top of a pick: that at which the shuttle leaves the shed.

    The shuttle that `comes_from` a side goes in over the one there and comes out under the other.
    """
    return tuple(end for end in floating_ends(draft) if facing.side_of(first_end=end == 0) is not comes_from)


def _is_floating(draft: Draft, edge: Edge) -> bool:
    return draft.threading[0 if edge is Edge.FIRST_END else -1] is None
