"""What is chanted is shorthand: typed back in, it gives the very picks."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.chant import chant
from companion.draft.masks import treadle_set
from companion.draft.model import Colour, Yarn
from companion.draft.repeat_search import read_repeats
from companion.draft.shorthand import parse_shorthand
from companion.draft.throws import Throw, throws_of
from tests.draft.test_repeats import READINGS
from tests.oracles.reading_expanded import expand

YARNS = tuple(Yarn(name, Colour(10, 20, 30)) for name in ("oat", "sea blue", "x2"))
"""A plain name, one of two words, and one that would be read as "times two": the last two need quotation marks."""
HEAD = """\
yarn: oat #0a141e
yarn: "sea blue" #0a141e
yarn: "x2" #0a141e
shafts: 2
threading: 1 2
tie-up: 1, 2, 1, 2, 1, 2, 1, 2
"""


def typed_in(words):
    return throws_of(parse_shorthand(f"{HEAD}treadling: {words}\n"))


def throw(yarn, *treadles):
    return Throw(treadle_set(treadles), yarn)


THROWS = st.builds(
    lambda yarn, treadles: throw(yarn, *treadles), st.integers(0, 2), st.sets(st.integers(1, 8), max_size=2)
)


@settings(max_examples=100, deadline=None)
@given(READINGS.map(expand), st.lists(THROWS, min_size=4, max_size=4))
def test_what_is_chanted_can_be_typed_back_in(symbols, throws):
    sequence = tuple(throws[symbol] for symbol in symbols)
    assert typed_in(chant(read_repeats(sequence), YARNS)) == sequence


@settings(max_examples=60, deadline=None)
@given(st.lists(THROWS, min_size=1, max_size=40))
def test_a_treadling_without_order_can_be_typed_back_in_too(sequence):
    assert typed_in(chant(read_repeats(sequence), YARNS)) == tuple(sequence)


@pytest.mark.parametrize(
    ("picks", "words"),
    [
        ([throw(0, t) for t in (1, 2, 3, 4)] * 12, "oat (1 2 3 4)x12"),
        ([throw(0, t) for t in (1, 2, 3, 4, 5, 6, 7, 8)] * 2, "oat (1-8)x2"),
        ([throw(0, t) for t in (1, 2, 3, 4, 3, 2)] * 3, "oat (point (1 2 3 4))x3"),
        ([throw(0, t) for t in (1, 3, 5, 7, 8, 7, 5, 3, 1)], "oat (1 3 5 7 8) and back"),
        ([throw(0, t) for t in (1, 3, 5, 7, 8, 8, 7, 5, 3, 1)], "oat (1 3 5 7 8) and reversed"),
        ([throw(0, 1), throw(1, 5), throw(0, 2), throw(1, 6)] * 9, '(oat/"sea blue" 1 5 2 6)x9'),
        ([throw(0, 1), throw(0, 2), throw(1, 3)], 'oat 1 2 "sea blue" 3'),
        ([throw(2, 1, 3), throw(2)], '"x2" 1+3 0'),
    ],
)
def test_a_chant_reads_as_it_is_spoken(picks, words):
    said = chant(read_repeats(picks), YARNS)
    assert said == words
    assert typed_in(said) == tuple(picks)


def test_two_yarns_of_one_name_are_told_apart():
    alike = (Yarn("oat", Colour(0, 0, 0)), Yarn("oat", Colour(9, 9, 9)))
    assert chant(read_repeats([throw(0, 1), throw(1, 2)]), alike) == 'oat 1 "oat 2" 2'
