"""The line of amounts on the weave screen: what is left, and early what will not reach."""

from __future__ import annotations

from dataclasses import replace

from companion.present.wording import amounts_words
from companion.weaving import decide
from companion.weaving.warp import Winding
from tests.weaving.world import AtLoom, lever_draft, lever_warp


def test_the_weaver_sees_early_for_which_piece_the_warp_is_short():
    # Three pieces of 10 cm with 2 cm of fringe take 36 cm of warp.
    warp = lever_warp(*[lever_draft([0] * 20)] * 3, picks_per_cm=2.0, fringe_cm=2.0)
    loom = AtLoom(replace(warp, winding=Winding(40.0)))
    loom.weave(2)
    assert amounts_words(loom.warp, loom.progress) == "39 cm of warp left"
    loom.do(decide.measure, 2.0)
    assert amounts_words(loom.warp, loom.progress) == "warp 6 cm short for piece 3"
