"""What the cords screen says: treadle by treadle, in the words for this loom's action."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.masks import NO_SHAFT, shed_of
from companion.present.cautions import TYING_CAUTION
from companion.present.cords import (
    ALL_TIED,
    REST_TIED,
    TIED_ALREADY,
    cord_signs,
    under_treadle_words,
)
from companion.remap.loom.cords import CordChange
from companion.remap.loom.loom import Action
from companion.weaving.decide import accept_tie_up, re_tie, tie_treadle
from companion.weaving.dressing_events import DressingTask
from companion.weaving.dressing_way import DressingWay
from tests.weaving.world import AtLoom, lever_draft, lever_warp, two_stage_warp


def test_an_unknown_tie_up_is_tied_from_nothing():
    loom = AtLoom(two_stage_warp())
    loom.do(accept_tie_up)
    signs = cord_signs(loom.warp, loom.progress)
    assert [(row.number, row.untie, row.tie, row.done) for row in signs.rows] == [
        ("1", "", "tie 1 2", False),
        ("2", "", "tie 2 3", False),
    ]
    assert signs.detail == "4 ties at 2 treadles to make; take off first what hangs there"
    assert (signs.tied, signs.caution) == (TIED_ALREADY, TYING_CAUTION)


def test_between_stages_the_list_says_what_comes_off_and_what_goes_on_and_what_is_left():
    loom = AtLoom(two_stage_warp())
    loom.weave(4)
    signs = cord_signs(loom.warp, loom.progress)
    assert signs.headline == "Tie stage 2 of 2"
    assert [(row.untie, row.tie) for row in signs.rows] == [("untie 1 2", "tie 3 4"), ("untie 2 3", "tie 1 4")]
    loom.do(tie_treadle, 1)
    signs = cord_signs(loom.warp, loom.progress)
    assert [row.done for row in signs.rows] == [False, True]
    assert (signs.detail, signs.tied, signs.complete) == ("4 ties at 1 treadle to go", REST_TIED, False)
    loom.do(tie_treadle, 0)
    signs = cord_signs(loom.warp, loom.progress)
    assert (signs.detail, signs.tied, signs.complete) == ("every treadle is tied", ALL_TIED, True)
    # While the loom is dressed the weaving does not come next.
    then = DressingWay().after(loom.warp, loom.progress, DressingTask.TIE_UP)
    assert cord_signs(loom.warp, loom.progress, then).tied == "Tied: on to winding"
    loom.do(re_tie)
    assert cord_signs(loom.warp, loom.progress).rows == ()


def test_levers_have_no_cords():
    loom = AtLoom(lever_warp(lever_draft([0])))
    assert cord_signs(loom.warp, loom.progress) is None


@pytest.mark.parametrize(
    ("action", "words"),
    [
        (Action.RISING, "untie 1 3; tie 2"),
        (Action.COUNTERMARCHE, "untie 1 3 up; tie 2 up, 1 3 down"),
    ],
)
def test_only_a_countermarche_says_which_way_a_cord_pulls(action, words):
    change = CordChange(0, shed_of([1, 3]), NO_SHAFT, shed_of([2]), NO_SHAFT)
    if action is Action.COUNTERMARCHE:
        change = replace(change, tie_down=shed_of([1, 3]))
    assert under_treadle_words(change, action) == words


def test_a_sinking_loom_ties_the_shafts_that_sink():
    change = CordChange(2, NO_SHAFT, shed_of([4]), NO_SHAFT, shed_of([1]))
    assert under_treadle_words(change, Action.SINKING) == "untie 4; tie 1"
