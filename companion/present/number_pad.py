"""A number given by touch, digit by digit: on the screen a pad of nine keys and a row below them."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from companion.present.asking import NEVER_MIND, Answer, Asked, AtLoom, FlowStep, empty_slot


def ask_number(words: str, most: int, then: Callable[[int], FlowStep[AtLoom]], typed: str = "") -> Asked[AtLoom]:
    """Ask for a number from 1 to `most` and go on with it; a digit too many is left out."""
    asks = partial(ask_number, words, most, then)
    done: Answer[AtLoom] = Answer("That is it", partial(then, int(typed)), main=True) if typed else empty_slot()
    end = (Answer("Take back", partial(asks, typed[:-1])), _digit(asks, "0", typed, most), done)
    return Asked(
        f"{words}: {typed or '…'}",
        tuple(_digit(asks, digit, typed, most) for digit in "123456789"),
        detail=f"1 to {most}",
        foot=(*end, NEVER_MIND),
        bit_by_bit=words,
    )


def _digit(asks: Callable[[str], Asked[AtLoom]], digit: str, typed: str, most: int) -> Answer[AtLoom]:
    longer = (typed + digit).lstrip("0")
    return Answer(digit, partial(asks, longer if longer and int(longer) <= most else typed))
