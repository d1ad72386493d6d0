"""The drawn crossings show which thread is on top, even in one colour."""

from __future__ import annotations

import numpy as np
import pytest

from companion.draft.cloth import Surface
from companion.draft.facing import FROM_LEFT, FROM_RIGHT
from companion.present.fell import TEXELS, crossings_picture, fell_picture, rows_picture
from companion.present.fell_words import turned_words
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import begin
from tests.screens.warps import twill_warp
from tests.weaving.world import lever_draft, lever_warp


def test_a_crossing_is_shaded_along_the_upper_thread():
    up = np.array([[True, False]])
    grey = np.full((1, 2, 3), 200, np.uint8)
    picture = crossings_picture(up, grey).pixels
    assert picture.shape == (TEXELS, 2 * TEXELS, 3)
    warp, weft = picture[:, :TEXELS, 0], picture[:, TEXELS:, 0]
    assert (warp == warp[0]).all()
    assert (weft == weft[:, :1]).all()
    assert warp[0, 0] < warp[0, TEXELS // 2] == 200
    assert weft[0, 0] < weft[TEXELS // 2, 0] == 200


def test_each_crossing_keeps_its_own_colour_and_place():
    colours = np.arange(2 * 3 * 3, dtype=np.uint8).reshape(2, 3, 3) * 10
    picture = crossings_picture(np.ones((2, 3), bool), colours).pixels
    middle = TEXELS // 2
    assert (picture[middle::TEXELS, middle::TEXELS] == colours).all()


def test_on_the_back_of_the_next_pick_the_other_thread_is_on_top_at_every_crossing():
    warp = twill_warp()
    middle = TEXELS // 2
    face, back = (
        fell_picture(warp, begin(warp), this_pick(warp, begin(warp)), 4, 8, FROM_LEFT, surface).pixels[:TEXELS]
        for surface in (Surface.FACE, Surface.BACK)
    )
    # All yarn of the first pick is of one colour, so that the shading tells which thread lies on top.
    for end in range(8):
        lies = [picture[:, end * TEXELS : (end + 1) * TEXELS, 0] for picture in (face, back)]
        warp_on_top = [bool((tile[:, 0] < tile[:, middle]).all()) for tile in lies]
        assert warp_on_top == [end % 4 in (0, 1), end % 4 not in (0, 1)]
    assert (turned_words(Surface.FACE), turned_words(Surface.BACK)) == ("", "Back of the cloth")


def test_of_a_piece_woven_face_down_the_back_lies_up_and_is_called_so():
    warp = twill_warp()
    turned = twill_warp(face_down=True)
    for there, below in ((Surface.FACE, Surface.BACK), (Surface.BACK, Surface.FACE)):
        shown = [
            fell_picture(one, begin(one), this_pick(one, begin(one)), 4, 8, FROM_LEFT, surface).pixels[:TEXELS]
            for one, surface in ((turned, there), (warp, below))
        ]
        assert (shown[0] == shown[1]).all()
    assert turned_words(Surface.FACE, face_down=True) == "Face down: the back lies up"
    assert turned_words(Surface.BACK, face_down=True) == "Face of the cloth, below on the loom"


def test_of_a_piece_without_picks_the_bare_warp_is_drawn():
    warp = lever_warp(lever_draft([]))
    bare = fell_picture(warp, begin(warp), this_pick(warp, begin(warp)), 4, 8, FROM_LEFT).pixels
    assert bare.shape == (4 * TEXELS, 8 * TEXELS, 3)
    rows = bare.reshape(4, TEXELS, 8 * TEXELS, 3)
    assert (rows == rows[0, 0]).all()


@pytest.mark.parametrize("facing", [FROM_LEFT, FROM_RIGHT])
def test_a_line_of_the_cloth_looks_alone_as_it_does_among_others_that_come_again(facing):
    warp = twill_warp(rounds=4)
    picks = tuple(reversed(range(16)))
    whole = rows_picture(warp, begin(warp), picks, 16, 8, facing).pixels
    alone = [rows_picture(warp, begin(warp), (pick,), 1, 8, facing).pixels for pick in picks]
    assert (whole == np.concatenate(alone)).all()
    # Four sheds, each always of the same yarn.
    assert len({row.tobytes() for row in alone}) == 4
