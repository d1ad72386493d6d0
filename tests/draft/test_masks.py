"""Sets of shafts and treadles as masks, against Python's own sets of numbers from 1."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft import masks

NUMBERS = st.sets(st.integers(1, 40))


@given(NUMBERS)
def test_numbers_go_in_and_come_out_rising(numbers):
    assert masks.shafts_of(masks.shed_of(numbers)) == tuple(sorted(numbers))
    assert masks.treadles_of(masks.treadle_set(numbers)) == tuple(sorted(numbers))
    assert list(masks.bits_of(masks.shed_of(numbers))) == [number - 1 for number in sorted(numbers)]
    assert masks.count(masks.shed_of(numbers)) == len(numbers)


def test_shaft_1_is_bit_0():
    assert masks.shed_of([1, 3]) == 0b101
    assert masks.treadle_set([2, 3]) == 0b110


@pytest.mark.parametrize("number", [0, -1])
def test_there_is_no_shaft_or_treadle_below_1(number):
    with pytest.raises(ValueError, match="shafts are numbered from 1"):
        masks.shed_of([2, number])
    with pytest.raises(ValueError, match="treadles are numbered from 1"):
        masks.treadle_set([number])


@given(st.sets(st.integers(1, 12)), st.integers(12, 40))
def test_the_complement_is_every_other_shaft_of_the_loom(up, shafts):
    down = masks.complement(masks.shed_of(up), shafts)
    assert set(masks.shafts_of(down)) == set(range(1, shafts + 1)) - up
    assert masks.complement(down, shafts) == masks.shed_of(up)
    assert masks.shafts_of(masks.every_shaft(shafts)) == tuple(range(1, shafts + 1))


@given(NUMBERS, NUMBERS)
def test_union_common_without_and_within_are_those_of_sets(one, other):
    a, b = masks.shed_of(one), masks.shed_of(other)
    assert set(masks.shafts_of(masks.union([a, b]))) == one | other
    assert set(masks.shafts_of(masks.common(a, b))) == one & other
    assert set(masks.shafts_of(masks.without(a, b))) == one - other
    assert masks.within(a, b) == (one <= other)


def test_no_sheds_join_to_no_shaft():
    assert masks.union([]) == masks.NO_SHAFT


@given(st.lists(NUMBERS, min_size=1, max_size=6), st.data())
def test_pressed_treadles_move_all_that_is_tied_to_any_of_them(ties, data):
    pressed = data.draw(st.sets(st.integers(1, len(ties))))
    moved = masks.ties_pressed(tuple(map(masks.shed_of, ties)), masks.treadle_set(pressed))
    assert set(masks.shafts_of(moved)) == set().union(*(ties[treadle - 1] for treadle in pressed))


@given(NUMBERS, st.integers(0, 39), st.booleans())
def test_one_shaft_is_put_in_or_taken_out(up, shaft, raised):
    shed = masks.shed_of(up)
    assert masks.is_raised(shed, shaft) == (shaft + 1 in up)
    changed = masks.with_shaft(shed, shaft, raised)
    assert set(masks.shafts_of(changed)) == (up | {shaft + 1} if raised else up - {shaft + 1})


@given(st.sets(st.integers(1, 12)), st.sets(st.integers(1, 12)), st.integers(12, 40))
def test_pulls_keep_up_and_down_apart(up, down, shafts):
    pulled = masks.pulls(masks.shed_of(up), masks.shed_of(down), shafts)
    assert masks.pulls_up(pulled, shafts) == masks.shed_of(up)
    assert masks.pulls_down(pulled, shafts) == masks.shed_of(down)


def test_a_shed_is_printed_as_weavers_write_it():
    assert masks.print_shed(masks.shed_of([3, 1])) == "1 3"
    assert masks.print_shed(masks.NO_SHAFT) == "none"


@given(st.sets(st.integers(0, 40)), st.integers(0, 41))
def test_a_set_of_indices_holds_the_bits_of_its_members(indices, index):
    mask = sum(masks.bit(member) for member in indices)
    assert set(masks.bits_of(mask)) == indices
    assert masks.has_bit(mask, index) == (index in indices)
    assert set(masks.bits_of(mask & masks.first_bits(index))) == {member for member in indices if member < index}
