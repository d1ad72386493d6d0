"""Cords to change, and which treadle takes which column."""

from __future__ import annotations

import random
from itertools import combinations

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment

from companion.draft.masks import NO_SHAFT, shed_of, union, without
from companion.remap.loom.cords import cheapest_places, cord_changes, cords_between, forced, trimmed, untouched
from companion.remap.loom.footings import can_open
from companion.remap.loom.loom import Tie


def tie(up=(), down=()):
    return Tie(shed_of(up), shed_of(down))


def test_equal_tie_ups_need_no_change():
    assert cord_changes((tie([1, 3]), tie()), (tie([1, 3]),)) == ()


def test_changes_go_from_left_to_right_and_say_what_comes_off_and_what_goes_on():
    present = (tie([1, 3], [2]), tie([2]), tie([4]))
    wanted = (tie([1, 2], [2]), tie([2]), tie([], [4]))
    first, third = cord_changes(present, wanted)
    assert (first.treadle, first.untie_up, first.tie_up) == (0, shed_of([3]), shed_of([2]))
    assert (first.untie_down, first.tie_down, first.cords) == (NO_SHAFT, NO_SHAFT, 2)
    assert (third.treadle, third.untie_up, third.tie_down, third.cords) == (2, shed_of([4]), shed_of([4]), 2)
    assert cords_between(present, wanted) == 4


def test_doing_the_changes_to_the_present_tie_up_makes_the_wanted_one():
    chance = random.Random(11)
    for _ in range(200):
        present, wanted = (
            tuple(
                tie(chance.sample(range(1, 7), chance.randrange(4)), chance.sample(range(1, 7), chance.randrange(4)))
                for _ in range(chance.randrange(1, 6))
            )
            for _ in range(2)
        )
        done = dict(enumerate(present))
        for change in cord_changes(present, wanted):
            old = done.get(change.treadle, tie())
            done[change.treadle] = Tie(
                union([without(old.up, change.untie_up), change.tie_up]),
                union([without(old.down, change.untie_down), change.tie_down]),
            )
        for treadle in range(max(len(present), len(wanted))):
            expected = wanted[treadle] if treadle < len(wanted) else tie()
            assert done.get(treadle, tie()) == expected


def test_places_cost_as_little_as_scipy_finds():
    """scipy.optimize.linear_sum_assignment is the outside check."""
    chance = random.Random(1)
    for _ in range(400):
        places = chance.randint(1, 9)
        rows = chance.randint(1, places)
        costs = [[chance.randint(0, 12) for _ in range(places)] for _ in range(rows)]
        found = cheapest_places(costs)
        assert len(set(found)) == rows
        row, place = linear_sum_assignment(np.array(costs))
        assert sum(costs[at][treadle] for at, treadle in enumerate(found)) == np.array(costs)[row, place].sum()


def test_what_is_left_untouched_lies_between_the_present_and_the_wanted_and_still_opens_all():
    chance = random.Random(4)
    for _ in range(200):
        present, wanted = ([chance.randrange(16) for _ in range(3)] for _ in range(2))
        needed = chance.randrange(16) & wanted[0]

        def still_open(columns, column, needed=needed):
            return columns[0] & needed == needed

        left = untouched(wanted, present, still_open)
        assert left == (present[0] | needed, *present[1:])


def test_of_what_is_trimmed_every_cord_is_tied_now_or_needed_for_a_shed():
    """Looked at with all sheds again, where the trimming asks only for those that the changed column was inside of."""
    chance = random.Random(6)
    for _ in range(100):
        columns = [chance.randrange(1, 32) for _ in range(4)]
        present = [chance.randrange(32) for _ in range(4)]
        targets = {one | other for one, other in combinations(columns, 2)} | {*columns[:1]}

        def still_open(some, column, targets=targets):
            return all(can_open(target, some, 1) for target in targets if not column & ~target)

        left = trimmed(columns, present, still_open)
        assert all(can_open(target, left, 1) for target in targets)
        for at, column in enumerate(left):
            for pull in (1 << k for k in range(5) if column >> k & 1):
                fewer = [*left[:at], column & ~pull, *left[at + 1 :]]
                assert present[at] & pull or not all(can_open(target, fewer, 1) for target in targets)


def test_more_columns_than_treadles_cannot_be_placed():
    with pytest.raises(ValueError, match="more rows than places"):
        cheapest_places([[1], [2]])


@pytest.mark.parametrize("most_pressed", [2, 4])
def test_a_pull_is_forced_where_without_it_some_target_cannot_be_joined_any_more(most_pressed):
    """Lemma 35 by its own words: strike out one pull after another and try every way to press."""
    chance = random.Random(most_pressed)

    def joins(columns, target):
        parts = [column & target for column in columns]
        return any(
            target == union(chosen) for number in range(1, most_pressed + 1) for chosen in combinations(parts, number)
        )

    for _ in range(60):
        columns = [chance.randrange(1, 32) for _ in range(chance.randint(2, 5))]
        targets = [union(chance.sample(columns, min(most_pressed, len(columns)))) for _ in range(4)]
        found = forced(columns, targets, most_pressed)
        for at, column in enumerate(columns):
            for shaft in range(1, 6):
                pull = shed_of([shaft])
                less = [*columns[:at], without(column, pull), *columns[at + 1 :]]
                needed = bool(column & pull) and not all(joins(less, target) for target in targets)
                assert needed == bool(found[at] & pull), (columns, targets, at, shaft)
