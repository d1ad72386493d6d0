"""The flow from a gamp to a square: every square is offered with its picture, and what is chosen is what is made."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from companion.draft.cloth import interlacement
from companion.draft.gamp import gamp_of
from companion.draft.reading import read_draft
from companion.draft.square import Finish, square_of
from companion.present.asking import Answered
from companion.present.loom_drawing import ACROSS
from companion.present.squares import ask_square
from tests.draft.drafts import draft_of

FOLDER = Path(__file__).resolve().parents[2] / "assets" / "drafts"
GAMP = read_draft((FOLDER / "eight-by-eight-gamp-four-shaft.txt").read_bytes())


def follow(asked, *words):
    for wanted in words:
        asked = next(one for one in (*asked.answers, *asked.pad, *asked.foot) if one.words == wanted).leads_to()
    return asked


def asked_for(draft=GAMP, rightmost_first=True):
    return ask_square(draft, gamp_of(draft), rightmost_first)


def test_a_square_is_chosen_by_its_threading_and_treadling_its_size_and_edges():
    asked = asked_for()
    assert [answer.words for answer in asked.answers][:3] == ["Straight", "Reversed", "Point"]
    end = follow(asked, "Point", "Rosepath", "2", "4", "0", "Done", "4", "0", "0", "Done", "As it lies")
    assert isinstance(end, Answered)
    assert end.result.finish == Finish(240, 400)
    area = end.result.area
    assert area.name == "Rosepath on Point"
    square = interlacement(GAMP)[area.first_pick : area.last_pick, area.first_end : area.last_end]
    assert (interlacement(square_of(GAMP, area)) == square).all()


def test_its_own_size_stands_there_to_begin_with():
    end = follow(asked_for(), "Straight", "Broken", "Done", "Done", "Both edges alike")
    assert end.result.finish == Finish(20, 20, balanced=True)


def test_plain_picks_are_offered_only_where_the_threading_weaves_them():
    edges = follow(asked_for(), "Straight", "Broken", "Done", "Done")
    assert [answer.words for answer in edges.answers][-1] == "And 8 plain picks"
    three = draft_of(threading=[1, 2, 3], tieup=[[1], [2], [3]], treadling=[1, 2, 3])
    edges = follow(asked_for(three), "block 1", "section 1", "Done", "Done")
    assert "And 8 plain picks" not in [answer.words for answer in edges.answers]


def crossings(shapes, size):
    """Which crossings of a drawing are dark, the first pick in row 0, from left to right."""
    cell = ACROSS / size
    dark = set()
    for shape in shapes:
        (left, y), (right, _) = shape.points
        half = shape.thick / 2
        for column in range(size):
            if left - half < (column + 0.5) * cell < right + half:
                dark.add((int(y // cell), column))
    return dark


def test_the_picture_of_a_square_is_that_of_its_crossings_on_the_side_where_the_weaver_has_them():
    draft = draft_of(threading=[1, 2, 3, 4], tieup=[[1, 2], [2, 3], [3, 4], [1, 4]], treadling=[1, 2, 3, 4])
    cloth = interlacement(draft)
    for rightmost_first in (False, True):
        (answer,) = asked_for(draft, rightmost_first).answers
        shown = cloth[:, ::-1] if rightmost_first else cloth
        assert crossings(answer.drawn, 4) == {(int(row), int(column)) for row, column in np.argwhere(shown)}


def test_the_threadings_are_drawn_with_the_first_treadling():
    cloth = interlacement(GAMP)
    gamp = gamp_of(GAMP)
    first, *_ = gamp.sections
    for answer, block in zip(asked_for(rightmost_first=False).answers, gamp.blocks, strict=True):
        size = min(block.last - block.first, 16)
        shown = cloth[first.first :, block.first :][:size, :size]
        assert crossings(answer.drawn, size) == {(int(row), int(column)) for row, column in np.argwhere(shown)}
