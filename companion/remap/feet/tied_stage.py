"""A stretch of picks on one tie-up: its feet, its cords to change, and what the feet have to do there.

When each is said: assets/mathematics.md, "What proven means".
"""

from __future__ import annotations

from dataclasses import dataclass

from companion.draft.masks import Shed
from companion.remap.loom.cords import CordChange
from companion.remap.loom.loom import Footing, TieUp


@dataclass(frozen=True, slots=True)
class ShedFeet:
    """A shed (the shafts that are up), the footing that opens it, and how many picks do."""

    shed: Shed
    footing: Footing
    picks: int


@dataclass(frozen=True, slots=True)
class Footwork:
    """What the feet pay in all, by the model of `presses`, and what no answer of the same aim is known to be below.

    `both_feet_picks` press with both feet. `draft_cost` is that of the draft's own tie-up as it stands; None where the
    draft has none, or this loom has not the treadles for it. `unwished_cost` is that of feet of which nothing is
    wished, on this very tie-up, and on any other where the feet come first; None where nothing is wished.
    """

    cost: int
    at_least: int
    both_feet_picks: int
    travel_widths: float
    draft_cost: int | None = None
    unwished_cost: int | None = None

    @property
    def proven(self) -> bool:
        """Whether nothing is lighter."""
        return self.cost == self.at_least


@dataclass(frozen=True, slots=True)
class TiedStage:
    """The picks `first` to `last` (indices, both woven) on one tie-up, with a footing per pick.

    `tieup` has one tie per treadle of the loom; a treadle that no footing presses keeps the cords it had. `changes`
    are the cords to change before it, from the present tie-up or the stage before; None where that is not known.
    `fewest_cords`: no answer with so few treadles changes fewer, or none at all where few cords were the aim (proven).
    `footwork` is told where the stage is the only one.
    """

    first: int
    last: int
    tieup: TieUp
    footings: tuple[Footing, ...]
    sheds: tuple[ShedFeet, ...]
    changes: tuple[CordChange, ...] | None
    fewest_cords: bool
    at_section_end: bool
    footwork: Footwork | None = None

    def __repr__(self) -> str:
        return f"<TiedStage: picks {self.first + 1} to {self.last + 1} on {len(self.tieup)} treadles>"

    @property
    def cords_changed(self) -> int | None:
        """How many cords change before this stage; None where the tie-up before it is not known."""
        return None if self.changes is None else sum(change.cords for change in self.changes)
