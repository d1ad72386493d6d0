"""Which ends to draw of cloths that are pointed at: the first ones, unless they would not tell the cloths apart."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from companion.draft.facing import Facing
from companion.present.fell import ends_up
from companion.weaving.warp import Piece


def end_that_tells(piece: Piece, cloths: Sequence[Sequence[int]], ends: int) -> int:
    """Return the first end (index) of so many side by side that tell these cloths (picks, newest first) apart best.

    Of windows that tell as many of them apart it is the one nearest to the first end.
    """
    draft = piece.draft
    rows = max(map(len, cloths), default=0)
    colours = {colour: code for code, colour in enumerate(dict.fromkeys(yarn.colour for yarn in draft.yarns))}
    looks = np.full((len(cloths), rows, draft.ends), -1)
    warp = np.array([colours[draft.yarns[yarn].colour] for yarn in draft.warp])
    for cloth, picks in enumerate(cloths):
        for row, pick in enumerate(picks):
            weft = colours[draft.yarns[draft.weft[pick]].colour]
            looks[cloth, row] = np.where(ends_up(draft, piece.sheds[pick]), len(colours) + warp, weft)
    firsts = range(0, max(draft.ends - ends, 0) + 1, max(ends // 2, 1))
    return max(firsts, key=lambda first: (len({look[:, first : first + ends].tobytes() for look in looks}), -first))


def window_words(first: int, ends: int, facing: Facing) -> str:
    """Return which ends are drawn where these are not the first: `ends 33 to 56 from the left`; else nothing."""
    return f"ends {first + 1} to {first + ends} from the {facing.first_end.value}" if first else ""
