"""A square of a gamp as a draft of its own weaves that square, and nothing that is added to it hides it."""

from __future__ import annotations

import itertools
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.cloth import interlacement
from companion.draft.errors import DraftError
from companion.draft.gamp import Area, area_of, gamp_of, stretch_called
from companion.draft.masks import shed_of, treadles_of
from companion.draft.model import Colour, Section, ThreadingBlock, Yarn
from companion.draft.reading import read_draft
from companion.draft.sley import Sley
from companion.draft.square import Finish, period, square_of
from tests.draft.drafts import draft_of
from tests.draft.random_drafts import drafts, words

FOLDER = Path(__file__).resolve().parents[2] / "assets" / "drafts"
GAMPS = sorted(path.name for path in FOLDER.glob("*gamp*"))


def gamp_in(name):
    return read_draft((FOLDER / name).read_bytes())


def laid_out(square, picks, ends):
    """The square side by side, as numpy lays tiles, cut to a size."""
    down, across = -(-picks // square.shape[0]), -(-ends // square.shape[1])
    return np.tile(square, (down, across))[:picks, :ends]


@pytest.mark.parametrize("name", GAMPS)
def test_every_square_of_every_gamp_is_woven_as_it_was_once_and_repeated(name):
    draft = gamp_in(name)
    gamp, cloth = gamp_of(draft), interlacement(draft)
    assert gamp.named
    assert len(gamp.blocks) >= 4
    for block in range(len(gamp.blocks)):
        for section in range(len(gamp.sections)):
            area = area_of(gamp, draft, block, section)
            piece = cloth[area.first_pick : area.last_pick, area.first_end : area.last_end]
            assert (interlacement(square_of(draft, area)) == piece).all()
            square = square_of(draft, area, Finish(ends=101, picks=67))
            assert (interlacement(square) == laid_out(piece, 67, 101)).all()
            colours = [draft.yarns[yarn] for yarn in draft.warp[area.first_end : area.last_end]]
            assert [square.yarns[yarn] for yarn in square.warp[: area.ends]] == colours


@pytest.mark.parametrize("name", GAMPS)
def test_treadles_that_a_square_does_not_need_are_dropped_but_for_plain_weave(name):
    draft = gamp_in(name)
    gamp = gamp_of(draft)
    for section in range(len(gamp.sections)):
        square = square_of(draft, area_of(gamp, draft, 0, section))
        used = {treadle for pick in square.lifting.treadling for treadle in treadles_of(pick)}
        idle = [square.lifting.tieup[number - 1] for number in range(1, square.treadles + 1) if number not in used]
        # A straight threading of an even number of shafts weaves plain weave on the odd against the even ones.
        odd = shed_of(range(1, draft.shafts + 1, 2))
        even = shed_of(range(2, draft.shafts + 1, 2))
        assert set(idle) <= {odd, even}


@settings(max_examples=40)
@given(drafts(texts=words).filter(lambda draft: draft.ends and draft.picks), st.data())
def test_any_rectangle_of_any_draft_is_repeated_as_it_lies(draft, data):
    first_end = data.draw(st.integers(0, draft.ends - 1))
    first_pick = data.draw(st.integers(0, draft.picks - 1))
    area = Area(
        first_end,
        data.draw(st.integers(first_end + 1, draft.ends)),
        first_pick,
        data.draw(st.integers(first_pick + 1, draft.picks)),
    )
    ends, picks = data.draw(st.integers(1, 30)), data.draw(st.integers(1, 30))
    square = square_of(draft, area, Finish(ends, picks))
    piece = interlacement(draft)[first_pick : area.last_pick, first_end : area.last_end]
    assert (interlacement(square) == laid_out(piece, picks, ends)).all()


def test_plain_weave_that_the_gamp_has_treadles_for_stays_in_its_squares():
    draft = draft_of(threading=[1, 2, 3, 4], tieup=[[1, 2], [3, 4], [1, 3], [2, 4]], treadling=[1, 2, 3, 4])
    twill = square_of(draft, Area(0, 4, 0, 2))
    assert twill.lifting.tieup == draft.lifting.tieup
    # On ends 1 2 2 3 no plain weave is threaded: its treadles go.
    uneven = draft_of(threading=[1, 2, 2, 3], tieup=[[1, 2], [3, 4], [1, 3], [2, 4]], treadling=[1, 2, 3, 4])
    assert square_of(uneven, Area(0, 4, 0, 2)).treadles == 2


def test_balanced_edges_mirror_each_other():
    """A point threading mirrors about its points, so both edges can be alike (C)."""
    draft = gamp_in("twill-gamp-four-shaft.txt")
    gamp = gamp_of(draft)
    area = area_of(gamp, draft, stretch_called(gamp.blocks, "point", "block"), 1)
    for ends in (40, 41, 62):
        square = square_of(draft, area, Finish(ends, 50, balanced=True))
        assert square.threading == square.threading[::-1]
        assert square.ends in (ends, ends + 1)
        cloth = interlacement(square)
        assert (cloth == cloth[::-1, ::-1]).all()
    straight = square_of(draft, area_of(gamp, draft, 0, 0), Finish(42, 42, balanced=True))
    assert (straight.ends, straight.picks) == (40, 40)


def test_a_selvedge_keeps_plain_weave_and_stands_round_the_square():
    draft = gamp_in("twill-gamp-four-shaft.txt")
    area = area_of(gamp_of(draft), draft, 2, 0)
    bare, edged = square_of(draft, area), square_of(draft, area, Finish(selvedge=6))
    assert edged.ends == bare.ends + 12
    assert (interlacement(edged)[:, 6:-6] == interlacement(bare)).all()
    for edge in (edged.threading[:7], edged.threading[-7:]):
        assert all((one - other) % 2 for one, other in itertools.pairwise(edge))


def test_a_border_is_plain_weave_before_and_after_and_goes_over_without_a_shed_twice():
    draft = gamp_in("twill-gamp-eight-shaft.txt")
    area = area_of(gamp_of(draft), draft, 0, 3)
    bare, bordered = square_of(draft, area), square_of(draft, area, Finish(border=5))
    cloth = interlacement(bordered)
    assert (cloth[5:-5] == interlacement(bare)).all()
    for border in (cloth[:5], cloth[-5:]):
        picks, ends = np.indices(border.shape)
        assert (border == (picks + ends + border[0, 0]) % 2).all()
    assert [section.name for section in bordered.sections] == ["Border", "Broken on Straight", "Border"]
    sheds = bordered.sheds()
    assert all(one != other for one, other in itertools.pairwise(sheds))


def test_a_border_is_refused_where_the_threading_weaves_no_plain_weave():
    draft = draft_of(threading=[1, 2, 3], tieup=[[1], [2], [3]], treadling=[1, 2, 3])
    with pytest.raises(DraftError, match="no plain weave"):
        square_of(draft, Area(0, 3, 0, 3), Finish(ends=9, border=4))


def test_colours_are_changed_by_the_names_of_their_yarns():
    draft = gamp_in("twill-gamp-four-shaft.txt")
    navy = Yarn("navy", Colour(0, 0, 128))
    square = square_of(draft, Area(0, 4, 0, 4), Finish(yarns={"madder": navy}))
    assert [yarn.name for yarn in square.yarns] == ["cream", "navy"]
    with pytest.raises(DraftError, match="cream, madder"):
        square_of(draft, Area(0, 4, 0, 4), Finish(yarns={"maddder": navy}))


def test_a_square_says_where_it_comes_from():
    draft = gamp_in("twill-gamp-four-shaft.txt")
    square = square_of(draft, area_of(gamp_of(draft), draft, 2, 1), Finish(ends=240, picks=400))
    assert square.notes == (
        "A square of 'Sample towel of twills for the Thursday class': Point on Rosepath "
        "(ends 49 to 72, picks 25 to 48), repeated to 240 ends and 400 picks.",
    )


@pytest.mark.parametrize(
    ("area", "finish"),
    [
        (Area(0, 0, 0, 4), Finish()),
        (Area(3, 97, 0, 4), Finish()),
        (Area(0, 4, 5, 5), Finish()),
        (Area(0, 4, 0, 4), Finish(ends=0)),
        (Area(0, 4, 0, 4), Finish(picks=100_001)),
        (Area(0, 4, 0, 4), Finish(selvedge=501)),
        (Area(0, 4, 0, 4), Finish(border=-1)),
    ],
)
def test_an_area_or_a_size_that_cannot_be_is_refused(area, finish):
    with pytest.raises(DraftError):
        square_of(gamp_in("twill-gamp-four-shaft.txt"), area, finish)


def test_stretches_without_a_name_divide_and_are_no_squares():
    draft = draft_of(
        threading=[1, 2, 1, 2, 3, 4, 3, 4],
        tieup=[[1], [2]],
        treadling=[1, 2, 1],
        blocks=(ThreadingBlock("One", 3), ThreadingBlock("", 2), ThreadingBlock("Two", 3)),
        sections=(Section("A", 1), Section(" ", 1), Section("B", 1)),
    )
    gamp = gamp_of(draft)
    assert [(one.name, one.first, one.last) for one in gamp.blocks] == [("One", 0, 3), ("Two", 5, 8)]
    assert [(one.name, one.first, one.last) for one in gamp.sections] == [("A", 0, 1), ("B", 2, 3)]


def test_a_gamp_that_names_nothing_is_read_by_what_it_repeats():
    draft = replace(gamp_in("twill-gamp-four-shaft.txt"), blocks=(), sections=())
    gamp = gamp_of(draft)
    assert not gamp.named
    assert [one.last - one.first for one in gamp.blocks if one.first == 0] == [24]
    assert len(gamp.blocks) >= 4


@pytest.mark.parametrize(("threads", "length"), [("abab", 2), ("aaaa", 1), ("abca", 4), ("abcabc", 3)])
def test_the_period_is_the_shortest_whole_repeat(threads, length):
    assert period(threads) == length


def test_the_sley_plan_follows_the_ends():
    draft = gamp_in("twill-gamp-four-shaft.txt")
    even = square_of(replace(draft, sley=Sley((2,) * 48, 4.0)), Area(0, 5, 0, 4), Finish(ends=15, selvedge=2))
    assert even.sley == Sley((2,) * 9 + (1,), 4.0)
    # Of 2, empty, 1, 1, empty, 2: ends 3 to 6 are single, single, empty, pair, and empty before they come again.
    crammed = replace(draft, sley=Sley((2, 0, 1, 1, 0, 2) + (2,) * 45, 4.0))
    assert square_of(crammed, Area(2, 6, 0, 4), Finish(ends=8)).sley.dents == (1, 1, 0, 2, 0, 1, 1, 0, 2)
