"""Of rows that are equally light, the one in walking order."""

from __future__ import annotations

import random

from companion.draft.masks import shafts_of
from companion.remap.feet.feet_first import lightest_of_all
from companion.remap.feet.tidy_order import in_walking_order
from companion.remap.feet.walking import best_feet_on, priced
from companion.remap.feet.walks import walks_of
from companion.remap.loom.feet_wish import FeetWish, FirstFoot
from companion.remap.loom.wished import AS_IT_COMES, wished_feet
from companion.remap.search.fewest import fewest_treadles
from tests.oracles.feet_brute import least_on


def treadles_walked(picks, treadles, wish=AS_IT_COMES):
    """Return the treadle (from 1) of every pick, one foot at a time."""
    few = fewest_treadles(sorted(set(picks)), 1).columns
    found = lightest_of_all(picks, treadles, 1, fewest=[few], wished=wish)
    stand = dict(zip(dict.fromkeys(picks), found.feet.presses, strict=True))
    return [(*stand[pick].left, *stand[pick].right)[0] + 1 for pick in picks]


def test_a_straight_treadling_is_walked_from_the_outside_in_left_and_right_by_turns():
    """Common practice, no source: 1 8 2 7 3 6 4 5."""
    twill = [0b111 << shaft & 0xFF | 0b111 << shaft >> 8 for shaft in range(8)]
    assert treadles_walked(twill * 6, 10) == [1, 8, 2, 7, 3, 6, 4, 5] * 6


def test_a_point_treadling_goes_the_same_way_back():
    twill = [0b111 << shaft & 0xFF | 0b111 << shaft >> 8 for shaft in range(8)]
    assert treadles_walked(([*twill, *twill[-2:0:-1]]) * 4, 8)[:14] == [1, 8, 2, 7, 3, 6, 4, 5, 4, 6, 3, 7, 2, 8]


def test_who_starts_with_the_right_foot_walks_the_mirror_image():
    twill = [0b0011, 0b0110, 0b1100, 0b1001]
    right = wished_feet(FeetWish(first_foot=FirstFoot.RIGHT), None, twill)
    assert treadles_walked(twill * 6, 4, right) == [4, 1, 3, 2] * 6


def test_a_row_is_exchanged_only_for_one_that_costs_the_same_and_opens_the_same():
    chance = random.Random(7)
    moved = 0
    for _ in range(60):
        reach = chance.choice([1, 2])
        columns = tuple(chance.sample(range(1, 16), chance.randint(2, 5)))
        opened = {a | b for a in columns for b in columns}
        picks = [chance.choice(sorted(opened)) for _ in range(10)]
        walk = walks_of(picks)
        feet = best_feet_on(walk, columns, reach)
        if feet is None:
            continue
        row, other = in_walking_order(walk, columns, feet, AS_IT_COMES)
        moved += row != columns
        assert sorted(row) == sorted(columns)
        assert priced(walk, other.presses) == other.cost == feet.cost
        sets = [[frozenset(shafts_of(one)) for one in some] for some in (picks, row)]
        assert least_on(*sets, reach) <= feet.cost
        for target, press in zip(walk.targets, other.presses, strict=True):
            pulled = 0
            for treadle in (*press.left, *press.right):
                pulled |= row[treadle]
            assert pulled == target
    assert moved > 20


def test_the_draft_s_own_tie_up_stays_as_it_is_where_nothing_is_lighter():
    own = (0b1001, 0b1100, 0b0110, 0b0011)
    picks = [*own] * 4
    few = fewest_treadles(sorted(set(picks)), 1).columns
    tidy = lightest_of_all(picks, 4, 1, fewest=[few])
    straight = tuple(own[k] for k in (0, 2, 3, 1))
    assert best_feet_on(walks_of(picks), straight, 1).cost == tidy.cost
    assert lightest_of_all(picks, 4, 1, own=straight, fewest=[few]).columns == straight
