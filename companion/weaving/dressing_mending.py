"""How a mistake found while dressing is mended: what belongs there, and how much to take out to do it anew. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from companion.weaving.dressing import Dressing, sley_of, state_of
from companion.weaving.dressing_events import DressingTask, TaskState
from companion.weaving.warp import Warp


@dataclass(frozen=True, slots=True)
class Mending:
    """A threading mistake in the ends `first` to `last` (indices), which belong on `shafts` (indices, None for none).

    `threaded`: they hang in heddles. `out` are the newest ends to take out until all of these are out, to thread them
    anew; None where they do not hang, or hang uncounted since the weaver only said that the threading is done.
    `nearer` are the ends from the edge where it was begun up to these, where all hang and these are fewer. `sleyed`:
    some ends are in the reed already, and come out of it before they come out of their heddles.
    """

    first: int
    last: int
    shafts: tuple[int | None, ...]
    threaded: bool
    out: int | None
    nearer: int | None = None
    sleyed: bool = False


def mending_of(warp: Warp, dressing: Dressing, first: int, last: int | None = None) -> Mending:
    """Return how to mend the threading of ends (indices; one alone without `last`) found wrong."""
    last = first if last is None else last
    draft, here = warp.pieces[0].draft, dressing.of(DressingTask.THREADING)
    deepest = draft.ends - 1 - last if here.from_last else first
    counted = here.done - deepest if deepest < here.done else None
    settled = state_of(warp, dressing, DressingTask.THREADING) is not TaskState.TO_DO
    nearer = deepest + last - first + 1
    return Mending(
        first,
        last,
        draft.threading[first : last + 1],
        settled or counted is not None,
        counted,
        nearer if counted is not None and here.done == draft.ends and nearer < counted else None,
        bool(sleyed(warp, dressing)),
    )


@dataclass(frozen=True, slots=True)
class DentMending:
    """A sleying mistake in a dent (index) that takes the ends `first` to `last` (indices; `last` before it: none).

    `out` are the newest dents to take out until this one is out; None where it is not `sleyed`, or sleyed uncounted.
    """

    dent: int
    first: int
    last: int
    sleyed: bool
    out: int | None


def dent_mending_of(warp: Warp, dressing: Dressing, dent: int) -> DentMending:
    """Return how to mend the dent (index, of the plan) found wrong."""
    held, here = sley_of(warp, dressing).dents, dressing.of(DressingTask.SLEYING)
    first = sum(held[:dent])
    place = len(held) - 1 - dent if here.from_last else dent
    counted = here.done - place if place < here.done else None
    return DentMending(dent, first, first + held[dent] - 1, dent in sleyed(warp, dressing), counted)


def hanging(warp: Warp, dressing: Dressing) -> range:
    """Return the ends (indices) that hang in their heddles; all of them where the threading was said to be done."""
    ends, here = warp.pieces[0].draft.ends, dressing.of(DressingTask.THREADING)
    if state_of(warp, dressing, DressingTask.THREADING) is not TaskState.TO_DO:
        return range(ends)
    return range(ends - here.done, ends) if here.from_last else range(here.done)


def sleyed(warp: Warp, dressing: Dressing) -> range:
    """Return the dents (indices, of the plan) that are sleyed; all of them where the sleying was said to be done."""
    dents, here = len(sley_of(warp, dressing).dents), dressing.of(DressingTask.SLEYING)
    if state_of(warp, dressing, DressingTask.SLEYING) is not TaskState.TO_DO:
        return range(dents)
    return range(dents - here.done, dents) if here.from_last else range(here.done)
