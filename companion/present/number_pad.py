"""A number given by touch: the one way to give one, on a pad like a telephone's.

What stands there to begin with is a guess; the first digit touched takes its place.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from math import ceil, floor

from companion.present.asking import Answer, Asked, ByNumber, FlowStep, Result, empty_slot
from companion.present.button_words import DONE
from companion.present.wording import BETWEEN

DELETE = "Delete"
POINT = "."
_NOTHING_TYPED = "…"
_LARGE = 1000


@dataclass(frozen=True, slots=True)
class Wanted:
    """The number that is asked for: `Wanted("Warp wound", "cm", 10, 20_000, decimals=1)`, bounds included.

    `begun` is what stands there before a key is touched, empty for nothing; `meaning` stands below it. `topic` names
    the help for it, where that is not the help of the question that led to it.
    """

    words: str
    unit: str
    least: float
    most: float
    decimals: int = 0
    begun: str = ""
    meaning: str = ""
    topic: str = ""

    def can_be(self, typed: str) -> bool:
        """Tell whether a number may begin like this."""
        whole, point, part = typed.partition(POINT)
        return not (point and not self.decimals) and len(part) <= self.decimals and float(whole or 0) <= self.most

    def is_one(self, typed: str) -> bool:
        """Tell whether this is a number that is wanted."""
        return typed not in ("", POINT) and self.least <= float(typed) <= self.most


NumberTaken = Callable[[float], FlowStep[Result]]
Also = Callable[[float | None], tuple[Answer[Result], ...]]
"""Answers beside the pad, with the number that stands there, None where none does; always as many."""


def ask_amount(
    wanted: Wanted,
    then: NumberTaken[Result] | None,
    also: Also[Result] | None = None,
    means: Callable[[float], str] = lambda _number: "",
    typed: str | None = None,
    besides: tuple[Answer[Result], ...] = (),
) -> Asked[Result]:
    """Ask for a number and go on with it; a key that would make it too large or too fine does nothing.

    `then` takes the number at Done; where it is None, the answers of `also` take it. `means` says what it comes to.
    `besides` are other answers, at the foot whatever is typed.
    """
    shown = wanted.begun if typed is None else typed
    given = float(shown) if wanted.is_one(shown) else None
    before = typed or ""

    def asks(longer: str) -> Asked[Result]:
        return ask_amount(wanted, then, also, means, longer, besides)

    def key(sign: str) -> Answer[Result]:
        longer = before + sign if before not in ("", "0") or sign == POINT else sign
        longer = f"0{POINT}" if longer == POINT else longer
        fits = longer.count(POINT) <= 1 and wanted.can_be(longer)
        return Answer(sign, partial(asks, longer if fits else before))

    def means_by(number: float) -> tuple[Answer[Result], ...]:
        if then is not None:
            return (Answer(DONE, partial(then, number), main=True),)
        return also(number) if also else ()

    digits = tuple(map(key, "123456789"))
    point: Answer[Result] = key(POINT) if wanted.decimals else empty_slot()
    delete: Answer[Result] = Answer(DELETE, partial(asks, shown[:-1]))
    done: Answer[Result] = empty_slot() if then is None or given is None else means_by(given)[0]
    comes_to = means(given) if given is not None else ""
    return Asked(
        f"{wanted.words}: {shown or _NOTHING_TYPED} {wanted.unit}".rstrip(),
        also(given) if also else (),
        detail=BETWEEN.join(part for part in (wanted.meaning, comes_to or _bounds_words(wanted)) if part),
        pad=(*digits, point, key("0"), delete),
        foot=(*besides, *(() if then is None else (done,))),
        bit_by_bit=wanted.words,
        topic=wanted.topic,
        by_number=ByNumber(wanted.least, wanted.most, means_by, wanted.unit, not wanted.decimals),
    )


def _bounds_words(wanted: Wanted) -> str:
    """Return what can be typed, as round as a person reads a bound and never beyond it: `0.4 to 393.7 in`."""
    least = _rounded(ceil, wanted.least, min(wanted.decimals, 1))
    most = _rounded(floor, wanted.most, 1 if wanted.decimals and wanted.most < _LARGE else 0)
    return f"{least:,g} to {most:,.10g} {wanted.unit}".rstrip()


def _rounded(way: Callable[[float], int], number: float, digits: int) -> float:
    return way(round(number * 10**digits, 6)) / float(10**digits)


def ask_number(
    words: str, most: int, then: Callable[[int], FlowStep[Result]], besides: tuple[Answer[Result], ...] = ()
) -> Asked[Result]:
    """Ask for a whole number from 1 to `most` and go on with it, or with one of the answers `besides`."""
    return ask_amount(Wanted(words, "", 1, most), lambda number: then(round(number)), besides=besides)
