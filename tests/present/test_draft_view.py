"""Pictures of a draft's quarters, read back square by square, and floats against a slow count of runs."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from companion.draft.cloth import Surface
from companion.draft.facing import FROM_RIGHT, Facing, FirstPick, Side
from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import Colour, Draft, Lifted, Treadled, Yarn
from companion.present.draft_sheet import Corner, DraftPart, Quarter, Square, draft_sheet
from companion.present.draft_view import Inks, marked_floats, quarter_picture, view_of
from companion.present.harness import Box

INKS = Inks(
    ground=Colour(1, 1, 1),
    mark=Colour(250, 250, 250),
    line=Colour(60, 60, 60),
    tens=Colour(90, 90, 90),
    float_mark=Colour(255, 255, 0),
    float_edge=Colour(0, 0, 0),
)
YARNS = (Yarn("oat", Colour(230, 220, 190)), Yarn("indigo", Colour(60, 70, 120)), Yarn("madder", Colour(170, 50, 40)))
SHAFTS, TREADLES = 4, 5
PARTS = st.none() | st.sampled_from(DraftPart)


@st.composite
def drafts(draw):
    ends, picks = draw(st.integers(1, 30)), draw(st.integers(1, 30))
    shed = st.integers(0, 2**SHAFTS - 1).map(lambda mask: shed_of(s + 1 for s in range(SHAFTS) if mask >> s & 1))
    pressed = st.integers(0, 2**TREADLES - 1).map(
        lambda mask: treadle_set(t + 1 for t in range(TREADLES) if mask >> t & 1)
    )

    def many(what, number):
        return tuple(draw(st.lists(what, min_size=number, max_size=number)))

    lifting = Lifted(many(shed, picks)) if draw(st.booleans()) else Treadled(many(shed, TREADLES), many(pressed, picks))
    return Draft(
        shafts=SHAFTS,
        threading=many(st.one_of(st.none(), st.integers(0, SHAFTS - 1)), ends),
        lifting=lifting,
        yarns=YARNS,
        warp=many(st.integers(0, 2), ends),
        weft=many(st.integers(0, 2), picks),
        rising=draw(st.booleans()),
    )


facings = st.builds(Facing, st.sampled_from(Side), st.sampled_from(FirstPick))


def middle(picture, grid, sheet, square):
    """The colour in the middle of a square, taken from the picture as it lies in its grid's box."""
    box = sheet.box_of(square)
    column = int(box.x + box.width / 2 - grid.box.x)
    row = int(grid.box.y + grid.box.height - (box.y + box.height / 2))
    return tuple(picture.pixels[row, column].tolist())


def meant(draft, square):
    """Whether the draft has a mark there, said without the program's pictures."""
    column, row = square.column, square.row
    match square.quarter:
        case Quarter.THREADING:
            return draft.threading[column] == row
        case Quarter.TIE_UP:
            return bool(draft.lifting.tieup[column] >> row & 1)
        case Quarter.TREADLING:
            moved = draft.lifting.plan if isinstance(draft.lifting, Lifted) else draft.lifting.treadling
            return bool(moved[row] >> column & 1)


def nearest_yarn(colour):
    return min(range(3), key=lambda yarn: sum((a - b) ** 2 for a, b in zip(colour, YARNS[yarn].colour, strict=True)))


@given(drafts(), st.integers(0, 30), st.integers(0, 30), st.integers(6, 60), st.sampled_from(Surface), PARTS, facings)
def test_what_the_pictures_show_in_every_square_is_what_the_draft_says(draft, end, pick, cell, surface, part, facing):
    sheet = draft_sheet(draft, Box(0, 0, 400, 300), cell, facing, Corner(end, pick, end % 4, pick % 5), part)
    view = view_of(draft, surface)
    sheds = draft.sheds()
    for quarter, grid in sheet.grids.items():
        if quarter in (Quarter.END_NUMBERS, Quarter.PICK_NUMBERS):
            continue
        picture = quarter_picture(view, quarter, grid, sheet.cell, INKS)
        assert picture.pixels.shape == (grid.box.height, grid.box.width, 3)
        assert not picture.pixels.flags.writeable
        for column in range(grid.first_column, grid.first_column + grid.columns):
            for row in range(grid.first_row, grid.first_row + grid.rows):
                square = Square(quarter, column, row)
                seen = middle(picture, grid, sheet, square)
                if quarter is Quarter.WARP_COLOURS:
                    assert nearest_yarn(seen) == draft.warp[column]
                elif quarter is Quarter.WEFT_COLOURS:
                    assert nearest_yarn(seen) == draft.weft[row]
                elif quarter is Quarter.CLOTH:
                    shaft = draft.threading[column]
                    up = shaft is not None and bool(sheds[row] >> shaft & 1)
                    warp_on_top = up == (surface is Surface.FACE)
                    assert nearest_yarn(seen) == (draft.warp[column] if warp_on_top else draft.weft[row])
                else:
                    assert seen == (INKS.mark if meant(draft, square) else INKS.ground)


@given(arrays(np.bool_, st.tuples(st.integers(1, 25), st.integers(1, 5))), st.integers(1, 8))
def test_marked_floats_are_the_runs_longer_than_asked(up, longer_than):
    expected = np.zeros_like(up)
    for column in range(up.shape[1]):
        row = 0
        while row < len(up):
            end = row
            while end < len(up) and up[end, column]:
                end += 1
            if end - row > longer_than:
                expected[row:end, column] = True
            row = max(end, row + 1)
    assert np.array_equal(marked_floats(up, longer_than), expected)


@given(drafts(), st.integers(0, 30), st.integers(0, 30), st.sampled_from(Surface), st.sampled_from([1, 3, 5]))
def test_a_float_is_marked_in_a_window_as_it_is_in_the_whole_cloth(draft, end, pick, surface, longer_than):
    """Floats that reach out of the window are marked inside it although only a part of them is seen."""
    whole = draft_sheet(draft, Box(0, 0, 1200, 1200), 12, FROM_RIGHT)
    part = draft_sheet(draft, Box(0, 0, 260, 230), 12, FROM_RIGHT, Corner(end, pick))
    view = view_of(draft, surface, longer_than)
    pictures = [
        quarter_picture(view, Quarter.CLOTH, sheet.grids[Quarter.CLOTH], sheet.cell, INKS) for sheet in (whole, part)
    ]
    grid = part.grids[Quarter.CLOTH]
    for column in range(grid.first_column, grid.first_column + grid.columns):
        for row in range(grid.first_row, grid.first_row + grid.rows):
            square = Square(Quarter.CLOTH, column, row)
            one, other = (
                middle(picture, sheet.grids[Quarter.CLOTH], sheet, square) == INKS.float_mark
                for picture, sheet in zip(pictures, (whole, part), strict=True)
            )
            assert one == other


def test_a_long_float_is_marked_only_where_it_is_longer_than_asked():
    draft = Draft(
        shafts=2,
        threading=(0, 1),
        lifting=Lifted(tuple(shed_of(shafts) for shafts in ([1], [1], [1], [1, 2], [2], [1]))),
        yarns=YARNS,
        warp=(0, 0),
        weft=(1,) * 6,
    )
    sheet = draft_sheet(draft, Box(0, 0, 400, 400), 16, FROM_RIGHT)
    grid = sheet.grids[Quarter.CLOTH]

    def marked(longer_than):
        picture = quarter_picture(view_of(draft, Surface.FACE, longer_than), Quarter.CLOTH, grid, sheet.cell, INKS)
        squares = [Square(Quarter.CLOTH, end, pick) for end in (0, 1) for pick in range(6)]
        return [
            (square.column, square.row) for square in squares if middle(picture, grid, sheet, square) == INKS.float_mark
        ]

    assert marked(3) == [(0, 0), (0, 1), (0, 2), (0, 3)]
    assert marked(4) == []


@pytest.mark.parametrize("first", [0, 3, 9, 10, 15])
def test_a_line_stands_after_every_ten_ends(first):
    draft = Draft(SHAFTS, (0,) * 45, Lifted((shed_of([1]),)), YARNS, (0,) * 45, (1,))
    sheet = draft_sheet(draft, Box(0, 0, 300, 300), 10, FROM_RIGHT, Corner(first))
    grid = sheet.grids[Quarter.THREADING]
    top = quarter_picture(view_of(draft), Quarter.THREADING, grid, sheet.cell, INKS).pixels[5]
    lined = {
        # The line on the left of a square stands between its end and the next one.
        grid.first_column + grid.columns - x // sheet.cell
        for x in range(0, grid.columns * sheet.cell, sheet.cell)
        if tuple(top[x].tolist()) == INKS.tens
    }
    assert lined == {ends for ends in (10, 20, 30, 40) if first < ends < first + grid.columns}
