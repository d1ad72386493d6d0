"""A threading is read in the phase in which it is drafted."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.repeats import Repeat, Series, SymbolRun, cost
from companion.draft.threading_repeats import read_threading


def expand(part):
    match part:
        case SymbolRun(symbols):
            return list(symbols)
        case Series(parts):
            return [symbol for inner in parts for symbol in expand(inner)]
        case Repeat(body, times):
            return expand(body) * times


def words(part):
    match part:
        case SymbolRun(symbols):
            return " ".join(map(str, symbols))
        case Series(parts):
            return " ".join(map(words, parts))
        case Repeat(body, times):
            return f"({words(body)})x{times}"


def every_reading(symbols, known):
    """Return the least cost of any reading without turns, wherever its repeats begin: all stretches, the slow way."""
    if symbols not in known:
        least = 2 * len(symbols)
        for cut in range(1, len(symbols)):
            least = min(least, every_reading(symbols[:cut], known) + every_reading(symbols[cut:], known))
        for period in range(1, len(symbols) // 2 + 1):
            if len(symbols) % period == 0 and symbols == symbols[:period] * (len(symbols) // period):
                least = min(least, 3 + every_reading(symbols[:period], known))
        known[symbols] = least
    return known[symbols]


# Each is how the draft is written; `point` and `and back` are written out.
@pytest.mark.parametrize(
    "drafted",
    [
        "(1 2 3 4)x5 (4 3 2 1)x5",
        "((1 2 3 4)x5 (5 6 7 8)x5)x3 (1 2 3 4)x5",
        "(1 2 3 2)x3 1 (2 3 4 3)x3 2 (3 4 1 4)x3 3 (4 1 2 1)x3 4",
        "(3 (1 2)x3 3 (1 4)x3)x6 3",
        "(1 2)x4 (1 2 3 2)x3",
        "(1 2)x3 (1 2 3)x3",
        "(1 2 3 4 3 2)x4 1",
        "((1 2)x4 (3 4)x4)x3",
    ],
)
def test_it_is_read_as_it_is_drafted(drafted):
    ends = expand_words(drafted)
    assert words(read_threading(ends)) == drafted


def expand_words(drafted):
    """Return the ends of such words, by the brackets alone."""
    found, stack = [], []
    for token in drafted.replace("(", "( ").replace(")", " )").split():
        if token == "(":
            stack.append(found)
            found = []
        elif token.startswith(")"):
            found = stack.pop() + found * int(token[2:])
        else:
            found.append(int(token))
    return found


@given(st.lists(st.integers(0, 3), max_size=60))
def test_a_reading_expands_to_what_was_read(ends):
    assert expand(read_threading(ends)) == ends


@given(st.lists(st.integers(0, 1), max_size=9).map(tuple))
def test_a_reading_costs_no_less_than_the_cheapest_there_is_and_no_more_than_writing_all_out(ends):
    part = read_threading(ends)
    assert every_reading(ends, {}) <= cost(part) <= 2 * len(ends)
