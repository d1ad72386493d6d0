"""How this weaver reads: at which side the first end lies, and where a draft on paper or screen has its first pick.

One value for every picture, count and question, so that an end lies on the same side in the draft, at the fell, in the
questions and in the record. Sides are those of the weaver on the bench. At the loom the newest pick always lies on top,
as it does at the fell; where a draft and the cloth drawn beside it have their first pick is the weaver's choice. With
it at the bottom the draft stands on its head, and a twill runs there as it runs on the loom; with it on top, next to
the threading, it runs the other way (both ways of writing a draft: common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum


class Side(Enum):
    """A side of the cloth, seen from the bench."""

    LEFT = "left"
    RIGHT = "right"

    @property
    def opposite(self) -> Side:
        """The other side."""
        return Side.RIGHT if self is Side.LEFT else Side.LEFT


class FirstPick(Enum):
    """Where a draft has its first pick; it always lies next to the threading."""

    ON_TOP = "on top"
    AT_BOTTOM = "at the bottom"


@dataclass(frozen=True, slots=True)
class Facing:
    """The side at which the first end lies, and where the first pick of a draft is written."""

    first_end: Side
    first_pick: FirstPick = FirstPick.ON_TOP

    @property
    def from_left(self) -> slice:
        """What puts ends, first one first, in the order in which they lie from left to right: `ends[from_left]`."""
        return _ORDER if self.first_end is Side.LEFT else _REVERSED

    @property
    def from_top(self) -> slice:
        """What puts picks, first one first, in the order in which a draft has them from top to bottom."""
        return _ORDER if self.first_pick is FirstPick.ON_TOP else _REVERSED

    @property
    def at_the_fell(self) -> Facing:
        """How cloth lies on the loom: the first end where it always does, the first pick farthest below the newest."""
        return replace(self, first_pick=FirstPick.AT_BOTTOM)

    def side_of(self, first_end: bool) -> Side:
        """Return the side at which the first end lies, or the last one."""
        return self.first_end if first_end else self.first_end.opposite

    def end_from(self, side: Side, number: int, ends: int) -> int:
        """Return the end (index) that is number so and so, counted from 1 at this side, of so many ends."""
        return number - 1 if side is self.first_end else ends - number


_ORDER, _REVERSED = slice(None), slice(None, None, -1)

FROM_LEFT = Facing(Side.LEFT)
FROM_RIGHT = Facing(Side.RIGHT)
"""Usual in North America (common practice, no source)."""
