"""What the weave screen says, without a window."""

from __future__ import annotations

from companion.draft.units import Units
from companion.present.weave import weave_signs
from companion.weaving.onward import onward
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import begin
from tests.present.test_trade_words import lever_warp, woven
from tests.screens.warps import TWILL, twill_warp
from tests.weaving import world


def signs_at(warp, progress):
    return weave_signs(warp, progress, this_pick(warp, progress), Units.METRIC)


def test_a_loom_without_treadles_says_which_levers_to_set_at_every_pick():
    warp = lever_warp()
    for pick in range(12):
        signs = signs_at(warp, woven(warp, *[onward] * pick))
        assert signs.levers == " ".join(str(shaft) for shaft in sorted(TWILL[pick % 4]))


def test_a_loom_with_treadles_and_a_finished_piece_have_no_levers_to_set():
    warp = twill_warp()
    assert signs_at(warp, begin(warp)).levers == ""
    warp = lever_warp()
    assert signs_at(warp, woven(warp, *[onward] * 12)).levers == ""


def test_the_yarn_that_comes_next_is_shown_where_it_is_another_one():
    loom = world.AtLoom(world.lever_warp(world.lever_draft([0, 0, 1, 1, 2])))
    yarns = loom.warp.pieces[0].draft.yarns
    shown = []
    for _ in range(5):
        shown.append(signs_at(loom.warp, loom.progress).following_yarn)
        loom.weave(1)
    assert shown == [None, yarns[1].colour, None, yarns[2].colour, None]
