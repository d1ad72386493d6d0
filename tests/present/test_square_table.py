"""The table of a gamp's squares: each lies in it where it lies in the cloth, and looks as it does there."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

from companion.draft.cloth import interlacement
from companion.draft.facing import Facing, FirstPick, Side
from companion.draft.gamp import Area, gamp_of
from companion.draft.reading import read_draft
from companion.draft.shorthand import parse_shorthand
from companion.present.fell import TEXELS, rows_picture
from companion.present.square_table import (
    marked_line,
    may_have_squares,
    sample_picture,
    sampler_picture,
    square_picture,
    square_table,
    table_facing,
)
from companion.present.square_words import marks_told
from companion.remap.loom.loom import Loom
from companion.weaving.progress import begin
from companion.weaving.state import MarkedSquare
from companion.weaving.warp import LoomProfile
from companion.workshop.dressing import reckon_with

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


@pytest.mark.parametrize("facing", FACINGS)
@pytest.mark.parametrize("woven", [0, 40, 96])
def test_on_a_warp_the_squares_lie_as_the_cloth_at_the_fell_and_what_is_not_woven_is_dark(facing, woven):
    warp = reckon_with("gamp", [GAMP], LoomProfile("Barn loom", Loom(4, 10)))
    lying = frozenset(range(woven))
    table = square_table(GAMP, gamp_of(GAMP), facing, (), lying)
    fell = rows_picture(warp, begin(warp), range(95, -1, -1), 96, GAMP.ends, facing).pixels
    for row, squares in enumerate(table.rows):
        for column, square in enumerate(squares):
            shown = square_picture(GAMP, square.area, table_facing(facing, True), lying).pixels
            there = fell[row * 24 * TEXELS :, column * 24 * TEXELS :][: 24 * TEXELS, : 24 * TEXELS]
            in_cloth = [pick in lying for pick in range(square.area.first_pick, square.area.last_pick)][::-1]
            bright = np.repeat(in_cloth, TEXELS)
            assert (shown[bright] == there[bright]).all()
            assert (shown[~bright] < there[~bright] / 2).all()
    assert ("dark: not woven" in table.detail) == (woven < 96)


def test_of_a_large_square_as_great_a_share_is_dark_as_is_not_woven():
    tall = parse_shorthand("threading: (1-4)x3\ntie-up: 1 2, 2 3, 3 4, 1 4\ntreadling: (1-4)x50")
    lying = frozenset(range(150))
    shown = square_picture(tall, Area(0, 12, 0, 200), FACINGS[0].at_the_fell, lying).pixels
    whole = square_picture(tall, Area(0, 12, 0, 200), FACINGS[0].at_the_fell).pixels
    dark = len(shown) // 4
    assert (shown[dark:] == whole[dark:]).all()
    assert (shown[:dark] < whole[:dark]).all()


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


def differing_pairs(kinds):
    return sum(one != other for one, other in combinations(kinds, 2))


@pytest.mark.parametrize("facing", FACINGS)
def test_a_row_of_a_list_shows_where_most_differs_and_not_the_hem_that_many_drafts_begin_with(facing):
    draft = read_draft((FOLDER / "overshot-four-shaft.txt").read_bytes())
    treadles = draft.lifting.treadling
    hem = replace(
        draft,
        lifting=replace(draft.lifting, treadling=treadles[:2] * 8 + treadles),
        weft=(draft.weft[0],) * 16 + draft.weft,
        sections=(),
    )
    ends = list(zip(hem.threading, hem.warp, strict=True))
    picks = list(zip(hem.sheds(), hem.weft, strict=True))
    end, pick = (
        # `max` takes the first of several that are alike.
        max(range(len(kinds) - 19), key=lambda first, kinds=kinds: differing_pairs(kinds[first : first + 20]))
        for kinds in (ends, picks)
    )
    assert pick >= 12
    area = Area(end, end + 20, pick, pick + 20)
    assert (sample_picture(hem, facing).pixels == square_picture(hem, area, facing).pixels).all()


@pytest.mark.parametrize("facing", FACINGS)
def test_a_gamp_is_told_from_others_by_the_corner_of_each_square_with_dark_between(facing):
    pixels = sampler_picture(GAMP, facing).pixels
    each, step = 10 * TEXELS, 11 * TEXELS
    assert pixels.shape == (4 * step - TEXELS, 4 * step - TEXELS, 3)
    columns, rows = range(4)[facing.from_left], range(4)[facing.from_top]
    for row, section in enumerate(rows):
        for column, block in enumerate(columns):
            corner = Area(24 * block, 24 * block + 10, 24 * section, 24 * section + 10)
            here = pixels[row * step : row * step + each, column * step : column * step + each]
            assert (here == square_picture(GAMP, corner, facing).pixels).all()
    for between in range(each, pixels.shape[0], step):
        assert not pixels[between : between + TEXELS].any()
        assert not pixels[:, between : between + TEXELS].any()
