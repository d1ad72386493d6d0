"""Numbers as people read them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.cli.phrases import MOST_SPANS, numbered, spans


@pytest.mark.parametrize(
    ("indices", "words"),
    [([], ""), ([0], "1"), ([0, 1, 2, 6], "1-3, 7"), ([4, 5], "5-6"), ([1, 3, 5], "2, 4, 6")],
)
def test_neighbours_are_drawn_together(indices, words):
    assert spans(indices) == words


def test_a_noun_stands_in_the_plural_with_several_numbers():
    assert numbered("end", [2]) == "end 3"
    assert numbered("end", [2, 3]) == "ends 3-4"


@given(st.sets(st.integers(0, 60)).map(sorted))
def test_spans_name_every_number_or_say_how_many_are_left_out(indices):
    words = spans(indices)
    shown, _, more = words.partition(" and ")
    named = []
    for span in filter(None, shown.split(", ")):
        first, _, last = span.partition("-")
        named += range(int(first), int(last or first) + 1)
    assert named == [index + 1 for index in indices[: len(named)]]
    left_out = int(more.split()[0]) if more else 0
    assert len(named) + left_out == len(indices)
    assert shown.count(",") < MOST_SPANS
