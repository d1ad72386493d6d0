"""The quarters of the draft: where they lie, and that a touch finds the square it is on, in windows of many sizes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.facing import FROM_RIGHT, Facing, FirstPick, Side
from companion.draft.floats import Threads
from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import Colour, Draft, Lifted, Treadled, Yarn
from companion.draft.stretches import Stretch
from companion.present.draft_sheet import Corner, DraftPart, Quarter, Shown, Square, columns_beside, draft_sheet
from companion.present.harness import Box

ACROSS = (Quarter.CLOTH, Quarter.TREADLING, Quarter.WEFT_COLOURS, Quarter.PICK_NUMBERS)
UP = (Quarter.CLOTH, Quarter.THREADING, Quarter.WARP_COLOURS, Quarter.END_NUMBERS)


def draft_of(shafts, treadles, ends, picks):
    """A draft of this extent; without treadles a lift plan."""
    lifting = (
        Treadled(
            tuple(shed_of([treadle % shafts + 1]) for treadle in range(treadles)),
            tuple(treadle_set([pick % treadles + 1]) for pick in range(picks)),
        )
        if treadles
        else Lifted(tuple(shed_of([pick % shafts + 1]) for pick in range(picks)))
    )
    return Draft(
        shafts=shafts,
        threading=tuple(end % shafts for end in range(ends)),
        lifting=lifting,
        yarns=(Yarn("oat", Colour(230, 220, 190)),),
        warp=(0,) * ends,
        weft=(0,) * picks,
    )


corners = st.builds(Corner, st.integers(0, 400), st.integers(0, 400), st.integers(0, 50), st.integers(0, 50))


facings = st.builds(Facing, st.sampled_from(Side), st.sampled_from(FirstPick))


@st.composite
def sheets(draw):
    draft = draft_of(
        draw(st.integers(1, 40)), draw(st.integers(0, 40)), draw(st.integers(0, 300)), draw(st.integers(0, 300))
    )
    area = Box(
        draw(st.integers(0, 30)), draw(st.integers(0, 90)), draw(st.integers(200, 1300)), draw(st.integers(200, 1300))
    )
    cell = draw(st.floats(1, 60))
    return (
        draft,
        area,
        draft_sheet(draft, area, cell, FROM_RIGHT, draw(corners), draw(st.none() | st.sampled_from(DraftPart))),
    )


def squares_of(grid, quarter):
    columns = range(grid.first_column, grid.first_column + grid.columns)
    rows = range(grid.first_row, grid.first_row + grid.rows)
    return [
        Square(quarter, column, row)
        for column in columns[:: max(len(columns) // 7, 1)]
        for row in (*rows[:9], *rows[-2:])
    ]


@given(sheets())
def test_the_middle_of_every_square_is_touched_as_that_square(drawn):
    _draft, _area, sheet = drawn
    for quarter, grid in sheet.grids.items():
        for square in squares_of(grid, quarter):
            box = sheet.box_of(square)
            assert sheet.square_at(box.x + box.width / 2, box.y + box.height / 2) == square


@given(sheets())
def test_every_quarter_lies_in_the_area_and_no_two_overlap(drawn):
    _draft, area, sheet = drawn
    boxes = [grid.box for grid in sheet.grids.values()]
    for index, one in enumerate(boxes):
        assert area.x <= one.x
        assert one.x + one.width <= area.x + area.width
        assert area.y <= one.y
        assert one.y + one.height <= area.y + area.height
        for other in boxes[index + 1 :]:
            assert (
                one.x + one.width <= other.x
                or other.x + other.width <= one.x
                or one.y + one.height <= other.y
                or other.y + other.height <= one.y
            )


@given(sheets())
def test_only_threads_that_there_are_come_into_the_window_and_it_is_full_where_there_are_enough(drawn):
    draft, area, sheet = drawn
    for shown, number in ((sheet.ends, draft.ends), (sheet.picks, draft.picks)):
        assert 0 <= shown.first <= shown.first + shown.number <= number == shown.all
    across = sum(sheet.grids[quarter].columns for quarter in ACROSS if quarter in sheet.grids)
    up = sum(sheet.grids[quarter].rows for quarter in UP if quarter in sheet.grids)
    if sheet.ends.number < draft.ends and sheet.picks.number:
        assert (across + 1) * sheet.cell > area.width - 3 * sheet.gap - sheet.cell
    if sheet.picks.number < draft.picks and sheet.ends.number:
        assert (up + 1) * sheet.cell > area.height - 3 * sheet.gap - sheet.cell


@given(sheets())
def test_a_draft_to_read_shows_all_its_shafts_and_treadles(drawn):
    draft, _area, sheet = drawn
    if not {Quarter.END_NUMBERS, Quarter.PICK_NUMBERS} & set(sheet.grids) and sheet.gap > sheet.cell // 8 > 0:
        assert sheet.shafts == Shown(0, draft.shafts, draft.shafts)
        assert sheet.treadles.number == columns_beside(draft)


@pytest.mark.parametrize("part", DraftPart)
@pytest.mark.parametrize(("width", "height"), [(788, 350), (1010, 460), (1270, 630), (780, 1080)])
@pytest.mark.parametrize(("shafts", "treadles"), [(4, 6), (8, 10), (40, 66)])
def test_a_finger_finds_squares_as_large_as_wanted_in_the_part_that_is_changed(part, width, height, shafts, treadles):
    """The heights are what is left of the windows besides the line above and the buttons below."""
    sheet = draft_sheet(draft_of(shafts, treadles, 200, 300), Box(0, 0, width, height), 48, FROM_RIGHT, part=part)
    assert sheet.cell == 48
    if part is not DraftPart.TREADLING:
        assert sheet.shafts.number >= 4
    if part is not DraftPart.THREADING:
        assert sheet.treadles.number >= 6
    if part is DraftPart.THREADING:
        assert sheet.ends.number >= 6
    if part is DraftPart.TREADLING:
        assert sheet.picks.number >= 5


@pytest.mark.parametrize("part", DraftPart)
def test_every_shaft_treadle_end_and_pick_can_be_reached_in_the_part_that_is_changed(part):
    draft = draft_of(24, 30, 100, 120)

    def seen(corner):
        return draft_sheet(draft, Box(0, 0, 788, 350), 48, FROM_RIGHT, corner, part)

    last = seen(Corner(999, 999, 999, 999))
    for shown in (last.ends, last.picks, last.shafts, last.treadles):
        assert shown.first + shown.number == shown.all


def test_a_finger_beside_the_shafts_moves_the_shafts_only_where_some_are_out_of_sight():
    many = draft_sheet(draft_of(24, 8, 100, 120), Box(0, 0, 788, 350), 48, FROM_RIGHT, part=DraftPart.THREADING)
    box = many.grids[Quarter.THREADING].box
    assert many.drag(box.x + box.width + 20, box.y + 5, 2, 1) == (2, 0, -1, 0)
    assert many.drag(box.x + 5, box.y + box.height + 60, 2, 1) == (2, 1, 0, 0)
    few = draft_sheet(draft_of(4, 8, 100, 120), Box(0, 0, 788, 350), 48, FROM_RIGHT, part=DraftPart.THREADING)
    box = few.grids[Quarter.THREADING].box
    assert few.drag(box.x + box.width + 20, box.y + 5, 2, 1) == (2, 1, 0, 0)


def test_a_finger_on_the_numbers_of_treadles_moves_them_where_some_are_out_of_sight():
    sheet = draft_sheet(draft_of(4, 40, 100, 120), Box(0, 0, 788, 350), 48, FROM_RIGHT, part=DraftPart.TREADLING)
    box = sheet.grids[Quarter.TREADLING].box
    assert sheet.drag(box.x + 5, box.y + box.height + 20, 2, 1) == (0, 1, 0, -2)


def test_what_is_marked_is_cut_off_at_the_window():
    sheet = draft_sheet(
        draft_of(4, 6, 100, 120), Box(0, 0, 788, 350), 48, FROM_RIGHT, Corner(10, 20), DraftPart.THREADING
    )
    numbers = sheet.grids[Quarter.END_NUMBERS]
    whole = sheet.span(Stretch(Threads.WARP, 0, 100), Quarter.END_NUMBERS)
    assert whole == numbers.box
    two = sheet.span(Stretch(Threads.WARP, 11, 13), Quarter.END_NUMBERS)
    assert (two.x, two.x + two.width) == (numbers.box_of(12, 0).x, numbers.box_of(10, 0).x)
    assert sheet.span(Stretch(Threads.WARP, 0, 10), Quarter.END_NUMBERS) is None
    assert sheet.span(Stretch(Threads.WARP, 11, 13), Quarter.PICK_NUMBERS) is None


def test_first_threads_meet_at_the_tie_up_as_in_printed_drafts():
    """End 1, pick 1, shaft 1 and treadle 1 lie nearest the corner where the four quarters meet (common practice, no
    source)."""
    sheet = draft_sheet(draft_of(4, 6, 20, 30), Box(0, 0, 800, 600), 20, FROM_RIGHT)

    def at(quarter, column, row):
        return sheet.box_of(Square(quarter, column, row))

    end_1, end_2 = at(Quarter.THREADING, 0, 0), at(Quarter.THREADING, 1, 0)
    shaft_2 = at(Quarter.THREADING, 0, 1)
    treadle_1, treadle_2 = at(Quarter.TIE_UP, 0, 0), at(Quarter.TIE_UP, 1, 0)
    pick_1, pick_2 = at(Quarter.TREADLING, 0, 0), at(Quarter.TREADLING, 0, 1)
    assert end_2.x < end_1.x < treadle_1.x < treadle_2.x
    assert pick_2.y < pick_1.y < end_1.y < shaft_2.y
    assert end_1.y == treadle_1.y
    assert treadle_1.x == pick_1.x
    cloth_1 = at(Quarter.CLOTH, 0, 0)
    assert (cloth_1.x, cloth_1.y) == (end_1.x, pick_1.y)


def test_squares_scrolled_out_of_the_window_have_no_box():
    sheet = draft_sheet(draft_of(4, 4, 400, 400), Box(0, 0, 400, 400), 20, FROM_RIGHT, Corner(50, 60))
    assert sheet.box_of(Square(Quarter.CLOTH, 49, 60)) is None
    assert sheet.box_of(Square(Quarter.CLOTH, 50, 59)) is None
    assert sheet.box_of(Square(Quarter.CLOTH, 50, 60)) is not None
    assert sheet.box_of(Square(Quarter.CLOTH, 50 + sheet.ends.number, 60)) is None


@pytest.mark.parametrize(("ends", "picks"), [(0, 0), (0, 5), (5, 0)])
def test_a_draft_without_ends_or_picks_has_the_quarters_that_are_left(ends, picks):
    sheet = draft_sheet(draft_of(4, 4, ends, picks), Box(0, 0, 400, 400), 20, FROM_RIGHT)
    assert (Quarter.CLOTH in sheet.grids) is False
    assert (Quarter.THREADING in sheet.grids) is (ends > 0)
    assert (Quarter.TREADLING in sheet.grids) is (picks > 0)
    assert Quarter.TIE_UP in sheet.grids


def test_beside_a_lift_plan_stand_its_shafts_and_no_tie_up():
    sheet = draft_sheet(draft_of(8, 0, 20, 20), Box(0, 0, 800, 600), 20, FROM_RIGHT)
    assert Quarter.TIE_UP not in sheet.grids
    assert sheet.grids[Quarter.TREADLING].columns == 8
