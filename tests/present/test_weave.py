"""What the weave screen says, without a window."""

from __future__ import annotations

from companion.draft.units import Units
from companion.present.weave import weave_signs
from companion.weaving.onward import onward
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import begin
from tests.present.test_trade_words import lever_warp, woven
from tests.screens.warps import TWILL, twill_warp


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
