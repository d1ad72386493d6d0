"""How a mistake found while dressing is mended, in words, for screen and terminal."""

from __future__ import annotations

from collections.abc import Sequence

from companion.draft.units import counted
from companion.present.dressing_words import on_shaft, shaft_sign
from companion.weaving.dressing_mending import DentMending, Mending
from companion.weaving.trial_weave import NeighboursAlike


def near_words(ends: Sequence[int], shafts: Sequence[int | None]) -> str:
    """Return on which heddles the ends near a place belong: `end 40 on 4, end 41 on 1`."""
    return ", ".join(f"end {end + 1} on {shaft_sign(shaft)}" for end, shaft in zip(ends, shafts, strict=True))


def neighbours_words(near: NeighboursAlike, end: int) -> tuple[str, ...]:
    """Return what to look at where an end (index) stands with a neighbour in plain weave, a line each."""
    place = near.ends.index(end)
    beside = [near_words(near.ends[at : at + 1], near.shafts[at : at + 1]) for at in (place - 1, place + 1)]
    there = [words for words in beside if words]
    return (
        f"Look: it belongs on {on_shaft(near.shafts[place])}, beside {' and '.join(there)}",
        "Is it on a wrong heddle, has it changed places with a neighbour, or is an end missing there?",
    )


def mending_words(mending: Mending) -> str:
    """Return how a mistake in the threading is mended."""
    again = "thread it again" if mending.first == mending.last else "thread them again"
    if mending.nearer is not None:
        again = f"thread the {counted(mending.nearer, 'end')} from the nearer edge again"
    elif mending.out is not None:
        again = f"take out {counted(mending.out, 'end')} and thread them again"
    if mending.sleyed:
        again += "; out of the reed first"
    if mending.first != mending.last:
        shafts = " ".join(shaft_sign(shaft) for shaft in mending.shafts)
        ends = f"ends {mending.first + 1} to {mending.last + 1} belong on {shafts}"
        return f"{ends}: put repair heddles there, or {again}"
    end, (shaft,) = f"end {mending.first + 1}", mending.shafts
    if not mending.threaded:
        return f"{end} is not threaded yet: it belongs on {on_shaft(shaft)}"
    if shaft is None:
        return f"{end} belongs on no shaft: draw it out of its heddle"
    return f"{end} belongs on {on_shaft(shaft)}: put a repair heddle on that shaft, or {again}"


def dent_mending_words(mending: DentMending) -> str:
    """Return how a mistake in the sleying is mended: `dent 3 takes ends 5 and 6: take out 4 dents …`."""
    first, last = mending.first + 1, mending.last + 1
    if not mending.sleyed:
        return f"dent {mending.dent + 1} is not sleyed yet: {_held(first, last)}"
    out = "sley it again" if mending.out is None else f"take out {counted(mending.out, 'dent')} and sley them again"
    return f"dent {mending.dent + 1} {_held(first, last)}: {out}"


def _held(first: int, last: int) -> str:
    return "stays empty" if last < first else f"takes end {first}" if first == last else f"takes ends {first} to {last}"
