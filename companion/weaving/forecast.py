"""How long the piece will still take: from the pace of the newest blocks of picks, with a range that is honest.

With n blocks of mean b and standard deviation s, the next m blocks take m·b, and in nine of ten cases
m·b ± t·s·√(m + m²/n): the scatter of what is to come and the doubt about the mean (prediction of a sum of independent
values; t is Student's for n - 1 degrees). Blocks of one sitting are alike, so a long way ahead the truth can lie
outside more often; the range never goes below the fastest block seen.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from statistics import mean, stdev

from companion.weaving.amounts import picks_ahead
from companion.weaving.picks_moved import BLOCK_PICKS
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

FEWEST_BLOCKS = 3
"""Fewer blocks than this tell no range."""
_T_95 = (
    6.314, 2.920, 2.353, 2.132, 2.015, 1.943, 1.895, 1.860, 1.833, 1.812,
    1.796, 1.782, 1.771, 1.761, 1.753, 1.746, 1.740, 1.734, 1.729,
)  # fmt: skip
"""Student's t that 95 % lie below, for 1 to 19 degrees of freedom."""


@dataclass(frozen=True, slots=True)
class Forecast:
    """Time at the loom to the end of the piece, in ms: likely, and between which bounds in nine of ten cases.

    `picks` are those ahead; `certain` is False where sections woven to a length could not be counted.
    """

    picks: int
    likely_ms: int
    least_ms: int
    most_ms: int
    certain: bool


def forecast(warp: Warp, progress: Progress) -> Forecast | None:
    """Return the forecast for the piece on the loom; None until FEWEST_BLOCKS blocks of picks were woven."""
    state = progress.now
    blocks = state.block_ms
    if len(blocks) < FEWEST_BLOCKS:
        return None
    ahead = picks_ahead(warp.pieces[state.piece], state)
    more = ahead.picks / BLOCK_PICKS
    each, scatter = mean(blocks), stdev(blocks)
    doubt = _T_95[len(blocks) - 2] * scatter * sqrt(more + more * more / len(blocks))
    return Forecast(
        picks=ahead.picks,
        likely_ms=round(more * each),
        least_ms=round(max(more * each - doubt, more * min(blocks))),
        most_ms=round(more * each + doubt),
        certain=ahead.certain,
    )
