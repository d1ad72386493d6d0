"""What is told of a new warp: one fact at a touch, within its bounds, and left out again without a trace."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.masks import complement
from companion.draft.model import Layout, Lifted
from companion.draft.reading import read_draft
from companion.draft.units import Units
from companion.present.asking import Answered, Asked
from companion.present.new_warp import (
    DIALS,
    Fact,
    Lookup,
    NewPiece,
    NewWarp,
    WeaveNew,
    ask_new_warp,
    fact_words,
)
from companion.present.piece_feet import ALL_SAME, FEET_DIFFER, FEET_SAME, ask_feet
from companion.remap.aim import Aim
from companion.remap.loom.loom import Loom
from companion.remap.pieces import plan_pieces
from companion.remap.remapping import remap
from companion.remap.same_feet import SameFeet, plan_same_feet
from companion.weaving.warp import LoomProfile
from companion.workshop.places import asset
from tests.screens.warps import twill_draft

LOOM = LoomProfile("Floor loom", Loom(4, 6), weaving_width_cm=90, loom_waste_cm=45)


def _nothing(*_):
    return ""


LOOKUP = Lookup(Units.METRIC, lambda _warp, problem: Asked(problem, ()), *[_nothing] * 6)


def turned(draft):
    """The same picks with the other shafts up."""
    return Lifted(tuple(complement(shed, draft.shafts) for shed in draft.sheds()))


def new_warp(pieces=1, **told):
    draft = twill_draft()
    piece = NewPiece("Towel", draft, remap(draft, LOOM.loom))
    return NewWarp("Towel", LOOM, (piece,) * pieces, {Fact[name]: value for name, value in told.items()})


def follow(asked, *words):
    for word in words:
        (answer,) = (answer for answer in (*asked.answers, *asked.pad, *asked.foot) if answer.words == word)
        asked = answer.leads_to()
    return asked


def details(asked):
    return {answer.words: answer.detail for answer in asked.answers}


def test_nothing_is_told_at_first_but_what_the_loom_says():
    shown = details(ask_new_warp(new_warp(), LOOKUP))
    assert shown.pop("Loom waste") == "45 cm"
    assert shown.pop("Laid in at each pick") == "none"
    assert set(shown.values()) == {"not set"}


def test_picks_per_cm_that_the_drafts_say_are_shown_as_theirs():
    warp = new_warp(pieces=2)
    first, second = warp.pieces
    dense = replace(first.draft, weft_layout=Layout(spacing_cm=(0.125,) * first.draft.picks))
    shown = [
        details(ask_new_warp(replace(warp, pieces=pieces), LOOKUP))["Picks per cm"]
        for pieces in (
            (first, second),
            (replace(first, draft=dense), replace(second, draft=dense)),
            (replace(first, draft=dense), second),
        )
    ]
    assert shown == ["not set", "8", "as drafted"]


def test_weave_it_is_one_touch_with_what_was_told():
    asked = ask_new_warp(new_warp(), LOOKUP)
    assert asked.main.words == "Weave it"
    end = follow(asked, "Take-up", "1", "4", "Done", "Weave it")
    assert end == Answered(WeaveNew(new_warp(TAKE_UP=14)))


@pytest.mark.parametrize("fact", Fact)
def test_no_fact_leaves_its_bounds_however_often_a_key_is_touched(fact):
    dial = DIALS[fact]
    asked = follow(ask_new_warp(new_warp(pieces=2), LOOKUP), fact_words(fact, Units.METRIC), *"9" * 12)
    told = follow(asked, "Done", "Weave it").result.warp.told
    assert told[fact] == float("9" * len(f"{told[fact]:g}")) <= dial.most < 10 * told[fact] + 9


def test_a_fact_that_is_left_out_is_not_told_any_more():
    asked = ask_new_warp(new_warp(LENGTH=300, FRINGE=20), LOOKUP)
    assert follow(asked, "Warp wound", "Leave it out", "Weave it").result.warp.told == {Fact.FRINGE: 20}


def test_the_warp_between_pieces_is_asked_for_where_there_are_two():
    assert "Between pieces" not in details(ask_new_warp(new_warp(), LOOKUP))
    assert "Between pieces" in details(ask_new_warp(new_warp(pieces=2), LOOKUP))


def test_both_ways_to_weave_the_pieces_are_asked_for_with_what_they_come_to():
    drafts = [read_draft(asset(f"drafts/diversified-plain-weave-four-shaft-{n}.txt").read_bytes()) for n in (1, 4)]
    profile = replace(LOOM, loom=Loom(4, 8))
    plans = plan_pieces(drafts, profile.loom), plan_same_feet(drafts, profile.loom)
    own, same = (
        NewWarp(
            "Mats",
            profile,
            tuple(
                NewPiece(f"mat {piece}", drafts[piece], answer)
                for piece, answer in zip(plan.order, plan.answers, strict=True)
            ),
            {},
            same_feet=isinstance(plan, SameFeet),
        )
        for plan in plans
    )
    assert details(ask_new_warp(own, LOOKUP))["Feet"] == "they differ"
    assert details(ask_new_warp(same, LOOKUP))["Feet"] == "the same in every piece"
    asked = ask_feet(own, same, "", LOOKUP)
    assert details(asked) == {
        FEET_DIFFER: "2 treadlings, no tie changes between them",
        FEET_SAME: f"1 treadling, {plans[1].cords} ties change between them",
    }
    assert asked.lines == (f"{FEET_DIFFER}: one foot at every pick", f"{FEET_SAME}: one foot at every pick")
    assert follow(asked, FEET_SAME, "Weave it").result.warp == same
    alone = ask_feet(own, None, "The same feet need at least 9 treadles", LOOKUP)
    assert list(details(alone)) == [FEET_DIFFER]
    assert alone.lines == ("The same feet need at least 9 treadles",)


def test_pieces_that_have_the_same_feet_anyhow_are_not_said_to_differ_and_have_one_way():
    warp = new_warp(pieces=2)
    assert details(ask_new_warp(warp, LOOKUP))["Feet"] == "the same in every piece"
    for same in (None, replace(warp, same_feet=True)):
        asked = ask_feet(warp, same, "The same feet need at least 9 treadles", LOOKUP)
        assert details(asked) == {ALL_SAME: "1 treadling, no tie changes between them"}
        assert asked.lines == (f"{ALL_SAME}: one foot at every pick",)
        # A piece that is added is to have these feet too.
        assert follow(asked, ALL_SAME, "Weave it").result.warp.same_feet


def test_the_same_feet_on_other_tie_ups_are_called_so_and_the_way_with_fewer_cords_is_offered():
    draft = twill_draft()
    first = new_warp().pieces[0]
    drafted = replace(draft, lifting=turned(draft))
    other = remap(drafted, LOOM.loom, present=first.answer.tieup, aim=Aim.FEET)
    stage = replace(other.stages[0], footings=first.answer.stages[0].footings)
    (dear, cheap) = (replace(stage, changes=stage.changes[:many]) for many in (2, 1))
    own, same = (
        replace(new_warp(), pieces=(first, NewPiece("Napkin", draft, replace(other, stages=(one,)))))
        for one in (dear, cheap)
    )
    assert own.pieces[1].cords > same.pieces[1].cords > 0
    asked = ask_feet(own, same, "", LOOKUP)
    assert details(asked)[FEET_SAME].startswith(f"1 treadling, {same.pieces[1].cords} tie")
    assert len(asked.answers) == 1
