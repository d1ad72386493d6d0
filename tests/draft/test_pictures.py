"""The pictures, read back by a decoder that shares no code with them."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from companion.draft.cloth import Surface, interlacement
from companion.draft.errors import DraftError
from companion.draft.facing import Facing, FirstPick, Side
from companion.draft.model import Colour, Draft, Layout, Lifted, Yarn
from companion.draft.pictures import GAP, MOST_PIXELS, cloth_picture, drawdown_picture
from companion.draft.png import png
from tests.draft.drafts import draft_of
from tests.oracles import png_reader

RED, GREEN, BLUE = Colour(200, 20, 20), Colour(20, 160, 40), Colour(20, 40, 200)

BOTTOM = Facing(Side.LEFT, FirstPick.AT_BOTTOM)
"""As the cloth lies before a weaver whose first end is on the left."""


def twill(**layouts):
    """Ends 1 to 4 red, green, red, green; all picks blue; sheds 12, 23, 34."""
    return Draft(
        shafts=4,
        threading=(0, 1, 2, 3),
        lifting=Lifted(draft_of(threading=[1, 2, 3, 4], plan=[[1, 2], [2, 3], [3, 4]]).lifting.plan),
        yarns=(Yarn("red", RED), Yarn("green", GREEN), Yarn("blue", BLUE)),
        warp=(0, 1, 0, 1),
        weft=(2, 2, 2),
        **layouts,
    )


@settings(max_examples=60, deadline=None)
@given(arrays.arrays(np.uint8, st.tuples(st.integers(1, 9), st.integers(1, 9), st.just(3))))
def test_a_png_reads_back_as_the_picture_it_was_made_of(image):
    assert png_reader.read(png(image)) == [[tuple(pixel) for pixel in row] for row in image.tolist()]


def test_a_damaged_png_is_noticed_by_the_reader_used_here():
    data = bytearray(png(np.zeros((2, 2, 3), np.uint8)))
    data[40] ^= 1
    with pytest.raises(ValueError, match="damaged"):
        png_reader.read(bytes(data))


def nearest(pixel):
    """Which yarn a shaded pixel shows: the one whose colour points the same way; None for a gap."""
    if tuple(pixel) == GAP:
        return None
    strength = {name: colour[part] for part, (name, colour) in enumerate(zip("rgb", [pixel] * 3, strict=True))}
    return max(strength, key=strength.get)


def middles(image, rows, columns):
    """The yarn in the middle of each cell of a picture that is rows x columns cells, top row first."""
    height, width = len(image) // rows, len(image[0]) // columns
    return [
        "".join(
            nearest(image[row * height + height // 2][column * width + width // 2]) or " " for column in range(columns)
        )
        for row in range(rows)
    ]


def test_the_face_lies_with_pick_1_at_the_bottom_and_end_1_on_the_left():
    # Sheds from pick 3 down to pick 1: 34, 23, 12; ends red, green, red, green over a blue weft.
    image = png_reader.read(png(cloth_picture(twill(), Surface.FACE, BOTTOM, 100)))
    assert middles(image, 3, 4) == ["bbrg", "bgrb", "rgbb"]


def test_the_back_is_what_one_sees_when_the_cloth_is_turned_over_sideways():
    image = png_reader.read(png(cloth_picture(twill(), Surface.BACK, BOTTOM, 100)))
    # Read through the cloth the back is rgbb, rbbg, bbrg from the top; turned over sideways it is mirrored.
    assert middles(image, 3, 4) == ["bbgr", "gbbr", "grbb"]


def test_threads_are_as_far_apart_as_the_draft_says():
    draft = twill(warp_layout=Layout(spacing_cm=(0.1, 0.2, 0.1, 0.2)), weft_layout=Layout(spacing_cm=(0.1, 0.3, 0.1)))
    rows, columns, _ = cloth_picture(draft, Surface.FACE, BOTTOM, 100).shape
    assert (rows, columns) == (50, 60)


def test_spacing_stated_one_way_only_is_taken_for_the_other():
    draft = twill(warp_layout=Layout(spacing_cm=(0.2,) * 4))
    assert cloth_picture(draft, Surface.FACE, BOTTOM, 50).shape == (30, 40, 3)
    draft = twill(weft_layout=Layout(spacing_cm=(0.2,) * 3))
    assert cloth_picture(draft, Surface.FACE, BOTTOM, 50).shape == (30, 40, 3)


def test_threads_thinner_than_their_spacing_leave_gaps_through_which_one_sees():
    layout = {"spacing_cm": (0.2,) * 4, "thickness_cm": (0.1,) * 4}
    draft = twill(warp_layout=Layout(**layout), weft_layout=Layout(**{key: sizes[:3] for key, sizes in layout.items()}))
    image = cloth_picture(draft, Surface.FACE, BOTTOM, 100)
    gaps = (image == GAP).all(axis=2)
    # Half of each way is thread, so a quarter of the cloth is open: 10 x 10 pixels at each of 12 crossings.
    assert gaps.sum() == 12 * 100
    # Between two picks the ends lie bare whichever is on top; between two ends the picks do.
    assert nearest(image[0, 10]) == "r"
    assert nearest(image[10, 0]) == "b"


def test_a_thread_is_lighter_along_its_middle_than_at_its_edges():
    image = cloth_picture(twill(), Surface.FACE, BOTTOM, 200).astype(int)
    end_1_at_pick_1 = image[-10, :20, 0]
    assert end_1_at_pick_1[10] > end_1_at_pick_1[0]
    assert end_1_at_pick_1[10] > end_1_at_pick_1[-1]


def test_threads_finer_than_a_pixel_still_show():
    draft = twill(warp_layout=Layout(spacing_cm=(0.001,) * 4), weft_layout=Layout(spacing_cm=(0.001,) * 3))
    picture = cloth_picture(draft, Surface.FACE, BOTTOM, 1)
    assert middles(png_reader.read(png(picture)), 3, 4) == [
        "bbrg",
        "bgrb",
        "rgbb",
    ]


@settings(max_examples=30, deadline=None)
@given(st.integers(1, 5), st.integers(1, 5), st.integers(2, 6), st.data())
def test_the_drawdown_has_a_dark_square_where_the_warp_is_up(picks, ends, cell, data):
    plan = data.draw(st.lists(st.sets(st.integers(1, ends)), min_size=picks, max_size=picks))
    draft = draft_of(threading=list(range(1, ends + 1)), shafts=ends, plan=plan)
    image = png_reader.read(png(drawdown_picture(draft, BOTTOM, cell)))
    assert (len(image), len(image[0])) == (picks * cell + 1, ends * cell + 1)
    cloth = interlacement(draft)
    for pick in range(picks):
        for end in range(ends):
            square = image[(picks - 1 - pick) * cell + 1][end * cell + 1]
            assert (sum(square) < 300) == cloth[pick, end]
    assert len({tuple(pixel) for row in image[::cell] for pixel in row}) == 1


def test_too_large_a_picture_and_no_cloth_are_refused_in_one_line():
    wide = draft_of(threading=[1, 2] * 500, plan=[[1], [2]] * 500)
    with pytest.raises(DraftError, match="too large"):
        drawdown_picture(wide, BOTTOM, 10)
    with pytest.raises(DraftError, match="too large"):
        cloth_picture(wide, Surface.FACE, BOTTOM, 100)
    longest = draft_of(threading=[1, 2] * 2_500, plan=[[1], [2]] * 2_501)
    for picture in (drawdown_picture(wide, BOTTOM), cloth_picture(wide, Surface.FACE, BOTTOM)):
        assert picture.shape[0] * picture.shape[1] <= MOST_PIXELS
    with pytest.raises(DraftError, match="too large"):
        drawdown_picture(longest, BOTTOM)
    with pytest.raises(DraftError, match="too large"):
        cloth_picture(longest, Surface.BACK, BOTTOM)
    empty = dataclasses.replace(wide, lifting=Lifted(()), weft=())
    with pytest.raises(DraftError, match="no cloth"):
        cloth_picture(empty, Surface.FACE, BOTTOM)
