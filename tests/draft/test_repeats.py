"""The chant of a treadling: what a reading expands to, what it costs, and where a pick lies in it."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.repeats import (
    Back,
    Repeat,
    RepeatStep,
    Series,
    SymbolRun,
    Turn,
    TurnStep,
    cost,
    path,
    series,
)
from tests.oracles.reading_expanded import expand

READINGS = st.recursive(
    st.lists(st.integers(0, 3), min_size=2, max_size=4).map(lambda symbols: SymbolRun(tuple(symbols))),
    lambda inner: st.one_of(
        st.lists(inner, min_size=2, max_size=3).map(lambda parts: Series(tuple(parts))),
        st.builds(Repeat, inner, st.integers(2, 3)),
        st.builds(Back, inner, st.sampled_from(Turn)),
    ),
    max_leaves=5,
)


def unrolled(part, backwards=False):
    """Every pick in the order of weaving, as (symbol, steps): what `path` must say, by writing it all out."""
    match part:
        case SymbolRun(symbols):
            return [(symbol, ()) for symbol in (symbols[::-1] if backwards else symbols)]
        case Series(parts):
            return [pick for inner in (parts[::-1] if backwards else parts) for pick in unrolled(inner, backwards)]
        case Repeat(body, times):
            once = unrolled(body, backwards)
            return [
                (symbol, (RepeatStep(repeat, times, at, len(once)), *steps))
                for repeat in range(times)
                for at, (symbol, steps) in enumerate(once)
            ]
        case Back(body, turn):
            forth, back = unrolled(body), unrolled(body, True)
            if backwards:
                forth = {Turn.ONCE: forth[:-1], Turn.TWICE: forth, Turn.POINT: forth[1:-1]}[turn]
            else:
                back = {Turn.ONCE: back[1:], Turn.TWICE: back, Turn.POINT: back[1:-1]}[turn]
            whole = len(forth) + len(back)
            return [
                (symbol, (TurnStep(at >= len(forth), at, whole), *steps))
                for at, (symbol, steps) in enumerate(forth + back)
            ]


@pytest.mark.parametrize(
    ("turn", "picks"), [(Turn.ONCE, (1, 2, 3, 2, 1)), (Turn.TWICE, (1, 2, 3, 3, 2, 1)), (Turn.POINT, (1, 2, 3, 2))]
)
def test_a_turn_weaves_what_its_name_says(turn, picks):
    assert expand(Back(SymbolRun((1, 2, 3)), turn)) == picks
    assert turn.value == " ".join(map(str, picks))


def test_a_reading_costs_its_picks_and_its_marks():
    # (1 2 3 4)x12 then 4 3 2 1: eight picks written, one repeat.
    reading = Series((Repeat(SymbolRun((1, 2, 3, 4)), 12), SymbolRun((4, 3, 2, 1))))
    assert cost(reading) == 8 * 2 + 3
    assert len(expand(reading)) == reading.picks == 52


@settings(max_examples=50, deadline=None)
@given(READINGS)
def test_a_reading_knows_how_many_picks_it_expands_to(reading):
    assert reading.picks == len(expand(reading))
    assert expand(reading) == tuple(symbol for symbol, _ in unrolled(reading))


@settings(max_examples=50, deadline=None)
@given(READINGS)
def test_the_path_of_every_pick_is_that_of_the_reading_written_out(reading):
    for pick, (_, steps) in enumerate(unrolled(reading)):
        assert path(reading, pick) == steps


def test_a_pick_is_told_as_a_weaver_would():
    """Repeat 4 of 12, pick 5 of 8, all counted from 0 here."""
    reading = Series((SymbolRun((9, 9)), Repeat(SymbolRun((1, 2, 3, 4, 5, 6, 7, 8)), 12)))
    assert path(reading, 2 + 3 * 8 + 4) == (RepeatStep(3, 12, 4, 8),)


def test_on_the_way_back_the_last_repeat_comes_first():
    reading = Back(Series((SymbolRun((9,)), Repeat(SymbolRun((1, 2)), 3))), Turn.TWICE)
    # 9 1 2 1 2 1 2 | 2 1 2 1 2 1 9
    assert path(reading, 7) == (TurnStep(True, 7, 14), RepeatStep(0, 3, 0, 2))
    assert path(reading, 12) == (TurnStep(True, 12, 14), RepeatStep(2, 3, 1, 2))[:2]
    assert path(reading, 13) == (TurnStep(True, 13, 14),)


@pytest.mark.parametrize("pick", [-1, 4])
def test_a_pick_beyond_the_reading_is_refused(pick):
    with pytest.raises(IndexError):
        path(Repeat(SymbolRun((1, 2)), 2), pick)


@settings(max_examples=40, deadline=None)
@given(st.lists(READINGS, min_size=1, max_size=4))
def test_parts_put_together_keep_their_picks_and_never_leave_two_runs_side_by_side(parts):
    joined = series(parts)
    assert expand(joined) == sum(map(expand, parts), ())
    top = joined.parts if isinstance(joined, Series) else (joined,)
    assert not any(isinstance(one, SymbolRun) and isinstance(other, SymbolRun) for one, other in pairwise(top))
