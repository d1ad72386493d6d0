"""A warp that does not fit together is refused in one line that says how to mend it."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.laying_in import Weft
from companion.draft.masks import Shed, complement
from companion.draft.model import Draft, Layout, Lifted, Section
from companion.remap.loom.loom import Loom
from companion.weaving.errors import WeavingError
from companion.weaving.warp import LoomProfile, Piece, Stage, Warp, Winding, YarnSize
from tests.weaving.world import LEVERS, TWILL, lever_draft, lever_warp, two_stage_warp


def other_threading():
    draft = lever_draft([0, 0])
    return replace(draft, threading=(3, *draft.threading[1:]))


def test_pieces_of_one_warp_share_its_threading():
    with pytest.raises(WeavingError, match="threaded differently"):
        lever_warp(lever_draft([0]), other_threading())


@pytest.mark.parametrize(
    ("make", "line"),
    [
        (lambda: Warp("w", LEVERS, ()), "has no piece"),
        (lambda: Warp("w", LoomProfile("l", Loom(3, 4)), two_stage_warp().pieces), "needs 4 shafts"),
        (lambda: Warp("w", LoomProfile("l", Loom(4, 1)), two_stage_warp().pieces), "ties 2 treadles"),
        (lambda: Warp("w", LoomProfile("l", Loom(4, 4)), (Piece("p", lever_draft([0])),)), "has no footings"),
        (
            lambda: replace(two_stage_warp().pieces[0], footings=two_stage_warp().pieces[0].footings[:3]),
            "3 footings",
        ),
        (lambda: replace(two_stage_warp().pieces[0], stages=(Stage(0, 2, ()), Stage(4, 7, ()))), "gap or overlap"),
        (lambda: replace(two_stage_warp().pieces[0], stages=(Stage(0, 6, ()),)), "end at pick 7 of 8"),
        (lambda: Piece("p", lever_draft([0]), picks_per_cm=0.0), "picks per cm"),
        (lambda: Piece("p", lever_draft([0], [Section("a", 0, 4.0), Section("b", 1)])), "no picks to repeat"),
        (lambda: Piece("p", lever_draft([0], [Section("a", 1, float("inf"))])), "length of .*give a number above 0"),
        (lambda: Piece("p", lever_draft([0], [Section("a", 1, 0.0)])), "length of .*give a number above 0"),
        (lambda: Piece("p", lever_draft([0]), picks_per_cm=float("inf")), "picks per cm"),
        (lambda: Winding(0.0), "length that was wound"),
        (lambda: Winding(100.0, take_up=1.0), "take-up"),
        (lambda: Winding(100.0, shrinkage=-0.1), "shrinkage"),
        (lambda: YarnSize("sand", float("inf")), "above 0"),
    ],
)
def test_what_does_not_fit_is_refused(make, line):
    with pytest.raises(WeavingError, match=line) as refusal:
        make()
    assert "\n" not in str(refusal.value)


def test_a_piece_woven_face_down_opens_the_complement_of_every_shed():
    piece = Piece("p", lever_draft([0] * 4), face_down=True)
    assert piece.sheds == tuple(complement(shed, 4) for shed in TWILL)


def test_sections_are_found_by_pick_and_empty_ones_passed_over():
    piece = Piece("p", lever_draft([0] * 5, [Section("a", 2), Section("none", 0), Section("b", 3)]))
    assert [piece.section_at(pick) for pick in range(6)] == [0, 0, 2, 2, 2, 2]
    assert [list(piece.section_picks(section)) for section in range(3)] == [[0, 1], [], [2, 3, 4]]


def test_a_draft_without_sections_is_one():
    piece = Piece("whole", lever_draft([0] * 5))
    assert piece.sections == (Section("whole", 5),)


def test_planned_picks_per_cm_come_from_the_piece_or_else_from_the_drafts_spacing():
    draft = replace(lever_draft([0] * 4), weft_layout=Layout(spacing_cm=(0.1, 0.1, 0.2, 0.1)))
    assert Piece("p", draft).planned_picks_per_cm() == pytest.approx(8)
    assert Piece("p", draft, picks_per_cm=6.0).planned_picks_per_cm() == 6.0
    assert Piece("p", lever_draft([0])).planned_picks_per_cm() is None


def test_a_draft_without_picks_makes_a_piece():
    draft = Draft(4, (0, 1), Lifted(()), lever_draft([0]).yarns, (0, 0), ())
    piece = Piece("empty", draft)
    assert (piece.sheds, piece.section_at(0)) == ((), 0)
    assert Shed(0) not in piece.sheds


@given(st.lists(st.sampled_from([0, 1, 2]), max_size=9), st.integers(0, 9), st.integers(0, 9))
def test_weft_is_counted_as_one_counts_it_pick_by_pick(weft, first, picks):
    piece = lever_warp(lever_draft(weft)).pieces[0]
    assert piece.shuttles == piece.draft.shuttles()
    assert piece.weft_picks(range(first, first + picks)) == Counter(map(Weft, weft[first : first + picks]))
    for yarn in piece.shuttles:
        listed = [pick for pick in range(first, len(weft)) if weft[pick] == yarn]
        assert piece.next_use(yarn, first) == (listed[0] if listed else None)


def test_a_piece_prints_without_its_thousands_of_footings():
    long = Piece("long", lever_draft([0, 1] * 4_000))
    assert len(repr(long)) < 400
    treadled = two_stage_warp().pieces[0]
    assert "Footing" not in repr(treadled)
