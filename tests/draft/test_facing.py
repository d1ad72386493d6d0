"""Ends are counted from either side, whichever side the first one lies on."""

from __future__ import annotations

import pytest

from companion.draft.facing import FROM_LEFT, FROM_RIGHT, Facing, FirstPick, Side


@pytest.mark.parametrize("ends", [1, 2, 7])
def test_an_end_is_the_same_counted_from_either_side_and_as_it_lies(ends):
    for facing in (FROM_LEFT, FROM_RIGHT):
        as_they_lie = list(range(ends))[facing.from_left]
        for place, end in enumerate(as_they_lie):
            assert facing.end_from(Side.LEFT, place + 1, ends) == end
            assert facing.end_from(Side.RIGHT, ends - place, ends) == end


def test_picks_lie_from_the_top_or_from_the_bottom():
    assert "123"[Facing(Side.LEFT, FirstPick.ON_TOP).from_top] == "123"
    assert "123"[Facing(Side.LEFT, FirstPick.AT_BOTTOM).from_top] == "321"
