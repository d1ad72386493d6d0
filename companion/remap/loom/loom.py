"""The loom that must weave the draft, a tie-up for it, and the footing of one pick."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from companion.draft.masks import NO_SHAFT, Shed, TreadleSet, treadle_set
from companion.remap.loom.feet_wish import ANY_FEET, FeetWish


class Action(Enum):
    """What a treadle does to the shafts tied to it."""

    RISING = "rising"
    SINKING = "sinking"
    COUNTERMARCHE = "countermarche"
    LEVERS = "levers"


@dataclass(frozen=True, slots=True)
class Loom:
    """A loom: shafts, treadles, action, and how many neighbouring treadles one foot presses (1 or 2).

    `wish` is what its weaver wishes of the feet on it.
    """

    shafts: int
    treadles: int
    action: Action = Action.RISING
    reach: int = 1
    wish: FeetWish = ANY_FEET


@dataclass(frozen=True, slots=True)
class Tie:
    """The cords of one treadle. Rising looms use only `up`, sinking looms only `down`, countermarche both."""

    up: Shed = NO_SHAFT
    down: Shed = NO_SHAFT


TieUp = tuple[Tie, ...]
"""One tie per treadle, treadle 1 (leftmost) first."""


@dataclass(frozen=True, slots=True)
class Footing:
    """The treadles (indices from 0, rising) under the left and the right foot for one pick."""

    left: tuple[int, ...] = ()
    right: tuple[int, ...] = ()

    @property
    def pressed(self) -> TreadleSet:
        """The set of treadles pressed by both feet."""
        return treadle_set(treadle + 1 for treadle in self.left + self.right)
