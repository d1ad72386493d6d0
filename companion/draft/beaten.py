"""Which picks of a beaten cloth hide others: a weft that floats over the cloth slides over one that floats below it.

Two picks beside one another slide over each other where the ends above the one are all above the other too: then the
first lies on top of the second everywhere, and the beater closes the cloth until it covers it, as in double-faced and
double cloths. Where the two differ by less than half the ends, neither has room to go under (common practice, no
source).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray


class BeatenRow(NamedTuple):
    """A row that is seen: which of the picks it is (index among those given), and how many picks lie in it."""

    pick: int
    picks: int


def beaten_rows(up: NDArray[np.bool_]) -> tuple[BeatenRow, ...]:
    """Return the rows seen of these picks (picks x ends, bool, True = warp up), in their order.

    The first one has nothing beaten upon it yet, and is always seen: it may cover the second, and never lies below it.
    """
    rows: list[BeatenRow] = []
    pick, picks = 0, len(up)
    # In most cloths the same few picks come upon each other again and again.
    told: dict[tuple[bytes, bytes], int | None] = {}
    same = [row.tobytes() for row in up]
    while pick < picks:
        on_top = None
        if pick + 1 < picks:
            two = same[pick], same[pick + 1]
            if two not in told:
                told[two] = _on_top(up[pick], up[pick + 1])
            on_top = told[two]
        if on_top is None or (pick == 0 and on_top != 0):
            rows.append(BeatenRow(pick, 1))
            pick += 1
        else:
            rows.append(BeatenRow(pick + on_top, 2))
            pick += 2
    return tuple(rows)


def _on_top(one: NDArray[np.bool_], other: NDArray[np.bool_]) -> int | None:
    """Return which of a pick and the next, 0 or 1, lies on top of the other everywhere; None where neither does."""
    apart = int(np.count_nonzero(one != other))
    if 2 * apart < len(one):
        return None
    if not (one & ~other).any():
        return 0
    return 1 if not (other & ~one).any() else None
