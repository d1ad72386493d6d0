"""Pointing at a picture of the piece: what it makes likelier, and how much surer it leaves the place."""

from __future__ import annotations

import numpy as np
import pytest

from companion.weaving.clues import clues_of
from companion.weaving.narrowing import easiest_question, likelihood
from companion.weaving.pick_table import pick_table
from companion.weaving.pointing import COLUMNS, EYE_PICKS, columns_of, error_picks, nearness
from companion.weaving.questions import Ask
from tests.weaving.world import lever_draft, lever_warp


def test_what_was_touched_is_likeliest_and_what_lies_further_off_is_less_so_and_never_impossible():
    near = nearness(np.arange(101), 50, error_picks(101))
    assert near[50] == near.max() == 1
    assert near.tolist() == near[::-1].tolist()
    assert (np.diff(near[50:]) < 0).all()
    assert (near > 0).all()


def test_a_longer_piece_is_pointed_at_less_exactly_and_no_eye_is_better_than_its_own():
    errors = [error_picks(picks) for picks in (12, 100, 400, 1_200)]
    assert errors == sorted(errors)
    assert errors[0] >= EYE_PICKS
    # Three columns of 400 picks, 1.5 mm of 56 mm: 10.7 picks, and two of the eye's.
    assert errors[-1] == pytest.approx(10.85, abs=0.01)


def test_columns_are_three_at_most_and_none_is_nearly_empty():
    assert [columns_of(picks) for picks in (8, 23, 24, 36, 5_000)] == [1, 1, 2, 3, COLUMNS]


def plain_places(picks):
    """Plain weave in one weft but for a few picks, never at the same distance: no repeat can be counted."""
    weft = [0] * picks
    for pick in (10, 21, 43, 75):
        weft[pick : pick + 1] = [1] * (pick < picks)
    piece = lever_warp(lever_draft(weft, sheds=(0b01, 0b10))).pieces[0]
    table = pick_table(piece)
    return table, clues_of(piece, table)


def test_where_rows_tell_little_the_place_is_pointed_at_once_and_then_no_more():
    table, clues = plain_places(100)
    found = np.arange(100)
    assert easiest_question(table, clues, found).ask is Ask.POINT
    after = easiest_question(table, clues, found, unsure={(Ask.POINT, 0, None, None)}, however_few=True)
    assert after.ask is not Ask.POINT


def test_what_was_pointed_at_weighs_with_what_else_is_likely():
    table, _ = plain_places(100)
    leaning = nearness(table.pick, 70, 5.0)
    likely = likelihood(table, np.arange(100), leaning)
    assert likely.sum() == pytest.approx(1)
    assert likely.argmax() == 70
    assert likely[65:76].sum() == pytest.approx(0.729, abs=0.005)


@pytest.mark.parametrize("picks", [7, 1_201])
def test_neither_a_handful_of_picks_nor_more_than_a_picture_can_show_is_pointed_at(picks):
    table, clues = plain_places(picks)
    asked, unsure = [], set()
    while (question := easiest_question(table, clues, np.arange(picks), unsure=unsure, however_few=True)) is not None:
        asked.append(question.ask)
        unsure.add(question.about)
    assert asked
    assert Ask.POINT not in asked
