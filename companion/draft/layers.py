"""Whether the cloth hangs together, and if not, the layers that it falls into.

At every crossing one thread lies above the other. A set of threads that lies above all the others wherever they cross
can be lifted off; a cloth hangs together when there is no such set. That is so exactly when
E(p, q) = r1 + … + rp - (c1 + … + cq) + q(m - p) is 0 only at (0, 0) and at (m, n), where m picks have r ends above them
(r rising) and n ends have c picks below them (c falling): C. R. J. Clapham, "When a fabric hangs together", Bulletin of
the London Mathematical Society 12 (1980), 161-164. E counts the crossings at which a thread of the p topmost picks and
q topmost ends lies below one of the others, so each further zero is a set that lifts off, and between two zeros next
to each other lies one layer: a strongly connected part of the bipartite tournament "upper thread to lower thread"
(Clapham, "The bipartite tournament associated with a fabric", Discrete Mathematics 57 (1985), 195-197).

Only the sums over picks and ends are needed, so the size of the cloth hardly matters. Convention: the piece as it
stands; repeating it changes nothing, since a repeated thread crosses the others as its first copy does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from companion.draft.cloth import Crossings


@dataclass(frozen=True, slots=True)
class Layer:
    """Threads (indices, rising) that hold each other; a layer of one thread is a thread that nothing holds."""

    picks: tuple[int, ...]
    ends: tuple[int, ...]

    @property
    def is_cloth(self) -> bool:
        """Whether there are both picks and ends in it."""
        return bool(self.picks and self.ends)


class Join(Enum):
    """How a shuttle that goes from one layer to the other joins their edges."""

    NOT = "not joined"
    ONE_EDGE = "joined at one edge"
    TUBE = "joined at both edges"


@dataclass(frozen=True, slots=True)
class JoinedLayers:
    """Two cloths, as indices into the layers, and how the turning wefts join them.

    `start_turns` and `far_turns` count the turns from one to the other at the edge where the shuttles start and at the
    opposite edge.
    """

    upper: int
    lower: int
    start_turns: int
    far_turns: int

    @property
    def join(self) -> Join:
        """What the turns make of the two cloths."""
        joined_edges = bool(self.start_turns) + bool(self.far_turns)
        return (Join.NOT, Join.ONE_EDGE, Join.TUBE)[joined_edges]


def layers(woven: Crossings) -> tuple[Layer, ...]:
    """Return the layers of a cloth, the topmost first; one layer when it hangs together.

    Threads that nothing holds come one by one, in the order of their indices where they never cross.
    """
    ends_above = (woven.raised @ woven.ends_of_shaft)[woven.shed_of_pick]
    picks_below = (woven.picks_of_shed @ woven.raised)[woven.shaft_of_end]
    pick_order = np.argsort(ends_above, kind="stable")
    end_order = np.argsort(-picks_below, kind="stable")
    cuts = _cuts(ends_above[pick_order], picks_below[end_order])
    return tuple(
        Layer(
            picks=tuple(sorted(pick_order[p0:p1].tolist())),
            ends=tuple(sorted(end_order[q0:q1].tolist())),
        )
        for (p0, q0), (p1, q1) in pairwise(cuts)
    )


def hangs_together(found: Sequence[Layer]) -> bool:
    """Tell whether no set of threads can be lifted off the rest (Clapham 1980)."""
    return len(found) == 1


def joins(found: Sequence[Layer], shuttle_of_pick: Sequence[int]) -> tuple[JoinedLayers, ...]:
    """Return for every two cloths that lie next to each other, or that a weft joins, how their edges are joined.

    `shuttle_of_pick` tells which shuttle carries each pick. Each shuttle starts at the same edge and turns at the far
    edge after its first pick, at its starting edge after its second, and so on.
    """
    cloths = [index for index, layer in enumerate(found) if layer.is_cloth]
    layer_of_pick = {pick: index for index in cloths for pick in found[index].picks}
    turns: dict[tuple[int, int], list[int]] = {pair: [0, 0] for pair in pairwise(cloths)}
    thrown: dict[int, tuple[int, int]] = {}
    for pick, shuttle in enumerate(shuttle_of_pick):
        earlier, before = thrown.get(shuttle, (0, pick))
        thrown[shuttle] = (earlier + 1, pick)
        upper, lower = sorted(layer_of_pick.get(one, -1) for one in (before, pick))
        if 0 <= upper < lower:
            turns.setdefault((upper, lower), [0, 0])[earlier % 2] += 1
    return tuple(JoinedLayers(*pair, start, far) for pair, (start, far) in turns.items())


def _cuts(ends_above: NDArray[np.intp], picks_below: NDArray[np.intp]) -> list[tuple[int, int]]:
    """Return the zeros (p, q) of Clapham's E in rising order, from (0, 0) to (m, n).

    For a given p, E falls with q while the next end has more than m - p picks below it, stays while it has as many,
    and then rises: the zeros of one p lie side by side, and those of p + 1 begin where those of p can end.
    """
    picks_left = np.arange(len(ends_above), -1, -1)
    # picks_below falls, so its negative is what searchsorted wants.
    fewest = np.searchsorted(-picks_below, -picks_left, side="left")
    most = np.searchsorted(-picks_below, -picks_left, side="right")
    above = np.concatenate(([0], np.cumsum(ends_above)))
    below = np.concatenate(([0], np.cumsum(picks_below)))
    misplaced = above - below[fewest] + fewest * picks_left
    return [(p, q) for p in np.flatnonzero(misplaced == 0).tolist() for q in range(fewest[p], most[p] + 1)]
