"""A thread told by touching where it lies, on a picture of all of them as they lie.

Each touch shows fewer of them, larger, until one is as wide as a finger; then the touched one is the answer.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Generic

from companion.draft.model import Colour
from companion.present.asking import Answer, Asked, FlowStep, PointedAt, Result
from companion.present.fell import Picture

LAST = 12
"""So many ends are each as wide as a finger, in the smallest window too."""
_NARROWER = 6
"""A touch shows one of so many parts of what was shown, with the touched one in the middle."""


@dataclass(frozen=True, slots=True)
class Touchable(Generic[Result]):
    """Threads (indices) as they lie from left to right; `draw` draws some of them for a width and height in pixels.

    `where` and `which` ask, of many and of few; `called` is what they are: `ends`. `read` are lines to read above the
    few. `then` goes on with the thread that was touched; `instead` are other ways to tell it.
    """

    lying: range
    draw: Callable[[range, float, float], Picture | None]
    where: str
    which: str
    then: Callable[[int], FlowStep[Result]]
    called: str = "ends"
    read: Callable[[range], tuple[str, ...]] = lambda _lying: ()
    instead: tuple[Answer[Result], ...] = ()


def ask_touched(threads: Touchable[Result]) -> Asked[Result]:
    """Ask where it is on all of them, and go on with the one (index) that was touched."""
    return _ask_among(threads, range(len(threads.lying)))


def places_round(place: int, many: int, there: int) -> range:
    """Return so many neighbours of a place, it in their middle where what is there does not stop."""
    first = min(max(place - many // 2, 0), max(there - many, 0))
    return range(first, min(first + many, there))


def _ask_among(threads: Touchable[Result], places: range) -> Asked[Result]:
    shown, there = len(places), len(threads.lying)
    lying = threads.lying[places.start : places.stop]
    few = shown <= LAST

    def ask(place: int, many: int) -> Asked[Result]:
        return _ask_among(threads, places_round(place, many, there))

    def drawn(width: float, height: float, _ground: Colour) -> Picture | None:
        return threads.draw(lying, width, height)

    def pointed(share: float, _down: float) -> FlowStep[Result]:
        place = places[min(int(share * shown), shown - 1)]
        return threads.then(threads.lying[place]) if few else ask(place, max(LAST, -(-shown // _NARROWER)))

    aside = (
        Answer("Further left", partial(ask, places[0], shown)),
        Answer("Further right", partial(ask, places[-1], shown)),
    )
    return Asked(
        threads.which if few else threads.where,
        (),
        detail=f"{threads.called} {lying[0] + 1} to {lying[-1] + 1}, from left to right",
        lines=threads.read(lying) if few else (),
        foot=(*(aside if shown < there else ()), *threads.instead),
        pointed=PointedAt(drawn, pointed),
        bit_by_bit=f"{threads.where}, {shown}",
        topic="Touching a thread",
    )
