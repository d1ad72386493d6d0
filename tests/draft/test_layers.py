"""Clapham's criterion against the definition, against strong connection, and against cloths of the handbooks."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.cloth import crossings_of
from companion.draft.layers import Join, hangs_together, joins, layers
from tests.draft.cloths import cloth_of, repeated, satin, twill
from tests.draft.drafts import draft_of
from tests.oracles.lifting_off import can_lift_off, strong_parts


def every_cloth(picks, ends):
    for cells in product((False, True), repeat=picks * ends):
        yield [list(cells[pick * ends : (pick + 1) * ends]) for pick in range(picks)]


def parts_of(cloth):
    return [(frozenset(layer.picks), frozenset(layer.ends)) for layer in layers(cloth_of(cloth))]


@pytest.mark.parametrize(("picks", "ends"), [(1, 1), (1, 4), (2, 2), (2, 3), (3, 2), (2, 4), (3, 3), (4, 2)])
def test_a_cloth_hangs_together_exactly_when_no_threads_can_be_lifted_off(picks, ends):
    for cloth in every_cloth(picks, ends):
        assert hangs_together(layers(cloth_of(cloth))) != can_lift_off(cloth), cloth


@pytest.mark.parametrize(
    ("picks", "ends", "holding"),
    [(1, 1, 0), (1, 2, 0), (1, 3, 0), (1, 4, 0), (2, 2, 2), (2, 3, 6), (2, 4, 14), (3, 3, 102), (3, 4, 906)],
)
def test_the_layers_of_every_small_cloth_are_its_strong_parts(picks, ends, holding):
    """Against networkx; the numbers of holding cloths were also counted by an independent script beforehand."""
    held = 0
    for cloth in every_cloth(picks, ends):
        parts = parts_of(cloth)
        assert sorted(parts, key=repr) == sorted(strong_parts(cloth), key=repr), cloth
        held += len(parts) == 1
    assert held == holding


def test_of_the_65536_cloths_of_four_picks_and_four_ends_22730_hang_together():
    """Each different cloth up to the order of its picks once, against networkx; weighted, they are all 65,536.

    The number was also counted by an independent script beforehand.
    """
    rows = list(product((False, True), repeat=4))
    held = 0
    for chosen in product(range(16), repeat=4):
        if list(chosen) != sorted(chosen):
            continue
        cloth = [list(rows[row]) for row in chosen]
        holds = hangs_together(layers(cloth_of(cloth)))
        assert holds == (len(strong_parts(cloth)) == 1), cloth
        held += holds * orders(chosen)
    assert held == 22_730


def in_order(part):
    picks, ends = part
    return sorted(picks), sorted(ends)


def orders(chosen):
    total = 24
    for row in set(chosen):
        for factor in range(2, chosen.count(row) + 1):
            total //= factor
    return total


@settings(max_examples=150, deadline=None)
@given(
    st.integers(1, 9).flatmap(
        lambda ends: st.lists(st.lists(st.booleans(), min_size=ends, max_size=ends), max_size=9, min_size=1)
    )
)
def test_the_layers_lie_one_above_the_other(cloth):
    parts = parts_of(cloth)
    assert sorted(map(in_order, parts)) == sorted(map(in_order, strong_parts(cloth)))
    for upper, (picks_above, ends_above) in enumerate(parts):
        for picks_below, ends_below in parts[upper + 1 :]:
            assert all(not cloth[pick][end] for pick in picks_above for end in ends_below)
            assert all(cloth[pick][end] for pick in picks_below for end in ends_above)


@settings(max_examples=100, deadline=None)
@given(
    st.integers(1, 6).flatmap(
        lambda ends: st.lists(st.lists(st.booleans(), min_size=ends, max_size=ends), max_size=6, min_size=1)
    ),
    st.integers(1, 3),
    st.integers(1, 3),
)
def test_repeating_a_cloth_does_not_change_whether_it_hangs_together(cloth, down, across):
    # A single thread crosses nothing that could hold its copy, so cloths of loose threads stay loose.
    assert hangs_together(layers(cloth_of(cloth))) == hangs_together(layers(cloth_of(repeated(cloth, down, across))))


@pytest.mark.parametrize(
    "cloth",
    [
        twill(1, 1),
        twill(2, 2),
        twill(1, 3),
        twill(3, 1),
        repeated([[True, True, False, False]], 2, 1) + repeated([[False, False, True, True]], 2, 1),
        satin(5, 2),
        satin(8, 3),
        [[end == up for end in range(4)] for up in (0, 1, 3, 2)],
        [[True, False, True, False]] * 2 + [[False, True, False, True]] * 2,
        [row for pair in zip(twill(1, 3), twill(3, 1), strict=True) for row in pair],
    ],
    ids=["plain", "2/2", "1/3", "3/1", "basket", "satin 5", "satin 8", "broken 1/3", "rib", "1/3 and 3/1"],
)
def test_the_weaves_of_one_cloth_hang_together(cloth):
    # Common knowledge of the trade.
    assert hangs_together(layers(cloth_of(cloth)))


BROOKS = draft_of(threading=[1, 2, 3, 4] * 3, plan=[[1], [1, 2, 4], [2], [1, 2, 3]] * 3)
"""Plain double cloth: C. P. Brooks, Cotton Manufacturing (1888), p. 69; shafts 1 and 2 carry the upper cloth."""


def test_plain_double_cloth_is_two_cloths_that_only_the_selvedges_join():
    upper, lower = layers(crossings_of(BROOKS))
    assert upper.ends == (0, 1, 4, 5, 8, 9)
    assert upper.picks == (0, 2, 4, 6, 8, 10)
    assert lower.ends == (2, 3, 6, 7, 10, 11)
    assert lower.picks == (1, 3, 5, 7, 9, 11)


def test_one_shuttle_that_changes_cloths_at_every_pick_weaves_a_tube():
    (pair,) = joins(layers(crossings_of(BROOKS)), [0] * 12)
    assert pair.join is Join.TUBE
    assert (pair.start_turns, pair.far_turns) == (5, 6)


def test_two_picks_in_each_cloth_weave_double_width():
    draft = draft_of(threading=[1, 2, 3, 4], plan=[[1], [2], [1, 2, 4], [1, 2, 3]] * 3)
    (pair,) = joins(layers(crossings_of(draft)), [0] * 12)
    assert pair.join is Join.ONE_EDGE
    assert (pair.start_turns, pair.far_turns) == (5, 0)


def test_a_shuttle_for_each_cloth_joins_nothing():
    (pair,) = joins(layers(crossings_of(BROOKS)), [0, 1] * 6)
    assert pair.join is Join.NOT


def test_one_stitch_binds_a_double_cloth():
    """A back end over a face pick: J. T. Taylor, Cotton Weaving and Designing, 6th ed., p. 199."""
    stitched = draft_of(threading=[1, 2, 3, 4], plan=[[1, 3], [1, 2, 4], [2], [1, 2, 3]])
    assert hangs_together(layers(crossings_of(stitched)))


def test_both_colours_in_every_line_are_not_enough():
    """S. L. Rasmussen, Electronic Journal of Combinatorics 15 (2008), R1, abstract: such grids can fall apart."""
    cloth = crossings_of(BROOKS).matrix().tolist()
    assert all(any(line) and not all(line) for line in cloth + list(zip(*cloth, strict=True)))
    assert not hangs_together(layers(cloth_of(cloth)))


def test_an_end_in_no_heddle_is_a_layer_of_its_own_below_the_cloth():
    draft = draft_of(threading=[None, 1, 2, 1, 2], plan=[[1], [2]] * 2)
    cloth, loose = layers(crossings_of(draft))
    assert cloth.is_cloth
    assert loose.ends == (0,)
    assert not loose.is_cloth


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(2, 5), st.integers(2, 5)), min_size=1, max_size=5), st.randoms())
def test_cloths_laid_one_above_the_other_and_mixed_are_found_again(sizes, chance):
    """Each is a plain weave of its own picks and ends; which thread lies where is shuffled."""
    picks = [(layer, pick) for layer, (many, _) in enumerate(sizes) for pick in range(many)]
    ends = [(layer, end) for layer, (_, many) in enumerate(sizes) for end in range(many)]
    chance.shuffle(picks)
    chance.shuffle(ends)
    cloth = [[(p + e) % 2 == 0 if k == m else m < k for m, e in ends] for k, p in picks]
    assert parts_of(cloth) == [
        (
            frozenset(at for at, (one, _) in enumerate(picks) if one == layer),
            frozenset(at for at, (one, _) in enumerate(ends) if one == layer),
        )
        for layer in range(len(sizes))
    ]
