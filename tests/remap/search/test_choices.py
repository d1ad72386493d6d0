"""The choices of every target: complete in small worlds, and the conclusions drawn from them lose no answer."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.remap.search import choices as module
from companion.remap.search.choices import choices_of, columns_worth_a_look

targets_of_five = st.lists(st.integers(1, 31), min_size=1, max_size=7, unique=True)


def as_columns(choices):
    columns = choices.catalogue.columns
    return {
        (choices.catalogue.targets[of], frozenset((columns[one], columns[other])) - {0})
        for of, one, other in zip(choices.of, choices.one, choices.other, strict=True)
    }


def fewest_columns(choices):
    """Try all sets of columns, from small ones up."""
    columns = choices.catalogue.columns
    wanted = {}
    for of, one, other in zip(choices.of, choices.one, choices.other, strict=True):
        wanted.setdefault(of, []).append({columns[one], columns[other]} - {0})
    free = [column for k, column in enumerate(columns) if not choices.taken[k]]
    for more in range(len(free) + 1):
        for chosen in combinations(free, more):
            held = {*choices.columns, *chosen}
            if all(any(pair <= held for pair in pairs) for pairs in wanted.values()):
                return choices.cost + more
    raise AssertionError("all columns together open everything")


def test_two_shafts_have_four_choices():
    assert as_columns(choices_of([0b01, 0b10, 0b11])) == {
        (0b01, frozenset({0b01})),
        (0b10, frozenset({0b10})),
        (0b11, frozenset({0b11})),
        (0b11, frozenset({0b01, 0b10})),
    }


@given(targets_of_five)
def test_columns_worth_a_look_are_all_that_targets_have_in_common(targets):
    met = set()
    for size in range(1, len(targets) + 1):
        for some in combinations(targets, size):
            common = 31
            for target in some:
                common &= target
            met.add(common)
    assert set(columns_worth_a_look(targets)) == met - {0}


@given(targets_of_five)
def test_choices_are_all_pairs_that_join_to_a_target(targets):
    worth = columns_worth_a_look(targets)
    joined = {(t, frozenset(pair)) for t in targets for pair in combinations(worth, 2) if pair[0] | pair[1] == t}
    alone = {(t, frozenset({t})) for t in targets}
    assert as_columns(choices_of(targets)) == {
        (t, pair) for t, pair in joined | alone if t not in pair or len(pair) == 1
    }


@settings(max_examples=60)
@given(st.lists(st.integers(1, 31), min_size=2, max_size=5, unique=True), st.data())
def test_conclusions_keep_the_fewest_columns(targets, data):
    choices = choices_of(targets)
    if len(choices.catalogue.columns) > 12:
        return
    column = data.draw(st.integers(1, len(choices.catalogue.columns) - 1))
    settled, taken = choices.settled(), choices.with_column(column)
    assert fewest_columns(settled) == fewest_columns(choices)
    assert fewest_columns(taken.settled()) == fewest_columns(taken)


def test_nothing_is_left_when_a_target_has_no_choice():
    choices = choices_of([0b01, 0b10, 0b11])
    assert choices.without_column(choices.catalogue.columns.index(0b01)) is None
    assert choices.among(np.zeros(4, dtype=bool)) is None
    assert choices.settled().columns == (0b01, 0b10)


@pytest.mark.parametrize("limit", ["MOST_COLUMNS", "MOST_CHOICES"])
def test_too_many_choices_are_not_written_out(monkeypatch, limit):
    targets = [0b0111, 0b1011, 0b1101, 0b1110, 0b0001, 0b0010, 0b0100, 0b1000]
    assert choices_of(targets) is not None
    monkeypatch.setattr(module, limit, 9)
    assert choices_of(targets) is None
