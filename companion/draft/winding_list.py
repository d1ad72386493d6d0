"""The winding list: the warp as groups of colours in order, read as repeats, for one end or for several wound at once.

`24 sand, 2 sea, (1 sand 1 sea)x12`: the reader is the one that reads treadlings. Where several ends are wound at once,
each turn takes as many neighbours, so that a turn of `sand + sea` is one of each.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from companion.draft.errors import DraftError
from companion.draft.model import Draft, Yarn
from companion.draft.repeat_search import Reading, read_repeats
from companion.draft.repeats import Back, Repeat, SequencePart, Series, SymbolRun, Turn
from companion.draft.shorthand_names import printed_names

MOST_AT_ONCE = 24
"""More ends than any hand or paddle guides at once."""


@dataclass(frozen=True, slots=True)
class WoundTurn:
    """`times` turns after each other, each of these `yarns` (indices), one end of each."""

    times: int
    yarns: tuple[int, ...]


def wound_turns(draft: Draft, at_once: int = 1) -> tuple[WoundTurn, ...]:
    """Return what is wound, in order: `at_once` neighbouring ends in each turn, the last one with what is left.

    Raises DraftError for a number of ends that nobody winds at once.
    """
    if not 1 <= at_once <= MOST_AT_ONCE:
        raise DraftError(f"{at_once} ends wound at once", mend=f"give 1 to {MOST_AT_ONCE}")
    turns = [draft.warp[first : first + at_once] for first in range(0, draft.ends, at_once)]
    return tuple(WoundTurn(len(list(alike)), yarns) for yarns, alike in groupby(turns))


def read_winding(turns: Sequence[WoundTurn]) -> Reading[WoundTurn]:
    """Return the list read as the cheapest nested repeats."""
    return read_repeats(turns)


def winding_words(reading: Reading[WoundTurn], yarns: Sequence[Yarn]) -> str:
    """Return a list as it is read while winding: `24 sand, 2 sea, (1 sand 1 sea)x12`, `12 sand+sea`."""
    names = printed_names(yarns)
    return ", ".join(_words(reading, reading.part, names))


def turn_words(turn: WoundTurn, names: Sequence[str]) -> str:
    """Return turns in words: `24 sand`, and where several ends are wound at once `12 sand+sea`, `3 sand+sand`."""
    return f"{turn.times} {'+'.join(names[yarn] for yarn in turn.yarns)}"


def _words(reading: Reading[WoundTurn], part: SequencePart, names: Sequence[str]) -> Iterator[str]:
    match part:
        case SymbolRun(symbols):
            for symbol in symbols:
                yield turn_words(reading.items[symbol], names)
        case Series(parts):
            for one in parts:
                yield from _words(reading, one, names)
        case Repeat(body, times):
            yield f"({' '.join(_words(reading, body, names))})x{times}"
        case Back(body, Turn.POINT):
            yield f"point ({' '.join(_words(reading, body, names))})"
        case Back(body, turn):
            yield f"({' '.join(_words(reading, body, names))}) and {'back' if turn is Turn.ONCE else 'reversed'}"
