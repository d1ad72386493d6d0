"""What is planned of a draft stands in the warp that is made from it, and the draft is made as wide as the plan."""

from __future__ import annotations

import pytest

from companion.draft.masks import shed_of
from companion.draft.units import Units
from companion.present.asking import Answered
from companion.present.new_warp import Fact, NewPiece, NewWarp, ask_new_warp
from companion.present.pieces_kept import in_this_order, stays_as_woven
from companion.present.plan_cloth import SHOW, ask_plan
from companion.present.plan_width import AS_IT_IS, SO_WIDE, ask_width_first
from companion.present.planned_warp import planned_warp
from companion.remap.loom.cords import cord_changes
from companion.remap.loom.loom import Loom, Tie
from companion.remap.remapping import remap
from companion.weaving import decide
from companion.weaving.cloth_plan import ClothWished, PlanFact, plan_cloth
from companion.weaving.state import re_tie_due
from companion.weaving.warp import LoomProfile
from companion.workshop.dressing import dress
from companion.workshop.new_warp import measures_of
from tests.present.test_new_warp import LOOKUP
from tests.present.test_plan_cloth import follow, rows
from tests.screens.warps import twill_draft
from tests.weaving.world import AtLoom

LOOM = Loom(4, 4)
TOLD = {
    PlanFact.WIDTH: 45.0,
    PlanFact.LENGTH: 90.0,
    PlanFact.SETT: 6.0,
    PlanFact.REED: 4.0,
    PlanFact.PIECES: 3.0,
    PlanFact.TAKE_UP: 10.0,
    PlanFact.DRAW_IN: 0.0,
    PlanFact.SHRINKAGE: 10.0,
    PlanFact.SHRINKAGE_WIDTH: 10.0,
    PlanFact.WASTE: 60.0,
    PlanFact.FRINGE: 20.0,
}


def made(told=TOLD, loom=LOOM, face_down=False, present=None):
    draft = twill_draft()
    answer = remap(draft, loom, face_down=face_down, present=present)
    warp = NewWarp("Towel", LoomProfile("loom", loom, present=present), (NewPiece("Towel", draft, answer),), {})
    return planned_warp(warp, plan_cloth(ClothWished(told, {}, draft=draft)))


def dressed_of(warp):
    answers, drafts = ([getattr(piece, what) for piece in warp.pieces] for what in ("answer", "draft"))
    return dress("Towel", drafts, warp.profile, answers, re_tie=True, measures=measures_of(warp))


def test_measures_dents_and_pieces_go_into_the_warp_as_they_are_planned():
    """By hand: 90 / 0.9 is 100 cm woven; 3 x (100 / 0.9 + 20) + 60 of warp; the ends of the draft at 6 per cm."""
    warp = made()
    ends = warp.pieces[0].draft.ends
    assert warp.told == pytest.approx(
        {
            Fact.LENGTH: 3 * (100 / 0.9 + 20) + 60,
            Fact.PICKS_PER_CM: 6.0,
            Fact.PIECE: 100.0,
            Fact.TAKE_UP: 10.0,
            Fact.SHRINKAGE: 10.0,
            Fact.WIDTH: ends / 6,
            Fact.WASTE: 60.0,
            Fact.FRINGE: 20.0,
        }
    )
    sley = warp.pieces[0].draft.sley
    assert (sley.dents[:4], sley.ends, sley.reed_per_cm) == ((1, 2, 1, 2), ends, 4.0)
    assert len(warp.pieces) == 3
    assert [piece.cords for piece in warp.pieces[1:]] == [0, 0]


def test_it_can_be_woven_and_the_pieces_have_their_length():
    dressed = dressed_of(made())
    assert [piece.length_cm for piece in dressed.pieces] == pytest.approx([100.0] * 3)
    assert dressed.width_cm == pytest.approx(dressed.pieces[0].draft.ends / 6)


@pytest.mark.parametrize("present", [None, (Tie(up=shed_of([1, 3])), Tie(), Tie())])
@pytest.mark.parametrize(("treadles", "face_down"), [(4, True), (2, False), (2, True)])
def test_every_planned_piece_comes_where_the_draft_is_tied_anew_or_woven_face_down(treadles, face_down, present):
    """2/2 twill has four sheds; on two treadles, both pressed at most, it is tied anew within each piece."""
    present = present and present[:treadles]
    warp = made(loom=Loom(4, treadles), face_down=face_down, present=present)
    stops = warp.pieces[0].stops
    assert (stops > 0) == (treadles == 2)
    assert [(piece.stops, piece.answer.face_down) for piece in warp.pieces] == [(stops, face_down)] * 3
    # What is tied before each piece, and at each stop, told again from the tie-ups alone.
    tied = present
    for piece in warp.pieces:
        for stage in piece.answer.stages:
            assert stage.changes == (None if tied is None else cord_changes(tied, stage.tieup))
            tied = stage.tieup
    loom = AtLoom(dressed_of(warp))
    for piece in loom.warp.pieces:
        assert piece.face_down == face_down
        assert piece.footings == warp.pieces[0].answer.footings
    for number in range(3):
        for pick in range(loom.warp.pieces[number].picks):
            if re_tie_due(loom.warp, loom.progress.now) is not None:
                loom.do(decide.re_tie)
            assert (loom.progress.now.piece, loom.progress.now.next_pick) == (number, pick)
            loom.weave(1)
        loom.do(decide.finish_piece)
        if number < 2:
            loom.do(decide.start_piece)
    assert loom.progress.now.finished


def test_a_piece_that_is_left_out_or_added_leaves_the_others_face_down_and_tied_as_they_are():
    warp = made(loom=Loom(4, 2), face_down=True)
    assert stays_as_woven(warp)
    fewer = in_this_order(warp, warp.pieces[1:])
    assert [piece.answer.face_down for piece in fewer.pieces] == [True] * 2
    assert fewer.pieces[0].cords is None
    more = in_this_order(fewer, (*fewer.pieces, fewer.pieces[0]))
    assert [piece.cords for piece in more.pieces[1:]] == [warp.pieces[1].cords] * 2
    assert dressed_of(more).pieces[2].face_down


def test_pieces_that_lie_face_down_are_not_asked_for_other_feet():
    rows = {answer.words for answer in ask_new_warp(made(face_down=True), LOOKUP).answers}
    assert "3 pieces" in rows
    assert "Feet" not in rows


def test_what_the_weaver_tells_of_the_warp_stays_over_the_plan():
    draft = twill_draft()
    piece = NewPiece("Towel", draft, remap(draft, LOOM))
    warp = NewWarp("Towel", LoomProfile("loom", LOOM), (piece,), {Fact.WIDTH: 12.0})
    assert planned_warp(warp, plan_cloth(ClothWished(TOLD, {}, draft=draft))).told[Fact.WIDTH] == 12.0


def test_a_draft_that_is_narrower_than_its_plan_is_asked_about_before_it_goes_on_a_loom():
    wished = ClothWished(TOLD, {}, draft=twill_draft())
    asked = ask_width_first(wished, Units.METRIC)
    assert follow(asked, AS_IT_IS) == Answered(wished)
    wide = follow(asked, "As planned").result
    assert wide.draft.ends == 300
    assert ask_width_first(wide, Units.METRIC) is None
    assert ask_width_first(ClothWished({}, {}, draft=twill_draft()), Units.METRIC) is None


@pytest.mark.parametrize(("row", "ends", "width"), [("As planned", 300, 45.0), ("12 repeats", 288, 43.2)])
def test_the_draft_is_made_as_wide_as_the_plan_or_in_whole_repeats(row, ends, width):
    """By hand: 45 / 0.9 at 6 per cm are 300 ends, 12 times 24 and 12 more."""
    draft = twill_draft()
    assert draft.ends == 24
    kept = []
    asked = ask_plan(ClothWished(TOLD, {}, draft=draft), "Plan towel", Units.METRIC, kept.append)
    wide = follow(asked, SHOW, SO_WIDE)
    assert rows(wide)["12 repeats"] == "288 ends; finished 43.2 cm wide"
    after = follow(wide, row)
    assert kept[-1].draft.ends == ends
    assert kept[-1].told[PlanFact.WIDTH] == pytest.approx(width)
    assert SO_WIDE not in {answer.words for answer in follow(after, SHOW).foot}
