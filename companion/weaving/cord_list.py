"""The cords to change before the next pick, treadle by treadle, and which treadles are done. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from companion.remap.loom.cords import CordChange, cord_changes
from companion.weaving.state import State, tieup_on, with_ticks
from companion.weaving.warp import Warp


@dataclass(frozen=True, slots=True)
class CordList:
    """What to do under the loom for a stage (index): the changes from the left, and the treadles that are done.

    `known`: the tie-up before it is known; where it is not, everything is to be tied and nothing to untie.
    """

    stage: int
    stages: int
    changes: tuple[CordChange, ...]
    done: frozenset[int]
    known: bool

    @property
    def complete(self) -> bool:
        """Whether every treadle on the list is done."""
        return len(self.done) == len(self.changes)

    @property
    def cords_left(self) -> int:
        """How many cords are still to be untied or tied."""
        return sum(change.cords for change in self.changes if change.treadle not in self.done)


def cord_list(warp: Warp, state: State) -> CordList | None:
    """Return the cords to change for the stage of the next pick; None where the loom has no treadles.

    A treadle that was tied for this stage stays on the list, as done, until the whole stage is said to be tied.
    """
    piece = warp.pieces[state.piece]
    stage = piece.stage_at(min(state.next_pick, piece.picks - 1))
    if stage is None:
        return None
    newest = {tick.treadle: tick for tick in state.ticks}
    here = tuple(tick for tick in newest.values() if tick[1:] == (state.piece, stage))
    elsewhere = tuple(tick for tick in state.ticks if tick not in here)
    before = tieup_on(warp, state._replace(ticks=()))
    changes = cord_changes(with_ticks(warp, before or (), elsewhere), piece.stages[stage].tieup)
    listed = {change.treadle for change in changes}
    done = frozenset(tick.treadle for tick in here if tick.treadle in listed)
    return CordList(stage, len(piece.stages), changes, done, before is not None)
