"""The table of a gamp's squares: each lies in it where it lies in the cloth, and looks as it does there."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from companion.draft.cloth import interlacement
from companion.draft.facing import Facing, FirstPick, Side
from companion.draft.gamp import Area, gamp_of
from companion.draft.reading import read_draft
from companion.present.fell import TEXELS
from companion.present.square_table import marked_line, may_have_squares, square_picture, square_table
from companion.present.square_words import marks_told
from companion.weaving.state import MarkedSquare

FOLDER = Path(__file__).resolve().parents[2] / "assets" / "drafts"
GAMP = read_draft((FOLDER / "twill-gamp-four-shaft.txt").read_bytes())
FACINGS = [Facing(side, pick) for side in Side for pick in FirstPick]


@pytest.mark.parametrize("facing", FACINGS)
def test_every_square_stands_in_the_table_where_it_lies_in_the_cloth(facing):
    table = square_table(GAMP, gamp_of(GAMP), facing, (), None)
    lying_ends, lying_picks = range(GAMP.ends)[facing.from_left], range(GAMP.picks)[facing.from_top]
    for row, squares in enumerate(table.rows):
        for column, square in enumerate(squares):
            inside = square.area
            ends = {lying_ends.index(end) for end in range(inside.first_end, inside.last_end)}
            picks = {lying_picks.index(pick) for pick in range(inside.first_pick, inside.last_pick)}
            assert ends == set(range(24 * column, 24 * column + 24))
            assert picks == set(range(24 * row, 24 * row + 24))
            assert inside.name == f"{table.lines[row][0]} on {table.columns[column][0]}"


@pytest.mark.parametrize("facing", FACINGS)
def test_the_picture_of_a_square_has_the_colours_of_its_upper_threads(facing):
    area = Area(24, 48, 48, 72)
    up = interlacement(GAMP)[48:72, 24:48]
    pixels = square_picture(GAMP, area, facing).pixels.reshape(24, TEXELS, 24, TEXELS, 3)
    # The middle of a thread is lit fully; which yarn lies there tells its colour.
    middle = pixels[:, TEXELS // 2, :, TEXELS // 2][facing.from_top, facing.from_left]
    warp = np.array([GAMP.yarns[yarn].colour for yarn in GAMP.warp[24:48]])
    weft = np.array([GAMP.yarns[yarn].colour for yarn in GAMP.weft[48:72]])
    assert (middle == np.where(up[:, :, None], warp[None], weft[:, None])).all()


def test_marks_stand_on_their_squares_and_stars_are_named():
    marked = [
        MarkedSquare(0, Area(24, 48, 48, 72), True, "soft", 0),
        MarkedSquare(0, Area(0, 24, 0, 24), False, "no", 0),
    ]
    table = square_table(GAMP, gamp_of(GAMP), FACINGS[0], marked, frozenset(range(60)))
    found = {one.area.name: (one.starred, one.text) for row in table.rows for one in row if one.starred or one.text}
    assert found == {"Rosepath on Point": (True, "soft"), "Straight on Straight": (False, "no")}
    assert table.detail == "Starred: Rosepath on Point"


def test_a_mark_stands_when_its_cloth_is_taken_out_and_says_that_it_is_gone():
    soft = MarkedSquare(0, Area(24, 48, 48, 72), True, "soft", 0)
    for woven, said in (
        (72, "star; soft"),
        (60, "star; soft; 12 of 24 picks in the cloth"),
        (48, "star; soft; not in the cloth"),
    ):
        table = square_table(GAMP, gamp_of(GAMP), FACINGS[0], [soft], frozenset(range(woven)))
        (seen,) = [one for row in table.rows for one in row if one.starred]
        assert marked_line(seen) == said
        assert marks_told(GAMP, [soft], frozenset(range(woven))) == [f"marked  Rosepath on Point: {said}"]
    assert marks_told(GAMP, [soft]) == ["marked  Rosepath on Point: star; soft"]


def test_only_a_draft_with_several_named_blocks_and_sections_says_that_it_has_squares():
    assert may_have_squares(GAMP)
    assert not may_have_squares(read_draft((FOLDER / "waffle-four-shaft.txt").read_bytes()))
