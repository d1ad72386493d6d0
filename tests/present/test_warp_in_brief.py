"""A warp in a line of the list: how far it is, by hand, and when it was woven on last."""

from __future__ import annotations

from companion.present.warp_in_brief import warp_in_brief
from companion.weaving import decide
from tests.weaving.world import AtLoom, lever_draft, lever_warp


def test_it_says_the_pick_that_is_next_and_what_is_woven():
    loom = AtLoom(lever_warp(lever_draft([0, 1]), lever_draft([2, 2])))

    def told(dressing=""):
        return warp_in_brief(loom.warp, loom.progress, loom.progress.now.at_ms + 3 * 86_400_000, dressing)

    assert told() == "not begun · small loom"
    loom.weave(1)
    assert told() == "piece 1 of 2, pick 2 of 2 · 3 days ago · small loom"
    assert told("threading 3 of 8") == "threading 3 of 8 · 3 days ago · small loom"
    loom.weave(1)
    assert told() == "piece 1 of 2, all woven · 3 days ago · small loom"
    loom.do(decide.finish_piece)
    loom.do(decide.start_piece)
    assert told() == "piece 2 of 2, pick 1 of 2 · 3 days ago · small loom"
    loom.weave(2)
    loom.do(decide.finish_piece)
    assert told() == "all woven · 3 days ago · small loom"
