"""The cloth at the fell shows how the ends lie in the reed: crammed, spaced, with empty dents."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby

import numpy as np
import pytest

from companion.draft.facing import FROM_LEFT, FROM_RIGHT
from companion.draft.model import Layout
from companion.draft.sley import Sley
from companion.present.fell import TEXELS, ends_drawn, fell_picture
from companion.weaving.dressing_commands import plan_sley
from companion.weaving.pick_view import this_pick
from tests.weaving.world import AtLoom, lever_draft, lever_warp

SAND, SEA = 0, 1
"""The warp is of sand, and the weft of sea, which has more blue than red."""


def at_loom(*, dents=(), planned=None, **draft):
    """A warp of 12 ends woven for 8 picks, sleyed as its draft says, or as its weaver planned."""
    made = replace(lever_draft([SEA] * 8, ends=12), sley=Sley(dents), **draft)
    loom = AtLoom(lever_warp(made))
    if planned is not None:
        loom.do(plan_sley, sley=Sley(planned))
    loom.weave(8)
    return loom


def drawn(loom, ends=12, facing=FROM_LEFT):
    return fell_picture(loom.warp, loom.progress, this_pick(loom.warp, loom.progress), 8, ends, facing).pixels


def weft_alone(pixels):
    """Tell for each texel across whether no woven pick, below the bare warp on top, shows anything but weft there."""
    woven = pixels[TEXELS:]
    return (woven[:, :, 2] > woven[:, :, 0]).all(axis=0)


def stretches(marks):
    """Where each stretch of marked texels begins, and how wide it is."""
    runs, at = [], 0
    for marked, run in groupby(marks.tolist()):
        width = len(list(run))
        runs += [(at, width)] if marked else []
        at += width
    return runs


def test_ends_that_lie_evenly_are_drawn_as_wide_as_each_other_whatever_is_told_of_them():
    plain = drawn(at_loom())
    for loom in (at_loom(dents=(2,) * 6), at_loom(planned=(3,) * 4), at_loom(warp_layout=Layout((0.1,) * 12))):
        assert np.array_equal(drawn(loom), plain)


@pytest.mark.parametrize("told", ["dents", "planned"])
def test_an_empty_dent_is_a_gap_in_which_only_weft_lies(told):
    loom = at_loom(**{told: (2, 2, 2, 0, 2, 2, 2)})
    pixels = drawn(loom)
    (gap,) = stretches(weft_alone(pixels))
    across = 12 * TEXELS
    assert pixels.shape[1] == across
    # Three of seven dents lie before it, and each takes a seventh of the width.
    assert abs(gap[0] - across * 3 / 7) <= 1
    assert abs(gap[1] - across / 7) <= 2


def test_seen_from_the_other_side_everything_lies_the_other_way_round():
    loom = at_loom(dents=(2, 2, 2, 0, 2, 2, 2))
    assert np.array_equal(drawn(loom, facing=FROM_RIGHT), drawn(loom)[:, ::-1])


def test_crammed_ends_are_narrower_than_spaced_ones_and_of_spaced_ones_fewer_are_drawn():
    loom = at_loom(dents=(1, 1, 1, 1, 4, 4))
    pixels = drawn(loom)
    single, crammed = TEXELS * 2, TEXELS // 2
    assert ends_drawn(loom.warp, loom.progress, 12) == 12
    assert ends_drawn(loom.warp, loom.progress, 4) == 2
    assert pixels.shape[1] == 12 * TEXELS == 4 * single + 8 * crammed
    crammed_part = pixels[:, 4 * single :]
    assert not weft_alone(crammed_part).any()
    assert weft_alone(pixels[:, : 4 * single]).any()


def test_the_plan_of_the_weaver_counts_before_what_the_draft_says():
    loom = at_loom(warp_layout=Layout((0.1,) * 6 + (0.3,) * 6), planned=(2, 2, 2, 0, 2, 2, 2))
    assert np.array_equal(drawn(loom), drawn(at_loom(dents=(2, 2, 2, 0, 2, 2, 2))))


def test_a_plan_for_other_ends_is_not_drawn():
    assert np.array_equal(drawn(at_loom(dents=(2, 0, 2))), drawn(at_loom()))
