"""The question that best tells positions apart: the one after whose answer the fewest are left, on average.

With c positions and answers that leave c1, c2, … of them, each position equally likely, (c1² + c2² + …) / c are left on
average. Of equal questions the easiest to answer wins: a colour before an end, a newer row before an older one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from companion.weaving.finder import look_back
from companion.weaving.pick_table import PickTable

ROWS_ASKED = 8
"""How far back a question goes: rows that a weaver can point at."""
MOST_COUNTED = 20
"""Picks since a change of shuttle beyond this are answered "more"."""


class Ask(Enum):
    """What a question asks for."""

    WEFT = "which weft is in this row"
    SINCE_CHANGE = "how many picks since the shuttle changed"
    END = "does this end lie over the weft in this row"
    TREADLE = "which treadle was pressed last"


@dataclass(frozen=True, slots=True)
class Question:
    """A question about the row `row` (0 is the newest) and, for an end, the end `end` (indices).

    `left_on_average` positions remain; `left_at_worst` with the answer that helps least.
    """

    ask: Ask
    row: int
    end: int | None
    left_on_average: float
    left_at_worst: int


def best_question(table: PickTable, found: NDArray[np.int64], treadles: bool = False) -> Question | None:
    """Return the best question about these positions; None where none of them tells any two apart.

    `treadles`: the weaver remembers the feet, so a treadle may be asked for.
    """
    best: Question | None = None
    for ask, row, end, counts in _splits(table, found, treadles):
        sizes = np.asarray(counts, dtype=np.float64)
        left = float((sizes * sizes).sum() / len(found))
        if left < len(found) - 1e-9 and (best is None or left < best.left_on_average - 1e-9):
            best = Question(ask, row, end, left, int(sizes.max()))
    return best


def _splits(
    table: PickTable, found: NDArray[np.int64], treadles: bool
) -> Iterator[tuple[Ask, int, int | None, NDArray[np.int64]]]:
    """Yield every question with how many positions each of its answers leaves."""
    if len(found) < 2:
        return
    for row in range(ROWS_ASKED):
        yield Ask.WEFT, row, None, np.bincount(look_back(table.weft, found, row) + 1)
    since = np.minimum(table.since_change[found], MOST_COUNTED + 1)
    yield Ask.SINCE_CHANGE, 0, None, np.bincount(since)
    one_end_each = _one_end_of_each_kind(table)
    sheds = len(table.raised)
    for row in range(ROWS_ASKED):
        of_shed = np.bincount(look_back(table.shed_code, found, row) + 1, minlength=sheds + 1)
        none, of_shed = int(of_shed[0]), of_shed[1:]
        up = of_shed @ table.raised[:, one_end_each]
        for end, number in zip(one_end_each, up, strict=True):
            yield Ask.END, row, int(end), np.array([number, len(found) - none - number, none])
    if treadles and table.pressed.shape[1]:
        yield Ask.TREADLE, 0, None, np.bincount(table.treadle_code[found])


def _one_end_of_each_kind(table: PickTable) -> NDArray[np.int64]:
    """Return the first end of each way of interlacing: the others would answer alike."""
    first: dict[bytes, int] = {}
    for end, column in enumerate(np.ascontiguousarray(table.raised.T)):
        first.setdefault(column.tobytes(), end)
    return np.array(list(first.values()), dtype=np.int64)
