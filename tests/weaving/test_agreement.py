"""Where plan and draft contradict each other, and that what counts then is what is said to count."""

from __future__ import annotations

from dataclasses import replace

from companion.draft.model import Layout
from companion.weaving.agreement import LengthDisagrees, PicksDisagree, plan_notes
from companion.weaving.amounts import planned_cm
from companion.weaving.yarn_needs import weft_planned
from tests.weaving.world import lever_draft, lever_warp


def all_alike(length_cm, picks_per_cm=2.0, weft=(0, 0, 1)):
    """One piece of three picks, planned to a length."""
    return lever_warp(lever_draft(weft), picks_per_cm=picks_per_cm, length_cm=length_cm)


def spaced(spacing_cm, **more):
    """Ten picks whose draft spaces them so."""
    draft = replace(lever_draft([0] * 10), weft_layout=Layout(spacing_cm=(spacing_cm,) * 10))
    return lever_warp(draft, **more)


def test_a_weft_spacing_and_a_planned_length_that_contradict_are_told_of():
    # Ten picks 0.5 cm apart are 5 cm.
    assert plan_notes(spaced(0.5, length_cm=5.5)) == ()
    warp = spaced(0.5, length_cm=20.0)
    assert plan_notes(warp) == (LengthDisagrees(0, 20.0, 5.0),)
    assert weft_planned(warp, 0)[0].picks == 40


def test_picks_per_cm_that_contradict_the_spacing_of_the_draft_are_told_of():
    assert plan_notes(spaced(0.5, picks_per_cm=5.0)) == (PicksDisagree(0, 5.0, 2.0),)
    assert planned_cm(spaced(0.5, picks_per_cm=5.0).pieces[0]) == 2.0
    assert plan_notes(spaced(0.5, picks_per_cm=2.02)) == plan_notes(spaced(0.5)) == ()


def test_a_length_beside_the_treadling_is_told_of_for_the_pieces_asked_about():
    assert plan_notes(all_alike(30.0)) == (LengthDisagrees(0, 30.0, 1.5),)
    assert plan_notes(all_alike(30.0, None)) == (LengthDisagrees(0, 30.0, None),)
    assert plan_notes(all_alike(1.0, weft=(0,) * 9)) == (LengthDisagrees(0, 1.0, 4.5),)
    assert plan_notes(all_alike(2.0)) == plan_notes(all_alike(30.0), first=1) == ()
