"""How often a foot goes between its treadles, against following it pick by pick, for every set of treadles."""

import random
from itertools import pairwise

import numpy as np
import pytest

from companion.remap.feet.goings import goings
from companion.remap.feet.walks import walks_of


def followed(picks, ways, held):
    """The goings of one foot: between which two of its columns, and which of them in the very next pick.

    A pick that presses two of its columns breaks the way; None where there is one.
    """
    places = [[column for column in ways[pick] if column in held] for pick in picks]
    pressed = [(at, at_pick[0] if len(at_pick) == 1 else None) for at, at_pick in enumerate(places) if at_pick]
    went = [
        (at, then, *sorted((one, other))) for (at, one), (then, other) in pairwise(pressed) if None not in (one, other)
    ]
    moved = [(then - at, one, other) for at, then, one, other in went if one != other]
    return moved, any(len(at_pick) == 2 for at_pick in places)


@pytest.mark.parametrize(("columns", "seed"), [(0, 1), (1, 2), (2, 3), (4, 4), (5, 5), (6, 6)])
def test_every_set_of_treadles_goes_as_often_as_its_foot_followed_pick_by_pick(columns, seed):
    rng = random.Random(seed)
    ways = [tuple(sorted(rng.sample(range(columns), min(columns, number)))) for number in (1, 1, 1, 2, 2, 0)]
    # No shed twice in a row, for a foot that stays goes nowhere; a figure that is repeated throughout is folded.
    picks = [0, 1, 2, 3, 4, 5] * 2 if seed % 2 else []
    for _ in range(40):
        picks.append(rng.choice([pick for pick in range(6) if not picks or pick != picks[-1]]))
    walk = walks_of(picks)
    ways = [ways[target] for target in walk.targets]
    found = goings(walk, columns, ways)
    number = {
        pair: k for k, pair in enumerate(zip(*(side.tolist() for side in np.triu_indices(columns, 1)), strict=True))
    }
    by_pick = {target: k for k, target in enumerate(walk.targets)}
    for mask in range(2**columns):
        held = {column for column in range(columns) if mask >> column & 1}
        moved, skipped = followed([by_pick[pick] for pick in picks], ways, held)
        often = [0] * len(number)
        for _, one, other in moved:
            often[number[one, other]] += 1
        assert found.pairs[mask].tolist() == often
        assert found.hurried[mask] == sum(apart == 1 for apart, _, _ in moved)
        assert found.skipped[mask] == skipped
