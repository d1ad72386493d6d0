"""What is wished of the feet: against trying everything, and by what must hold between answers."""

from __future__ import annotations

import random
from functools import partial

import pytest

from companion.draft.masks import shafts_of
from companion.remap.feet.feet_first import lightest_of_all
from companion.remap.loom.feet_wish import ANY_FEET, FeetWish, FirstFoot, TabbyPlace
from companion.remap.loom.wished import AS_IT_COMES, wished_feet
from companion.remap.search.fewest import fewest_treadles
from tests.oracles.feet_brute import as_wished, least_of_all

EVERY_WISH = [FeetWish(tabby, foot) for tabby in TabbyPlace for foot in FirstFoot]


def sets(picks):
    return [frozenset(shafts_of(pick)) for pick in picks]


def lightest(picks, treadles, reach, tabby, wish):
    few = [fewest_treadles(sorted(set(picks)), feet).columns for feet in range(1, reach + 1)]
    return lightest_of_all(picks, treadles, reach, fewest=few, wished=wished_feet(wish, tabby, picks))


def by_hand(picks, tabby, wish):
    """The wish as the oracle takes it: tabby counts where both sheds and another one are woven."""
    woven = tabby is not None and {*tabby} < set(picks)
    places = sets(tabby) if woven and wish.tabby is not TabbyPlace.WHEREVER else None
    return partial(as_wished, tabby=places, place=wish.tabby.value, foot=wish.first_foot.value, first=sets(picks)[0])


def a_world(chance):
    """A few sheds of two or three shafts, two of them called tabby, on two to four treadles."""
    shafts, treadles, reach = chance.choice([(2, 3, 1), (2, 3, 2), (3, 3, 1), (2, 4, 1), (3, 2, 1), (2, 4, 2)])
    sheds = chance.sample(range(1, 2**shafts), chance.randint(2, min(4, 2**shafts - 1)))
    picks = sheds + [chance.choice(sheds) for _ in range(chance.randint(2, 8))]
    chance.shuffle(picks)
    return picks, treadles, reach, tuple(sheds[:2])


@pytest.mark.parametrize("seed", [1, 2])
def test_the_answer_is_the_least_of_those_that_are_as_wished_in_small_worlds(seed):
    chance = random.Random(seed)
    kept = proven = least_found = 0
    for wish in EVERY_WISH:
        picks, treadles, reach, tabby = a_world(chance)
        least = least_of_all(sets(picks), treadles, reach, by_hand(picks, tabby, wish))
        found = lightest(picks, treadles, reach, tabby, wish)
        if least is None:
            assert found is None
        if found is not None:
            assert found.at_least <= least <= found.cost
            kept, proven, least_found = kept + 1, proven + found.proven, least_found + (found.cost == least)
            if reach == 1:
                assert found.proven
    assert kept >= 4
    assert least_found >= kept - 1


def overshot():
    tabby, pattern = (0b0101, 0b1010), (0b0011, 0b0110, 0b1100, 0b1001)
    return tabby, [tabby[pick // 2 % 2] if pick % 2 else pattern[pick // 8 % 4] for pick in range(160)]


@pytest.mark.parametrize(
    ("place", "treadles_of_tabby"),
    [(TabbyPlace.LEFT, {0, 1}), (TabbyPlace.RIGHT, {4, 5}), (TabbyPlace.OUTSIDE, {0, 5})],
)
def test_tabby_of_overshot_lies_where_it_is_wished_and_one_foot_presses_at_every_pick(place, treadles_of_tabby):
    tabby, picks = overshot()
    found = lightest(picks, 6, 1, tabby, FeetWish(place))
    assert {found.columns.index(column) for column in tabby} == treadles_of_tabby
    assert found.proven
    assert not any(press.left and press.right for press in found.feet.presses)


def test_left_and_right_cost_the_same_and_nothing_wished_costs_no_more_than_any_wish():
    chance = random.Random(3)
    for _ in range(6):
        picks, treadles, reach, tabby = a_world(chance)
        anyhow = lightest(picks, treadles, reach, tabby, ANY_FEET)
        left, right, outside = (
            lightest(picks, treadles, reach, tabby, FeetWish(place)) for place in list(TabbyPlace)[1:]
        )
        assert (left is None) == (right is None)
        assert left is None or left.cost == right.cost
        for wished in (left, outside):
            assert wished is None or wished.cost >= anyhow.cost


def test_more_treadles_are_never_dearer_with_a_wish_than_with_fewer():
    chance = random.Random(4)
    for wish in EVERY_WISH[3:]:
        sheds = chance.sample(range(1, 16), 6)
        picks = [chance.choice(sheds) for _ in range(24)]
        before = None
        for treadles in range(3, 8):
            found = lightest(picks, treadles, 1, (sheds[0], sheds[1]), wish)
            assert before is None or found.cost <= before
            before = None if found is None else found.cost


def test_nothing_is_wished_of_tabby_alone_or_where_it_is_not_woven():
    left = FeetWish(TabbyPlace.LEFT)
    assert wished_feet(left, (5, 10), [5, 10, 5, 10]) == AS_IT_COMES
    assert wished_feet(left, (5, 10), [5, 3, 5, 3]) == AS_IT_COMES
    assert wished_feet(left, None, [5, 3, 10]) == AS_IT_COMES
    assert wished_feet(left, (5, 10), [3, 10, 3, 5]).tabby == (1, 2)


def test_what_cannot_be_had_whole_is_wished_for_without_one_of_its_parts_then_without_all():
    whole = wished_feet(FeetWish(TabbyPlace.LEFT, FirstFoot.RIGHT), (5, 10), [5, 3, 10])
    assert [(less.tabby is not None, less.first is not None) for less in whole.less()] == [
        (True, True),
        (True, False),
        (False, True),
        (False, False),
    ]


def test_a_loom_that_leaves_something_open_leaves_it_to_the_weaver():
    loom, weaver = FeetWish(TabbyPlace.LEFT), FeetWish(TabbyPlace.RIGHT, FirstFoot.RIGHT)
    assert loom.or_else(weaver) == FeetWish(TabbyPlace.LEFT, FirstFoot.RIGHT)
