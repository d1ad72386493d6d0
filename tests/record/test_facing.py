"""One marked end in a twill lies on the same side wherever it is drawn, counted or asked for, however it is read."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from companion.cli.asked import rows_of_signs
from companion.draft.cloth import Surface
from companion.draft.facing import FirstPick, Side
from companion.draft.model import Colour
from companion.draft.pictures import cloth_picture, drawdown_picture
from companion.draft.units import Units
from companion.present.cords import cord_signs
from companion.present.draft_sheet import Quarter, draft_sheet
from companion.present.draft_view import Inks, quarter_picture, view_of
from companion.present.fault import ask_fault
from companion.present.fell import TEXELS, fell_picture, rows_picture
from companion.present.find import ask_place
from companion.present.harness import Box
from companion.record.card import tieup_card
from companion.record.drawings import CELL, cloth_image, draft_image
from companion.record.page import to_html
from companion.record.sheet import sheet
from companion.remap.loom.loom import Loom
from companion.remap.remapping import remap
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import begin
from companion.weaving.warp import LoomProfile
from companion.workshop.dressing import dress
from tests.record.conftest import AtLoom
from tests.record.marked import BLUE, ENDS, FACINGS, MARKED, WHITE, marked_twill, red_column

INKS = Inks(WHITE, Colour(0, 0, 0), Colour(250, 250, 250), Colour(251, 251, 251), BLUE, BLUE)


@pytest.fixture(scope="module")
def loom():
    draft = marked_twill()
    profile = LoomProfile("five", Loom(shafts=5, treadles=6))
    answer = remap(draft, profile.loom)
    at_loom = AtLoom(dress("Marked", [draft], profile, [answer]))
    at_loom.weave(8)
    return at_loom


def slope(dark):
    """1 where the marks of a twill climb to the right, -1 to the left; rows from the top, the marked end left out."""
    climbs, falls = (dark[1:, :-1] & dark[:-1, 1:]).sum(), (dark[:-1, :-1] & dark[1:, 1:]).sum()
    return 1 if climbs > falls else -1


@pytest.mark.parametrize("facing", FACINGS)
def test_a_marked_end_lies_on_one_side_in_every_picture(loom, facing):
    expected = MARKED if facing.first_end is Side.LEFT else ENDS - 1 - MARKED
    draft, warp, progress = loom.warp.pieces[0].draft, loom.warp, loom.progress
    laid = draft_sheet(draft, Box(0, 0, 900, 900), 20, facing)
    for quarter in (Quarter.WARP_COLOURS, Quarter.CLOTH):
        pixels = quarter_picture(view_of(draft), quarter, laid.grids[quarter], laid.cell, INKS).pixels
        assert red_column(pixels) == expected
    shaft_5 = quarter_picture(view_of(draft), Quarter.THREADING, laid.grids[Quarter.THREADING], 20, INKS).pixels
    top_row = facing.first_pick is FirstPick.ON_TOP
    marks = (shaft_5[10::20, 10::20, 0] < 100)[0 if top_row else -1]
    assert np.flatnonzero(marks).tolist() == [expected]

    at_fell = fell_picture(warp, progress, this_pick(warp, progress), 6, ENDS, facing)
    asked = rows_picture(warp, progress, (5, 4), 4, ENDS, facing)
    assert red_column(at_fell.pixels) == red_column(asked.pixels) == expected

    (piece,) = sheet(warp, loom.entries).pieces
    for surface in Surface:
        assert red_column(cloth_image(piece, surface, facing)) == expected
    drawn = draft_image(draft, facing)[CELL // 2 :: CELL, CELL // 2 :: CELL, 0] < 60
    assert np.flatnonzero(drawn[0 if top_row else -1, :ENDS]).tolist() == [expected]
    assert red_column(cloth_picture(draft, Surface.FACE, facing, 100)) == expected

    (row,) = rows_of_signs(warp.pieces[0], (0,), facing)
    signs = row.split()[2]
    assert signs == "".join("|" if end % 4 in (0, 1) else "-" for end in range(ENDS))[facing.from_left]


@pytest.mark.parametrize("facing", FACINGS)
def test_questions_record_and_card_count_the_end_from_that_side(loom, facing):
    side, other = facing.first_end.value, facing.first_end.opposite.value
    for kind, which, what in (
        (("Broken end",), "Say which end", ""),
        (("Threading, sleying, tie-up",), "An end on a wrong shaft", "On which shaft is "),
    ):
        for said, number, back in (
            (side, MARKED + 1, ""),
            (other, ENDS - MARKED, f", {ENDS - MARKED} from the {other}"),
        ):
            asked = ask_fault(loom.warp, loom.progress, facing)
            for words in (*kind, which, f"Count from the {said}", *str(number), "Done"):
                every = (*asked.answers, *asked.pad, *asked.foot)
                asked = next(answer for answer in every if answer.words == words).leads_to()
            assert f"{what}{'' if what else ', '}end {MARKED + 1} from the {side}{back}" in asked.words

    place = ask_place(loom.warp, loom.progress, facing, Units.METRIC)
    question = next(answer for answer in (*place.answers, *place.foot) if answer.words == "Not sure").leads_to()
    while not re.search(rf"end \d+ from the {side} ", question.words):
        question = next(answer for answer in question.foot if answer.words == "Not sure").leads_to()

    page = to_html(sheet(loom.warp, loom.entries), Units.METRIC, facing)
    assert f"at the {side}, as you sit at the loom" in page
    draft = loom.warp.pieces[0].draft
    card = tieup_card("Marked", draft, remap(draft, loom.warp.loom.loom), facing, Units.METRIC)
    assert f"first end at the {side}" in card


@pytest.mark.parametrize("facing", FACINGS)
def test_the_marked_end_is_up_at_the_fell_where_its_heddle_s_shaft_hangs_on_the_treadle_pressed(loom, facing):
    """The list of ties names shafts and treadles; the end that it lifts is the one that stands up in the picture."""
    warp, progress = loom.warp, begin(loom.warp)
    piece, expected = warp.pieces[0], MARKED if facing.first_end is Side.LEFT else ENDS - 1 - MARKED
    untied = replace(progress, now=progress.now._replace(tied=None))
    rows = cord_signs(warp, untied).rows
    assert [row.number for row in rows] == sorted(row.number for row in rows)
    lifts = {row.treadle for row in rows if "5" in row.tie.split()}
    for pick in range(4):
        # One pick at a time at the fell, as large squares; the marked end is red where it is on top.
        picture = rows_picture(warp, loom.progress, (pick,), 1, ENDS, facing).pixels
        red = (picture[..., 0].astype(int) - picture[..., 2] > 40).any(axis=0)
        here = {int(place * ENDS / picture.shape[1]) for place in np.flatnonzero(red)}
        footing = piece.footings[pick]
        assert here == ({expected} if lifts & {*footing.left, *footing.right} else set())


@pytest.mark.parametrize("facing", FACINGS)
def test_a_twill_runs_the_same_way_in_draft_and_cloth_on_paper(loom, facing):
    draft = loom.warp.pieces[0].draft
    (piece,) = sheet(loom.warp, loom.entries).pieces
    top = 6 if facing.first_pick is FirstPick.ON_TOP else 0
    drawn = draft_image(draft, facing)[CELL // 2 :: CELL, CELL // 2 :: CELL, 0] < 60
    in_draft = slope(drawn[top : top + ENDS, :ENDS])
    not_blue = cloth_image(piece, Surface.FACE, facing)[..., 0] > 100
    checked = drawdown_picture(draft, facing, 6)[3::6, 3::6, 0] < 100
    assert in_draft == slope(not_blue) == slope(checked)


@pytest.mark.parametrize("facing", FACINGS)
def test_a_draft_on_its_head_runs_as_the_cloth_at_the_fell(loom, facing):
    """With the first pick on top a draft shows its cloth the other way up, so there the twill runs the other way."""
    draft = loom.warp.pieces[0].draft
    drawn = drawdown_picture(draft, facing, 6)[3::6, 3::6, 0] < 100
    fell = rows_picture(loom.warp, loom.progress, tuple(range(7, -1, -1)), 8, ENDS, facing).pixels
    at_fell = fell[TEXELS // 2 :: TEXELS, TEXELS // 2 :: TEXELS, 0] > 100
    assert (slope(drawn) == slope(at_fell)) == (facing.first_pick is FirstPick.AT_BOTTOM)
