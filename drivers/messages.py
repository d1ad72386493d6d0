"""What the lines between board and companion say. One table from which parsing and printing derive.

Every line says what *is*, not what happened: `state` carries all contacts and is repeated, so that a lost line is
healed by the next one. The board sends `hello` at its start and when asked; `state` when a contact changes, 6 ms
after the last change, every 50 ms while a pedal is down and for a second after a change, else every 500 ms, which is
the heartbeat. The companion sends `ask` when it opens the port, and `lamps` until the board's `state` shows them lit.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from typing import Any, NamedTuple

from drivers.events import Press
from drivers.line_protocol import SEQUENCE_NUMBERS, VERSION, Line

CLOCK_MS = 2**32
"""The board's clock starts again from 0 after so many milliseconds (49.7 days)."""
MOST_CONTACTS = 32
"""Pedals, treadles or lamps of one board: each group is one number of 32 bits."""


@dataclass(frozen=True, slots=True)
class Hello:
    """The board says what it has: `hello 1 8 8 footboard`."""

    pedals: int
    treadles: int
    lamps: int
    name: str


@dataclass(frozen=True, slots=True)
class State:
    """The board's clock in ms, and the closed pedals, the treadles down and the lamps lit, as sets of bits."""

    ms: int
    pedals: int
    treadles: int
    lamps: int


@dataclass(frozen=True, slots=True)
class Judged:
    """A board that judges gestures itself says what the foot asked for: `press back`."""

    press: Press


@dataclass(frozen=True, slots=True)
class Ask:
    """The companion asks for a hello: `ask`."""


@dataclass(frozen=True, slots=True)
class Lamps:
    """The companion wants exactly these lamps lit: `lamps 1F`."""

    lit: int


Message = Hello | State | Judged | Ask | Lamps


class _Form(NamedTuple):
    """One word of a message: how it is read (raises ValueError) and how it is written."""

    read: Callable[[str], Any]
    write: Callable[[Any], str] = str


def _number(most: int) -> _Form:
    def read(word: str) -> int:
        if not (word.isascii() and word.isdigit()) or int(word) > most:
            raise ValueError(word)
        return int(word)

    return _Form(read)


def _read_bits(word: str) -> int:
    if not 1 <= len(word) <= MOST_CONTACTS // 4 or word.strip("0123456789ABCDEF"):
        raise ValueError(word)
    return int(word, 16)


_COUNT = _number(MOST_CONTACTS)
_CLOCK = _number(CLOCK_MS - 1)
_BITS = _Form(_read_bits, "{:X}".format)
_NAME = _Form(str)
_PRESS = _Form(Press, lambda press: str(press.value))

_TABLE: dict[str, tuple[type[Message], tuple[_Form, ...]]] = {
    "hello": (Hello, (_COUNT, _COUNT, _COUNT, _NAME)),
    "state": (State, (_CLOCK, _BITS, _BITS, _BITS)),
    "press": (Judged, (_PRESS,)),
    "ask": (Ask, ()),
    "lamps": (Lamps, (_BITS,)),
}
_VERB_OF = {kind: verb for verb, (kind, _) in _TABLE.items()}


def message_of(line: Line) -> Message | None:
    """Return what a sound line of our version says, or None when its words are unknown."""
    verb, *words = line.words
    if verb not in _TABLE:
        return None
    kind, forms = _TABLE[verb]
    if len(words) != len(forms):
        return None
    try:
        return kind(*(form.read(word) for form, word in zip(forms, words, strict=True)))
    except ValueError:
        return None


def line_of(message: Message, sequence: int) -> Line:
    """Return the line that says this; `sequence` counts the lines sent and may run on beyond 255."""
    verb = _VERB_OF[type(message)]
    _, forms = _TABLE[verb]
    values = [getattr(message, field.name) for field in fields(message)]
    words = tuple(form.write(value) for form, value in zip(forms, values, strict=True))
    return Line(VERSION, sequence % SEQUENCE_NUMBERS, (verb, *words))


def contacts_of(bits: int) -> frozenset[int]:
    """Return the indices (from 0) of the bits set: `contacts_of(0b101)` is `{0, 2}`."""
    return frozenset(index for index in range(bits.bit_length()) if bits >> index & 1)


def bits_of(contacts: frozenset[int]) -> int:
    """Return the number whose bits are these indices (from 0); the inverse of `contacts_of`."""
    return sum(1 << index for index in contacts)
