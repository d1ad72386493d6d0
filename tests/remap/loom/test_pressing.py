"""The feet for a target, against every footing that there is."""

from itertools import product

from companion.remap.loom.loom import Footing
from companion.remap.loom.pressing import feet_for, runs
from tests.oracles.set_basis_brute import footings


def test_feet_are_found_exactly_when_some_footing_opens_the_target_and_are_the_fewest_treadles():
    for reach in (1, 2):
        for columns in product(range(1, 8), repeat=4):
            if columns > columns[::-1]:
                continue
            opened = {}
            for pressed in footings(4, reach):
                pulled = 0
                for treadle in pressed:
                    pulled |= columns[treadle]
                opened.setdefault(pulled, []).append(len(pressed))
            for target in range(1, 8):
                found = feet_for(target, columns, reach)
                assert (found is not None) == (target in opened)
                if found is not None:
                    pressed = found.left + found.right
                    assert frozenset(pressed) in footings(4, reach)
                    assert len(pressed) == min(opened[target])


def test_nothing_is_pressed_for_nothing():
    assert feet_for(0, (1, 2), 1) == Footing()


def test_one_foot_is_the_one_on_that_side():
    assert feet_for(1, (1, 2, 4, 8), 1) == Footing(left=(0,))
    assert feet_for(8, (1, 2, 4, 8), 1) == Footing(right=(3,))
    assert feet_for(1, (1,), 1) == Footing(left=(0,))


def test_runs_are_single_treadles_and_then_neighbours():
    assert list(runs(3, 2)) == [(0,), (1,), (2,), (0, 1), (1, 2)]
