"""A twill with one marked end, to be looked for on every picture, and where it is found."""

from __future__ import annotations

import numpy as np

from companion.draft.facing import Facing, FirstPick, Side
from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import Colour, Draft, Treadled, Yarn

ENDS, MARKED = 12, 1
"""The second end is red, on a shaft of its own; it is on top in every other shed."""
RED, WHITE, BLUE = Colour(220, 20, 20), Colour(245, 245, 245), Colour(20, 40, 200)
FACINGS = [Facing(side, at) for side in Side for at in FirstPick]


def marked_twill() -> Draft:
    """A 2/2 twill to end 12, whose second end is alone on shaft 5 but rises with shaft 2."""
    ties = [[1, 2, 5], [2, 3, 5], [3, 4], [1, 4]]
    return Draft(
        shafts=5,
        threading=tuple(4 if end == MARKED else end % 4 for end in range(ENDS)),
        lifting=Treadled(
            tuple(shed_of(tie) for tie in ties), tuple(treadle_set([pick % 4 + 1]) for pick in range(ENDS))
        ),
        yarns=(Yarn("white", WHITE), Yarn("red", RED), Yarn("blue", BLUE)),
        warp=tuple(int(end == MARKED) for end in range(ENDS)),
        weft=(2,) * ENDS,
        title="Marked",
    )


def red_column(picture, columns=ENDS):
    """The column of squares, from the left, that has red in it."""
    red = (picture[..., 0].astype(int) - picture[..., 2] > 40).any(axis=0)
    (column,) = {int(place * columns / picture.shape[1]) for place in np.flatnonzero(red)}
    return column
