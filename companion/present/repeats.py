"""Where a pick stands in its section's repeats, in words; the readings are made once for each piece and kept."""

from __future__ import annotations

from companion.draft.repeats import RepeatStep
from companion.weaving.chants import Chants, chants_of, repeat_at
from companion.weaving.pick_view import PickView
from companion.weaving.warp import Warp


def repeat_words(step: RepeatStep | None) -> str:
    """Return the repeat and the pick in it: `repeat 4 of 12, pick 5 of 8`; empty where nothing is repeated."""
    if step is None:
        return ""
    return f"repeat {step.repeat + 1} of {step.times}, pick {step.pick + 1} of {step.picks}"


class Repeats:
    """Tells the repeat of any pick of a warp; the first pick asked of a long piece waits a moment for the reading."""

    def __init__(self, warp: Warp) -> None:
        self._warp = warp
        self._known: dict[int, Chants] = {}

    def of(self, view: PickView) -> RepeatStep | None:
        """Return the outermost repeat that this pick lies in within its section; None where nothing is repeated."""
        piece = self._warp.pieces[view.piece]
        if view.piece not in self._known:
            self._known[view.piece] = chants_of(piece)
        return repeat_at(self._known[view.piece], piece, view.pick)
