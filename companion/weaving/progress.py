"""How things stand at the loom: a fold over the journal, and nothing else holds the position.

`Progress` is the state (see `state`) with the trail of the newest events, from which one can be taken back.

Rules kept here:

- *Side.* Every shuttle of a piece lies at `Piece.start_of` when the piece begins. Each pick woven with it carries
  it across, each pick taken out carries it back: it lies at the start side after an even number of picks, else
  opposite. Where the weaver saw it otherwise, it is counted on from there; where she does not know, it is lost until
  she has seen it. A pick that is laid in carries no shuttle anywhere.
- *Cloth.* The picks that lie in the cloth are a pile of runs. Weaving puts a pick on top; taking out removes the top
  one and makes it the next pick; jumping changes only what comes next. What the weaver tells of the cloth afterwards
  moves picks and shuttles alike, without time or pace.
- *Until.* A section that is woven to a length starts again after its last pick until the picks woven in it, divided
  by the picks per cm (as measured last under tension, else as planned), reach that length. So it ends with a whole
  repeat. With neither measure nor plan it goes on until the weaver moves on.
- *Undoing.* The newest event that stands can be taken back, one after another, `TRAIL` deep. A note, a measure, a
  bobbin or a fault among these can also be taken back out of turn (see `decide.undo`). The fold then is that without
  the event; only the time at the loom stays. An Undone is itself never undone.
- *Time at the loom.* The time between two entries, unless the weaver was on a pause, or nothing happened for over
  `AWAY_MS`, or the clock was set back, or the loom was dressed meanwhile.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from companion.weaving.dressing import with_times_of
from companion.weaving.errors import ContradictionError
from companion.weaving.events import (
    Entry,
    NearMiss,
    TieUpAccepted,
    Undone,
)
from companion.weaving.one_event import follow, require, spent_ms, stamped, task_meanwhile
from companion.weaving.state import (
    Shuttle,
    State,
)
from companion.weaving.warp import Warp

TRAIL = 64
"""How many events that stand can be taken back."""


@dataclass(frozen=True, slots=True)
class TrailStep:
    """An entry of the trail, and how things stood before it."""

    entry: Entry
    before: State


@dataclass(frozen=True, slots=True)
class Progress:
    """How things stand now, and the trail of the newest events that stand, oldest first."""

    now: State
    trail: tuple[TrailStep, ...] = ()

    @property
    def settled(self) -> State:
        """The state before the trail: no later event can change it, so it may be stored as a snapshot.

        Folding the entries after `settled.number` onto it (`carry_on`) gives this progress again.
        """
        return self.trail[0].before if self.trail else self.now


def begin(warp: Warp) -> Progress:
    """Return the progress of a warp on which nothing has happened: its first piece is on, its first pick next.

    The tie-up of the first piece counts as tied, unless the loom's profile says that another one is on it.
    """
    first, present = warp.pieces[0], warp.loom.present
    tied = present is None or not first.stages or first.stages[0].tieup == present
    return Progress(State(shuttles=(Shuttle(),) * len(first.draft.yarns), tied=(0, 0) if tied else None))


def fold(warp: Warp, entries: Iterable[Entry]) -> Progress:
    """Return the progress after these entries, from the first one on; raises ContradictionError."""
    return carry_on(warp, begin(warp).now, entries)


def carry_on(warp: Warp, settled: State, entries: Iterable[Entry]) -> Progress:
    """Return the progress after `entries`, the ones numbered above `settled.number`; raises ContradictionError."""
    progress = Progress(settled)
    for entry in entries:
        progress = evolve(warp, progress, entry)
    return progress


def evolve(warp: Warp, progress: Progress, entry: Entry) -> Progress:
    """Return the progress after one more entry; raises ContradictionError where it cannot follow."""
    if isinstance(entry.event, Undone):
        return _undo(warp, progress, entry, entry.event.number)
    now = progress.now
    if isinstance(entry.event, NearMiss | TieUpAccepted):
        # Nobody did it on purpose, or everything builds on it: "undo" reaches past it to what the weaver did.
        return Progress(follow(warp, now, entry), progress.trail)
    trail = (*(progress.trail if len(progress.trail) < TRAIL else progress.trail[1:]), TrailStep(entry, now))
    return Progress(follow(warp, now, entry), trail)


def without(warp: Warp, progress: Progress, number: int) -> Progress:
    """Return the progress as if the trail's entry `number` had not happened; raises ContradictionError.

    The entries after it must make sense without it. Clock and time at the loom stay as they were.
    """
    place = next((index for index, step in enumerate(progress.trail) if step.entry.number == number), None)
    if place is None:
        raise ContradictionError(f"entry {number} is not among the newest {TRAIL}, so it cannot be undone")
    steps = progress.trail
    once_after = [*(step.before for step in steps[place + 1 :]), progress.now]
    state = _with_clock_of(once_after[0], steps[place].before)
    again = []
    for step, once in zip(steps[place + 1 :], once_after[1:], strict=True):
        again.append(TrailStep(step.entry, state))
        state = _with_clock_of(once, follow(warp, state, step.entry))
    return Progress(state, (*steps[:place], *again))


def _with_clock_of(clock: State, state: State) -> State:
    return state._replace(
        number=clock.number,
        at_ms=clock.at_ms,
        began_ms=clock.began_ms,
        at_loom_ms=clock.at_loom_ms,
        dressing=with_times_of(clock.dressing, state.dressing),
    )


def _undo(warp: Warp, progress: Progress, entry: Entry, number: int) -> Progress:
    require(0 < number < entry.number, entry, f"entry {number} undone")
    # Below the settled state an Undone has done its work already, when the snapshot was made.
    back = progress if number <= progress.settled.number else without(warp, progress, number)
    now = progress.now
    return Progress(stamped(back.now, entry, spent_ms(now, entry), task_meanwhile(now, entry)), back.trail)
