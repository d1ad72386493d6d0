"""Rows that differ by a move: each of them, and what the feet pay on it at least, against the presses one by one."""

from __future__ import annotations

import random

from companion.remap.feet.near_rows import SHUT, least_extra, moved, with_own
from companion.remap.feet.presses import presses_of, ways_to_open
from companion.remap.feet.walks import walks_of


def rows_of(chance, treadles):
    return [[chance.choice([0, *range(1, 16)]) for _ in range(treadles)] for _ in range(40)]


def test_the_least_beside_the_walk_is_that_of_the_simplest_press_of_each_shed():
    chance = random.Random(136494403)
    opened = 0
    for treadles in (2, 3, 5, 6):
        picks = [chance.randrange(16) for _ in range(5)]
        walk, rows = walks_of(picks), rows_of(chance, treadles)
        for row, extra in zip(rows, least_extra(walk, rows), strict=True):
            ways = [ways_to_open(target, row, 2) for target in walk.targets]
            if not all(ways):
                assert extra == SHUT
                continue
            opened += 1
            # Wherever the treadles are divided, beside reaching across.
            presses = [[press for split in range(treadles + 1) for press in presses_of(some, split)] for some in ways]
            least = [min(press.extra for press in some) for some in presses]
            assert extra == sum(picks * price for picks, price in zip(walk.picks, least, strict=True))
    assert opened


def test_a_column_too_large_for_the_count_opens_nothing():
    assert least_extra(walks_of([2**70]), [[2**70, 0]]) == [SHUT]


def test_each_exchange_and_each_move_along_is_there():
    near = list(moved([1, 2, 3]))
    assert [2, 1, 3] in near
    assert [3, 2, 1] in near
    assert [2, 3, 1] in near
    assert [1, 2, 3] not in near


def test_a_shed_gets_its_own_treadle_in_place_of_another_or_between_two_where_one_is_empty():
    near = list(with_own([1, 2, 0], walks_of([1, 2, 3, 3])))
    assert [3, 2, 0] in near
    assert [1, 3, 2] in near
    assert all(3 in row for row in near)
    assert [1, 3, 2] not in list(with_own([1, 2, 4], walks_of([1, 2, 3, 3])))
