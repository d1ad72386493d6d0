"""What each button and part of the weave screen asks, as things stand at the loom."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from companion.draft.facing import Facing
from companion.draft.treadling import TreadlingReading
from companion.draft.units import Units
from companion.present.asking import Asked, AtLoom
from companion.present.bobbin import ask_bobbin
from companion.present.deeds import ask_undo
from companion.present.elsewhere import ask_elsewhere
from companion.present.fault import ask_fault
from companion.present.find import ask_place
from companion.present.measure import ask_measure
from companion.present.note import ask_note
from companion.present.pause import ask_pause
from companion.present.resume import ask_resume
from companion.present.weave import WeaveButton, WeavePart
from companion.weaving.pick_view import PickView
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp


@dataclass(frozen=True, slots=True)
class AskedAtLoom:
    """The questions at the loom now; `view` is the next pick, `reading` the treadling read as repeats, where known.

    `squares`: the piece on the loom is a gamp. `away_ms` tells the time since the journal's last entry.
    """

    warp: Warp
    progress: Progress
    view: PickView | None
    facing: Facing
    units: Units
    reading: TreadlingReading | None = None
    squares: bool = False
    away_ms: Callable[[], int] = lambda: 0

    def by_button(self, action: WeaveButton, begun_note: str) -> Asked[AtLoom] | None:
        """Return what a button asks; None where it asks nothing, or there is nothing to undo.

        `begun_note` is a note that was left half written.
        """
        warp, progress, facing, units = self.warp, self.progress, self.facing, self.units
        match action:
            case WeaveButton.FAULT:
                return ask_fault(warp, progress, facing)
            case WeaveButton.FIND:
                return ask_place(warp, progress, facing, units)
            case WeaveButton.UNDO:
                return ask_undo(warp, progress, units)
            case WeaveButton.MEASURE:
                return ask_measure(warp, progress, units)
            case WeaveButton.NOTE:
                return ask_note(warp, progress, units, begun_note, self.squares)
        return None

    def by_part(self, part: WeavePart) -> Asked[AtLoom] | None:
        """Return what a thing on the screen asks where it is touched; None where it asks nothing."""
        if part is WeavePart.PLACE:
            return ask_elsewhere(self.warp, self.progress, self.reading)
        if part is WeavePart.SHUTTLE and self.view is not None and self.view.laid_in is None:
            return ask_bobbin(self.warp, self.progress, self.view.yarn, self.units)
        return None

    def at_pause(self) -> Asked[AtLoom]:
        """Return the page of a pause."""
        return ask_pause(self.warp, self.progress, self.units, self.facing, self.reading, self.squares, self.away_ms)

    def coming_back(self, away_ms: int) -> Asked[AtLoom]:
        """Return what is asked after a break of this long."""
        return ask_resume(self.warp, self.progress, self.facing, self.units, away_ms, self.squares)
