"""The proof refuses what weaves other cloth, and feet that cannot stand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.masks import Shed, is_raised, shed_of, with_shaft
from companion.remap.loom.loom import Action, Footing, Loom, Tie
from companion.remap.proof import ProofFailedError, check_feet, raised_by, weaves_the_draft
from companion.remap.remapping import remap
from tests.draft.drafts import draft_of

DRAFT = draft_of(threading=[1, 2, 3, 4], plan=[[1], [1, 2, 3], [2], [2, 3, 4], [1, 2, 4], [3], [4]])


@pytest.mark.parametrize("action", [Action.RISING, Action.SINKING, Action.COUNTERMARCHE])
def test_a_cord_more_or_less_on_any_used_treadle_is_found_out(action):
    loom = Loom(4, 8, action)
    answer = remap(DRAFT, loom)
    used = {treadle for feet in answer.footings for treadle in feet.left + feet.right}
    found_out = 0
    for treadle in used:
        for shaft in range(4):
            tie = answer.tieup[treadle]
            if action is Action.SINKING:
                wrong = replace(tie, down=with_shaft(tie.down, shaft, not is_raised(tie.down, shaft)))
            else:
                wrong = replace(tie, up=with_shaft(tie.up, shaft, not is_raised(tie.up, shaft)))
            tieup = (*answer.tieup[:treadle], wrong, *answer.tieup[treadle + 1 :])
            try:
                assert not weaves_the_draft(DRAFT, loom, tieup, answer.footings)
            except ProofFailedError:
                assert action is Action.COUNTERMARCHE
            found_out += 1
    assert found_out == 4 * len(used)


def test_two_picks_exchanged_are_found_out():
    loom = Loom(4, 8)
    answer = remap(DRAFT, loom)
    feet = list(answer.footings)
    feet[0], feet[1] = feet[1], feet[0]
    assert weaves_the_draft(DRAFT, loom, answer.tieup, answer.footings)
    assert not weaves_the_draft(DRAFT, loom, answer.tieup, feet)
    assert not weaves_the_draft(DRAFT, loom, answer.tieup, answer.footings, face_down=True)
    assert not weaves_the_draft(DRAFT, loom, answer.tieup, [*answer.footings, answer.footings[0]])


@pytest.mark.parametrize(
    ("footing", "reach"),
    [
        (Footing(left=(0, 1)), 1),
        (Footing(left=(0, 2)), 2),
        (Footing(left=(2,), right=(1,)), 1),
        (Footing(left=(1,), right=(1,)), 1),
        (Footing(right=(4,)), 1),
        (Footing(right=(3, 4)), 2),
        (Footing(left=(1, 0)), 2),
    ],
)
def test_feet_that_cannot_stand_so_are_refused(footing, reach):
    with pytest.raises(ProofFailedError):
        check_feet([Footing(left=(0,)), footing], 4, reach)


def test_a_countermarche_shaft_without_a_clear_way_is_refused():
    undriven = (Tie(up=shed_of([1]), down=shed_of([2])),)
    both_ways = (Tie(up=shed_of([1, 2]), down=shed_of([2])),)
    for tieup in (undriven, both_ways):
        with pytest.raises(ProofFailedError):
            raised_by(tieup, [Footing(left=(0,))], 3 if tieup is undriven else 2, Action.COUNTERMARCHE)


def test_no_treadle_raises_nothing_and_sinks_nothing():
    assert not raised_by((Tie(up=Shed(1)),), [Footing()], 2, Action.RISING).any()
    assert raised_by((Tie(down=Shed(1)),), [Footing()], 2, Action.SINKING).all()
