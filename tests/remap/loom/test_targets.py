"""What a pick asks of its treadles: checked by pulling, shaft by shaft, on every loom of three shafts."""

import pytest

from companion.draft.masks import NO_SHAFT, Shed, pulls, pulls_down, pulls_up, shed_of
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Action, Tie
from companion.remap.loom.targets import targets_of, tie_of
from tests.remap.opening import shed_opened

TREADLED = (Action.RISING, Action.SINKING, Action.COUNTERMARCHE)


@pytest.mark.parametrize("action", TREADLED)
def test_a_treadle_that_is_the_target_opens_the_shed(action):
    for shed in map(Shed, range(8)):
        (target,) = targets_of([shed], 3, action)
        tieup = (tie_of(target, 3, action),)
        assert shed_opened(tieup, (0,), 3, action) == {s for s in (1, 2, 3) if shed_of([s]) & shed}


def test_ties_go_the_way_of_the_loom():
    assert targets_of([shed_of([1, 3])], 4, Action.SINKING) == (0b1010,)
    assert tie_of(0b1010, 4, Action.RISING) == Tie(up=shed_of([2, 4]))
    assert tie_of(0b1010, 4, Action.SINKING) == Tie(down=shed_of([2, 4]))
    assert tie_of(0b1000_0001, 4, Action.COUNTERMARCHE) == Tie(up=shed_of([1]), down=shed_of([4]))


def test_pulls_keep_both_ways_apart():
    pulled = pulls(shed_of([1, 4]), shed_of([2]), 4)
    assert (pulls_up(pulled, 4), pulls_down(pulled, 4)) == (shed_of([1, 4]), shed_of([2]))


def test_only_a_countermarche_presses_for_the_shed_with_every_shaft_down():
    assert targets_of([NO_SHAFT], 2, Action.RISING) == (0,)
    assert targets_of([Shed(0b11)], 2, Action.SINKING) == (0,)
    assert targets_of([NO_SHAFT], 2, Action.COUNTERMARCHE) == (0b1100,)


def test_levers_have_no_treadles():
    with pytest.raises(RemapError, match="levers"):
        targets_of([NO_SHAFT], 2, Action.LEVERS)
