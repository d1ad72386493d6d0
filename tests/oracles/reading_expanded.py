"""The picks that a reading stands for, written out one after another."""

from __future__ import annotations

from companion.draft.repeats import Back, Repeat, Series, SymbolRun, Turn


def expand(part):
    """Every pick of a reading, in order."""
    match part:
        case SymbolRun(symbols):
            return symbols
        case Series(parts):
            return tuple(symbol for inner in parts for symbol in expand(inner))
        case Repeat(body, times):
            return expand(body) * times
        case Back(body, turn):
            forth = expand(body)
            back = forth[::-1]
            return forth + {Turn.ONCE: back[1:], Turn.TWICE: back, Turn.POINT: back[1:-1]}[turn]
