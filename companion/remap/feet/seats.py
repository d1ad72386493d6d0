"""Where columns are to lie as is wished of the feet: tabby at an end, or at both, and the foot of a first pick.

Why it stays exact: assets/mathematics.md, "Feet first" (wishes).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from companion.draft.masks import bit
from companion.remap.loom.feet_wish import FirstFoot, TabbyPlace
from companion.remap.loom.wished import WishedFeet
from companion.remap.search.choices import Bools, Ints

Ways = Sequence[tuple[int, ...]]
"""For each target the numbers of the columns that open it: none, one or two."""


@dataclass(frozen=True, slots=True)
class Seats:
    """Where columns are to lie: `left_end` are outermost on the left; one of `both_ends` is outermost on either side.

    `first` is a column and whether it is to be the right foot's.
    """

    left_end: tuple[int, ...] = ()
    both_ends: tuple[int, ...] = ()
    first: tuple[int, bool] | None = None

    @property
    def outermost(self) -> tuple[int, ...]:
        """The columns that have a place at an end."""
        return self.left_end or self.both_ends

    def allows(self, masks: Ints) -> Bools:
        """Tell of each set of columns whether it may be the left foot's (masks, bool)."""
        good = np.ones(len(masks), dtype=np.bool_)
        for column in self.left_end:
            good &= (masks & bit(column)) != 0
        if self.both_ends:
            one, other = self.both_ends
            good &= ((masks & bit(one)) != 0) != ((masks & bit(other)) != 0)
        if self.first is not None:
            good &= ((masks & bit(self.first[0])) == 0) == self.first[1]
        return good

    def hold(self, row: Sequence[int], split: int) -> bool:
        """Tell whether columns in this order, so many of them the left foot's, lie so."""
        ends = len(self.left_end)
        if ends > split or {*row[:ends]} != {*self.left_end}:
            return False
        if self.both_ends and ({row[0], row[-1]} != {*self.both_ends} or not 0 < split < len(row)):
            return False
        return self.first is None or (row.index(self.first[0]) >= split) is self.first[1]


ANYWHERE = Seats()


def seats_of(wished: WishedFeet, ways: Ways) -> Seats | None:
    """Return where columns are to lie as is wished; None where tabby has no columns of its own. Never for the right."""
    tabby = [ways[k] for k in wished.tabby or ()]
    if any(len(way) != 1 for way in tabby):
        return None
    ends = tuple(way[0] for way in tabby)
    start = () if wished.first is None else ways[wished.first]
    first = (start[0], wished.foot is FirstFoot.RIGHT) if len(start) == 1 else None
    return Seats((), ends, first) if wished.place is TabbyPlace.OUTSIDE else Seats(ends, (), first)
