"""Drawings of draft and cloth: every square and every thread lies where the draft has it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.cloth import Surface, interlacement
from companion.draft.facing import FROM_RIGHT, Facing, FirstPick, Side
from companion.draft.reading import read_draft
from companion.draft.sley import Sley
from companion.record.cloth_plate import cloth_plate
from companion.record.folding import folded
from companion.record.ink import DARK, Boxes, Letters
from companion.record.quarters import draft_plate
from tests.draft.drafts import draft_of

FOLDER = Path(__file__).resolve().parents[2] / "assets" / "drafts"
TWILL = draft_of(threading=[1, 2, 3, 4, 1], tieup=[[1, 2], [2, 3], [3, 4], [1, 4]], treadling=[1, 2, 3])


def filled(plate):
    return {
        (round(x, 2), round(y, 2))
        for mark in plate.marks
        if isinstance(mark, Boxes) and mark.colour == DARK
        for x, y, _, _ in mark.places
    }


def unfolded(what):
    """What drawn threads under their brackets stand for, brackets opened by hand from the innermost."""
    threads = list(range(len(what.threads)))
    for bracket in sorted(what.brackets, key=lambda one: -one.depth):
        inside = [place for place in threads if bracket.first <= place < bracket.last]
        at = threads.index(inside[0])
        threads[at : at + len(inside)] = inside * bracket.times
    return [what.threads[place] for place in threads]


@settings(max_examples=60)
@given(st.lists(st.integers(1, 3), min_size=1, max_size=5), st.integers(1, 6), st.integers(1, 4), st.integers(1, 40))
def test_what_is_drawn_folded_stands_for_the_whole(body, times, again, most):
    stretch = (body * times + [9]) * again
    stretch += stretch[::-1]
    drawn = folded([stretch, stretch], most)
    if not drawn.cut:
        assert [([*stretch, *stretch])[thread] for thread in unfolded(drawn)] == [*stretch, *stretch]
    assert len(drawn.threads) <= most or not drawn.brackets
    assert len(folded([stretch, stretch], 10_000).threads) == 2 * len(stretch)


@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("first_pick", FirstPick)
def test_the_squares_of_the_quarters_are_those_of_the_draft(side, first_pick):
    plate = draft_plate(TWILL, 500, 500, Facing(side, first_pick))
    leftwards, on_its_head = side is Side.RIGHT, first_pick is FirstPick.AT_BOTTOM
    # 5 ends, 8 ties, 3 picks, and the crossings where the warp is up.
    assert len(filled(plate)) == 5 + 8 + 3 + int(interlacement(TWILL).sum())
    columns = sorted({x for x, _ in filled(plate)})[:5]
    rows = sorted({y for _, y in filled(plate)})
    cloth_rows = rows[:3] if on_its_head else rows[-3:]
    drawn = np.array([[(x, y) in filled(plate) for x in columns] for y in cloth_rows])
    cloth = interlacement(TWILL)
    cloth = cloth[::-1] if on_its_head else cloth
    assert (drawn == (cloth[:, ::-1] if leftwards else cloth)).all()
    numbers = [mark.text for mark in plate.marks if isinstance(mark, Letters)]
    assert {"1", "2", "3", "4", "5"} - set(numbers) == {"5"}


def test_a_long_threading_is_drawn_once_under_a_bracket():
    draft = draft_of(threading=[1, 2, 3, 4] * 200, tieup=[[1], [2]], treadling=[1, 2] * 300)
    plate = draft_plate(draft, 530, 400, FROM_RIGHT)
    assert plate.left_out == ""
    assert {"x200", "x300"} <= {mark.text for mark in plate.marks if isinstance(mark, Letters)}
    assert plate.width <= 530
    assert plate.height <= 400


def test_what_cannot_be_folded_is_cut_and_said():
    threading = [1 + (end**3 // 11 + end**2 // 7) % 4 for end in range(400)]
    plate = draft_plate(draft_of(threading=threading, tieup=[[1]], treadling=[1]), 530, 400, FROM_RIGHT)
    assert "of 400" in plate.left_out


@pytest.mark.parametrize("path", sorted(FOLDER.iterdir()), ids=lambda path: path.stem)
def test_every_draft_that_comes_along_is_drawn_within_its_room(path):
    draft = read_draft(path.read_bytes())
    plate = draft_plate(draft, 530, 430, FROM_RIGHT)
    assert plate.width <= 531
    assert plate.height <= 431
    for surface in Surface:
        cloth = cloth_plate(draft, surface, 150, 190, FROM_RIGHT)
        assert 0 < cloth.width <= 151
        assert 0 < cloth.height <= 191


@pytest.mark.parametrize("surface", Surface)
@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("first_pick", FirstPick)
def test_the_picture_of_the_cloth_shows_the_thread_on_top_at_every_crossing(surface, side, first_pick):
    plate = cloth_plate(TWILL, surface, 500, 300, Facing(side, first_pick))
    leftwards = side is Side.RIGHT
    cell = plate.width / 5
    image = np.zeros((3, 5), dtype=object)
    for mark in plate.marks:
        if isinstance(mark, Boxes) and not mark.line:
            for x, y, across, down in mark.places:
                for row in range(3):
                    for column in range(5):
                        if x <= (column + 0.5) * cell < x + across and y <= (row + 0.5) * cell < y + down:
                            image[row, column] = mark.colour
    up = interlacement(TWILL) == (surface is Surface.FACE)
    warp, weft = TWILL.yarns[0].colour, TWILL.yarns[1].colour
    expected = [[warp if raised else weft for raised in line] for line in up]
    rows = image[::-1] if first_pick is FirstPick.AT_BOTTOM else image
    shown = [list(line[::-1]) if leftwards else list(line) for line in rows]
    assert shown == expected


def test_an_empty_dent_is_a_gap_between_the_ends_on_either_side():
    dents, facing = (1, 1, 0, 1, 1, 1), Facing(Side.LEFT, FirstPick.AT_BOTTOM)
    plate = cloth_plate(replace(TWILL, sley=Sley(dents, 4.0)), Surface.FACE, 600, 300, facing)
    dent = plate.width / len(dents)
    warp = TWILL.yarns[0].colour
    covered = [
        (x, x + across)
        for mark in plate.marks
        if isinstance(mark, Boxes) and not mark.line and mark.colour == warp
        for x, _, across, _ in mark.places
    ]
    in_dents = {int(left / dent) for left, _ in covered}
    assert in_dents == {0, 1, 3, 4, 5}
    assert all(int(left / dent) == int(right / dent) for left, right in covered)
