"""What a loom or its weaver wishes of the feet: where the tabby treadles lie, and which foot starts."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class TabbyPlace(Enum):
    """Where the two treadles of plain weave lie, where it is woven along with a pattern."""

    WHEREVER = "wherever"
    LEFT = "left"
    """The two leftmost, both under the left foot."""
    RIGHT = "right"
    """The two rightmost, both under the right foot."""
    OUTSIDE = "outside"
    """The leftmost under the left foot and the rightmost under the right one."""


class FirstFoot(Enum):
    """Which foot presses at the first pick; where both do, each of them starts."""

    EITHER = "either"
    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class FeetWish:
    """A wish; it comes before light feet, and after the cloth, few treadles and few cords where these are the aim."""

    tabby: TabbyPlace = TabbyPlace.WHEREVER
    first_foot: FirstFoot = FirstFoot.EITHER

    def or_else(self, other: FeetWish) -> FeetWish:
        """Return this wish, with that of `other` where this one leaves it open: a loom's, then the weaver's."""
        return FeetWish(
            other.tabby if self.tabby is TabbyPlace.WHEREVER else self.tabby,
            other.first_foot if self.first_foot is FirstFoot.EITHER else self.first_foot,
        )


ANY_FEET = FeetWish()
