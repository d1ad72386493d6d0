"""Which ends of cloths to point at are drawn: the first ones, unless others tell more of them apart."""

from __future__ import annotations

from companion.draft.facing import FROM_LEFT
from companion.draft.masks import shed_of
from companion.draft.model import Colour, Draft, Lifted, Yarn
from companion.present.ends_that_tell import end_that_tells, window_words
from companion.weaving.warp import Piece

BLOCKS = Draft(
    shafts=4,
    threading=(0, 1) * 20 + (2, 3) * 20,
    lifting=Lifted(tuple(shed_of(up) for up in ([1, 3], [1, 4], [2, 4]))),
    yarns=(Yarn("oat", Colour(230, 220, 190)), Yarn("sea", Colour(26, 90, 120))),
    warp=(0,) * 80,
    weft=(1, 1, 1),
)
"""Two blocks of 40 ends: the first two sheds differ in the second block alone."""


def test_the_first_ends_are_drawn_where_they_tell_the_cloths_apart_and_else_those_that_do():
    piece = Piece("blocks", BLOCKS)
    assert end_that_tells(piece, [(0,), (2,)], 16) == 0
    first = end_that_tells(piece, [(0,), (1,)], 16)
    # Windows of 16 begin every 8 ends; the first that reaches into the second block begins at 32.
    assert first == 32
    assert window_words(first, 16, FROM_LEFT) == "ends 33 to 48 from the left"
    assert window_words(0, 16, FROM_LEFT) == ""


def test_cloths_that_nothing_tells_apart_are_drawn_from_the_first_end():
    assert end_that_tells(Piece("blocks", BLOCKS), [(0,), (0,)], 16) == 0
    assert end_that_tells(Piece("blocks", BLOCKS), [(0, 2), (1, 0)], 400) == 0
