"""Warp to leave around pieces, reckoned by hand."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest

from companion.draft.model import Section
from companion.draft.units import Units
from companion.present.between_pieces import carry_planned, carry_words, leave_after, leave_at_start
from companion.present.weave import weave_signs
from companion.weaving import decide, telling
from companion.weaving.amounts import pieces_planned
from companion.weaving.pick_view import this_pick
from tests.weaving.world import AtLoom, lever_draft, lever_warp


def signs_at(loom):
    return weave_signs(loom.warp, loom.progress, this_pick(loom.warp, loom.progress), Units.METRIC)


def two_pieces(first_fringe_cm=10.0, spacer_cm=3.0, second_fringe_cm=8.0):
    warp = lever_warp(lever_draft([0, 1]), lever_draft([0]), picks_per_cm=1.0)
    first, second = warp.pieces
    first = replace(first, fringe_cm=first_fringe_cm, spacer_cm=spacer_cm)
    return replace(warp, pieces=(first, replace(second, fringe_cm=second_fringe_cm)))


@pytest.mark.parametrize(
    ("fringes_and_spacer", "start", "between", "end"),
    [
        ((10.0, 3.0, 8.0), "leave 5 cm for the fringe before you weave",
         "leave 12 cm: fringe 5 cm, spacer 3 cm, fringe 4 cm", "leave 4 cm for the fringe"),
        ((0.0, 2.5, 0.0), "", "leave 2.5 cm for the spacer", ""),
        ((0.0, 0.0, 0.0), "", "", ""),
        ((7.0, 0.0, 0.0), "leave 3.5 cm for the fringe before you weave", "leave 3.5 cm for the fringe", ""),
    ],
)  # fmt: skip
def test_half_of_each_fringe_lies_at_each_end_and_the_spacer_between(fringes_and_spacer, start, between, end):
    warp = two_pieces(*fringes_and_spacer)
    told = (leave_at_start(warp, Units.METRIC), *(leave_after(warp, piece, Units.METRIC) for piece in (0, 1)))
    assert told == (start, between, end)


def test_what_is_left_around_the_pieces_is_what_the_amounts_take_for_it():
    warp = two_pieces()
    unwoven = sum(piece.warp_cm - piece.woven_cm for piece in pieces_planned(warp))
    # 5 before the first, 12 between, 4 after the last.
    assert unwoven == pytest.approx(5 + 12 + 4)


def test_the_screen_says_what_to_leave_where_a_piece_ends():
    loom = AtLoom(two_pieces())
    loom.weave(2)
    told = "leave 12 cm: fringe 5 cm, spacer 3 cm, fringe 4 cm"
    # One pick of the first shuttle lies in the cloth: it is on the other side than where the next piece begins.
    carry = f"carry {loom.warp.pieces[0].draft.yarns[0].name} to the {loom.warp.pieces[1].start_of(0).value}"
    assert signs_at(loom).following == (f"{carry} · {told}", carry)
    loom.do(decide.finish_piece)
    assert signs_at(loom).following == (f"{carry} · {told}", carry)
    loom.do(decide.start_piece)
    assert not {"leave", "carry"} & set(signs_at(loom).following[0].split())


@pytest.mark.parametrize(("picks", "carried"), [(1, True), (2, False)])
def test_a_shuttle_is_carried_to_where_the_next_piece_takes_it_up_unless_nobody_knows_where_it_lies(picks, carried):
    loom = AtLoom(lever_warp(lever_draft([0] * picks), lever_draft([0])))
    loom.weave(picks)
    assert bool(carry_words(loom.warp, loom.progress)) is carried
    loom.do(telling.tell_sides, unknown=(0,))
    assert carry_words(loom.warp, loom.progress) == ""


def test_what_a_sheet_says_of_the_shuttles_is_what_the_loom_says_once_the_piece_is_woven():
    told = set()
    for picks, across in product(range(1, 5), ((), (0,), (1,), (0, 1))):
        for weft in product((0, 1), repeat=picks):
            warp = lever_warp(lever_draft(weft), lever_draft([0, 1]))
            warp = replace(warp, pieces=(warp.pieces[0], replace(warp.pieces[1], begin_across=across)))
            loom = AtLoom(warp)
            loom.weave(picks)
            carried, *begun = carry_planned(warp, 1).split("; ")
            if carried and not carried.startswith("carry "):
                carried, begun = "", [carried, *begun]
            assert carried == carry_words(warp, loom.progress)
            # A shuttle that the first piece does not have is only said to begin, and where.
            fresh = [yarn for yarn in (0, 1) if yarn not in weft]
            names = [warp.pieces[1].draft.yarns[yarn].name for yarn in fresh]
            sides = [warp.pieces[1].start_of(yarn).value for yarn in fresh]
            assert begun == [f"{name} begins on the {side}" for name, side in zip(names, sides, strict=True)]
            told.add((bool(carried), bool(begun)))
    assert told == {(True, True), (True, False), (False, True), (False, False)}


@pytest.mark.parametrize(("picks", "says"), [(2, ""), (3, " begins on the right")])
def test_after_a_section_woven_to_a_length_only_even_rounds_bring_a_shuttle_to_a_known_side(picks, says):
    warp = lever_warp(lever_draft([0] * picks, [Section("Body", picks, 40.0)]), lever_draft([0]))
    assert carry_planned(warp, 1).removeprefix(warp.pieces[1].draft.yarns[0].name) == says


def test_the_screen_says_where_the_treadling_ends_before_the_planned_length():
    loom = AtLoom(lever_warp(lever_draft([0] * 4), picks_per_cm=2.0, length_cm=4.0))
    loom.weave(4)
    assert signs_at(loom).amounts[0] == "2 of the 4 cm planned are woven"
    loom.do(decide.finish_piece)
    assert signs_at(loom).amounts[0] == ""
