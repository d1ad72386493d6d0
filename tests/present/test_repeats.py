"""Where a pick stands in the repeats, in words."""

from __future__ import annotations

from companion.present.repeats import Repeats, repeat_words
from companion.weaving.pick_view import this_pick
from tests.weaving.world import AtLoom, lever_draft, lever_warp


def test_the_fourth_repeat_and_its_third_pick():
    loom = AtLoom(lever_warp(lever_draft([0, 0, 1, 2] * 6), lever_draft([0, 1, 2])))
    loom.weave(3 * 4 + 2)
    repeats = Repeats(loom.warp)
    assert repeat_words(repeats.of(this_pick(loom.warp, loom.progress))) == "repeat 4 of 6, pick 3 of 4"


def test_what_is_not_repeated_has_no_words():
    loom = AtLoom(lever_warp(lever_draft([0, 1, 2])))
    assert repeat_words(Repeats(loom.warp).of(this_pick(loom.warp, loom.progress))) == ""
