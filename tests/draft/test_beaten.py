"""Which picks a beaten cloth shows: a double-faced cloth shows one weft on either side, a plain one every pick."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.beaten import BeatenRow, beaten_rows

DOUBLE_FACED = [[0], [0, 1, 2], [1], [1, 2, 3], [2], [2, 3, 0], [3], [3, 0, 1]]
"""Two wefts in turn on four shafts: one floats over three ends, the other under three (common practice, no source)."""


def up(sheds, ends=8, shafts=4):
    return np.array([[end % shafts in shed for end in range(ends)] for shed in sheds])


def test_a_double_faced_cloth_shows_the_face_weft_only_and_turned_over_the_other_one_only():
    face = beaten_rows(up(DOUBLE_FACED))
    assert face == tuple(BeatenRow(pick, 2) for pick in (0, 2, 4, 6))
    back = beaten_rows(~up(DOUBLE_FACED))
    # The newest pick of the back weft has nothing upon it yet: the first row of either kind is always seen.
    assert [row.pick for row in back if row.picks == 2] == [1, 3, 5][: len([row for row in back if row.picks == 2])]
    assert back[0].pick == 0


@pytest.mark.parametrize(
    "sheds",
    [
        [[0, 2], [1, 3]] * 4,  # plain weave
        [[0, 1], [1, 2], [2, 3], [3, 0]] * 2,  # 2/2 twill
        [[0], [1], [2], [3]] * 2,  # 1/3 twill
        [[0], [0, 1], [0, 1, 2]],  # a waffle's sheds grow by one shaft: no room to hide a pick
    ],
)
def test_of_one_cloth_of_one_weft_every_pick_is_seen(sheds):
    assert beaten_rows(up(sheds)) == tuple(BeatenRow(pick, 1) for pick in range(len(sheds)))


def test_of_two_cloths_woven_at_once_the_upper_one_is_seen():
    # Double weave on four shafts: shafts 1 and 3 above, 2 and 4 below; the lower picks raise all of the upper warp.
    assert [row.pick for row in beaten_rows(up([[0], [0, 2, 1], [2], [0, 2, 3]]))] == [0, 2]


@given(st.lists(st.lists(st.integers(0, 3), max_size=4), min_size=1, max_size=12))
def test_no_pick_is_lost_none_counted_twice_and_the_newest_is_never_hidden(sheds):
    rows = beaten_rows(up(sheds))
    assert sum(row.picks for row in rows) == len(sheds)
    first = 0
    for row in rows:
        assert first <= row.pick < first + row.picks
        first += row.picks
    assert rows[0].pick == 0


@given(st.lists(st.sampled_from([(0, 1), (2, 3), (0,), (0, 1, 2), (0, 1, 2, 3)]), min_size=1, max_size=12))
def test_two_picks_share_a_row_where_one_floats_over_all_that_the_other_does_however_often_they_come_again(sheds):
    rows = beaten_rows(up(sheds))
    first = 0
    for row in rows:
        ends_up, raised_next = set(sheds[first]), set(sheds[min(first + 1, len(sheds) - 1)])
        slides = {0: ends_up <= raised_next, 1: raised_next <= ends_up} if len(ends_up ^ raised_next) >= 2 else {}
        on_top = next((pick for pick in (0, 1) if slides.get(pick)), None)
        if on_top is None or (first == 0 and on_top == 1):
            assert row == BeatenRow(first, 1)
        else:
            assert row == BeatenRow(first + on_top, 2)
        first += row.picks
