"""The picture of a piece to point at: every pick has its place, and every place its pick."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.facing import FROM_LEFT, FROM_RIGHT
from companion.draft.masks import shed_of
from companion.draft.model import Colour, Draft, Lifted, Section
from companion.present.piece_map import PieceMap, map_picture, map_signs
from companion.weaving.clues import clues_of
from companion.weaving.pick_table import pick_table
from companion.weaving.warp import Piece
from tests.weaving.world import YARNS, lever_draft, lever_warp

GROUND = Colour(1, 2, 3)


@pytest.mark.parametrize("first", [0, 17])
@pytest.mark.parametrize("picks", [8, 12, 23, 24, 25, 37, 100, 312, 1_200])
def test_whoever_touches_a_pick_in_the_middle_means_that_pick(first, picks):
    drawn = PieceMap(first, picks)
    for pick in range(first, first + picks):
        assert drawn.pick_at(*drawn.place_of(pick)) == pick


@settings(max_examples=40)
@given(st.integers(1, 1_200), st.floats(0, 1), st.floats(0, 1))
def test_wherever_a_finger_comes_down_it_means_a_pick_of_the_picture(picks, across, down):
    assert 5 <= PieceMap(5, picks).pick_at(across, down) < 5 + picks


def test_picks_go_up_and_on_in_the_next_column():
    drawn = PieceMap(0, 30)
    assert drawn.columns == 2
    assert [drawn.pick_at(0.2, 0.99), drawn.pick_at(0.2, 0.01), drawn.pick_at(0.8, 0.99)] == [0, 14, 15]


def piece_of(weft, sections=(), sheds=(0b0001,)):
    piece = lever_warp(lever_draft(weft, sections, sheds, ends=40)).pieces[0]
    table = pick_table(piece)
    return piece, table, clues_of(piece, table)


@pytest.mark.parametrize("facing", [FROM_LEFT, FROM_RIGHT])
@pytest.mark.parametrize(("width", "height"), [(780, 300), (500, 900), (120, 60)])
def test_the_cloth_drawn_at_the_place_of_a_pick_is_its_cloth(width, height, facing):
    """One weft for each dozen picks, under one end of four: nearly all that is seen is the weft."""
    piece, table, clues = piece_of([pick // 12 % 3 for pick in range(108)])
    drawn = PieceMap(0, 108)
    pixels = map_picture(piece, drawn, table, clues, facing, width, height, GROUND).pixels
    high, wide, _ = pixels.shape
    assert (high, wide) <= (height, width)
    for pick in range(5, 108, 12):
        across, down = drawn.place_of(pick)
        row = pixels[int(down * high), int(wide * (across - 0.1)) : int(wide * (across + 0.1))]
        row = row[(row != GROUND).any(axis=1)]
        # A weft that lies over is a little darker than its yarn.
        shown = np.median(row, axis=0) / 0.72
        yarns = np.array([yarn.colour for yarn in YARNS])
        assert np.abs(yarns - shown).sum(axis=1).argmin() == pick // 12 % 3


def test_the_ends_drawn_are_those_that_tell_its_picks_apart():
    """Two blocks of 200 ends: the last picks differ from the first in the second block alone, far from end 1."""
    sheds = tuple(shed_of(up) for up in [[1, 3], [2, 4]] * 6 + [[1, 4], [2, 3]] * 5)
    threading = (0, 1) * 100 + (2, 3) * 100
    piece = Piece("blocks", Draft(4, threading, Lifted(sheds), YARNS, (0,) * 400, (1,) * 22))
    table = pick_table(piece)
    drawn = PieceMap(0, 22)
    pixels = map_picture(piece, drawn, table, clues_of(piece, table), FROM_LEFT, 780, 480, GROUND).pixels
    # On the left stand the repeats, in the middle of each row its cloth.
    rows = [pixels[int(down * len(pixels)), 200:] for _, down in map(drawn.place_of, range(22))]
    assert np.array_equal(rows[0], rows[2])
    assert not np.array_equal(rows[0], rows[12])


def test_each_repeat_is_numbered_beside_its_first_pick_and_what_does_not_repeat_is_not():
    *_, clues = piece_of([0, 1, 2, 1] * 4 + [0, 0, 1, 2, 0, 1, 1], [Section("body", 16), Section("end", 7)])
    drawn = PieceMap(0, 23)
    signs = map_signs(drawn, clues)
    assert [sign.words for sign in signs] == ["1", "2", "3", "4"]
    for repeat, sign in enumerate(signs):
        # It stands at the lower edge of the pick that begins the repeat.
        assert sign.down == pytest.approx(1 - 4 * repeat / 23)
        assert sign.across < drawn.place_of(4 * repeat)[0]
