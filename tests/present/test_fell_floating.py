"""Floating selvedges at the fell: the shuttle goes in over the one and comes out under the other, as in the cloth."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from companion.draft.cloth import Surface
from companion.draft.facing import FROM_LEFT, FROM_RIGHT
from companion.draft.model import LaidIn, Layout, Section
from companion.draft.selvedge import goes_under
from companion.present.fell import TEXELS, fell_picture, rows_picture
from companion.weaving.decide import take_out
from companion.weaving.pick_view import rows_at_fell, this_pick
from companion.weaving.telling import tell_sides
from tests.weaving.world import AtLoom, lever_draft, lever_warp

SEA = 1
"""The warp is of sand, and the weft of sea, which has more blue than red."""
BELOW = (False, False)
LEAVES_AT_RIGHT, LEAVES_AT_LEFT = (False, True), (True, False)


def at_loom(picks=6, **draft):
    """Woven with one shuttle, which begins at the right, over eight ends between two floating selvedges."""
    threading = (None, *(end % 4 for end in range(8)), None)
    loom = AtLoom(lever_warp(replace(lever_draft([SEA] * 12, ends=10), threading=threading, **draft)))
    loom.weave(picks)
    return loom


def edges_on_top(loom, facing=FROM_LEFT, surface=Surface.FACE):
    """Tell of the next pick and each below it whether the end at the left edge lies on top, and that at the right."""
    view = this_pick(loom.warp, loom.progress)
    pixels = fell_picture(loom.warp, loom.progress, view, 12, 10, facing, surface).pixels
    rows = pixels[TEXELS // 2 :: TEXELS][: loom.now.cloth.picks + 1].astype(int)
    warp_shows = rows[:, :, 0] > rows[:, :, 2]
    return [(bool(row[:4].any()), bool(row[-4:].any())) for row in warp_shows]


@pytest.mark.parametrize("facing", [FROM_LEFT, FROM_RIGHT])
@pytest.mark.parametrize("spacing", [(), (0.1,) * 5 + (0.2,) * 5])
def test_the_end_where_the_shuttle_enters_lies_below_and_that_where_it_leaves_on_top(facing, spacing):
    loom = at_loom(warp_layout=Layout(spacing))
    # From pick 7, which is next, down to the first, which came from the right and left at the left.
    assert edges_on_top(loom, facing) == [LEAVES_AT_LEFT, LEAVES_AT_RIGHT] * 3 + [LEAVES_AT_LEFT]


def test_on_the_back_the_other_thread_is_seen_at_both_edges():
    loom = at_loom()
    back = edges_on_top(loom, surface=Surface.BACK)
    assert back == [(not left, not right) for left, right in edges_on_top(loom)]


def test_the_rows_that_stay_are_drawn_as_before_when_the_newest_is_out():
    loom = at_loom()
    before = edges_on_top(loom)
    loom.do(take_out)
    assert edges_on_top(loom) == before[1:]


def test_beside_a_question_the_cloth_at_the_fell_is_drawn_with_the_same_edges():
    loom = at_loom()
    rows = rows_at_fell(loom.warp, loom.progress, 6)
    picks, came_from = [row.pick for row in rows], [row.came_from for row in rows]
    view = this_pick(loom.warp, loom.progress)
    at_fell = fell_picture(loom.warp, loom.progress, view, 7, 10, FROM_LEFT).pixels
    beside = rows_picture(loom.warp, loom.progress, picks, 6, 10, FROM_LEFT, came_from=came_from).pixels
    assert np.array_equal(beside, at_fell[TEXELS:])


def test_where_nobody_knows_the_side_no_edge_is_drawn_on_top():
    loom = at_loom()
    loom.do(tell_sides, unknown=(SEA,))
    assert edges_on_top(loom) == [BELOW] * 7
    loom.do(tell_sides, right=(SEA,))
    # The shuttle lies at the right: there it left the newest pick, and from there comes the next.
    assert edges_on_top(loom)[:2] == [LEAVES_AT_LEFT, LEAVES_AT_RIGHT]


def test_what_is_laid_in_passes_no_selvedge():
    loom = at_loom(sections=(Section("Mat", 12, laid_in=(LaidIn(SEA),)),))
    assert edges_on_top(loom) == [BELOW] * 7


@pytest.mark.parametrize("facing", [FROM_LEFT, FROM_RIGHT])
def test_one_floating_selvedge_alone_is_passed_like_one_of_two(facing):
    one = replace(lever_draft([SEA]), threading=(None, 0, 1, 2, 3, 0, 1, 2))
    assert goes_under(one, facing.first_end, facing) == ()
    assert goes_under(one, facing.first_end.opposite, facing) == (0,)
