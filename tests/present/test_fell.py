"""The drawn crossings show which thread is on top, even in one colour."""

from __future__ import annotations

import numpy as np

from companion.present.fell import TEXELS, crossings_picture


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
