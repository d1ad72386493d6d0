"""The question that best tells places apart: the one after whose answer the fewest are left, on average.

With c places and answers that leave c1, c2, … of them, each place equally likely, (c1² + c2² + …) / c are left on
average. Places for which the answer is not known stay whatever it is; for the average they are shared out among the
answers. Of equal questions the easiest to answer wins: a colour before an end, a newer row before an older one. The
side of a shuttle comes last, because a missed pick turns it over.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from companion.weaving.finder import Evidence, SeenRow
from companion.weaving.pick_table import PickTable
from companion.weaving.sides import UNKNOWN, sides_at

ROWS_ASKED = 8
"""How far back a question goes: rows that a weaver can point at."""
MOST_COUNTED = 20
"""Picks since a change of shuttle beyond this are answered "more"."""
MOST_SHUTTLES = 8
"""The side is asked of so many shuttles at most: more do not lie in order on a bench."""
NOTHING_KNOWN = Evidence()


class Ask(Enum):
    """What a question asks for."""

    ROW = "which of these is the newest row"
    WEFT = "which weft is in this row"
    SINCE_CHANGE = "how many picks since the shuttle changed"
    END = "does this end lie over the weft in this row"
    TREADLE = "which treadle was pressed last"
    SIDE = "on which side does this shuttle lie"
    SECTION = "in which section"
    REPEAT = "in which repeat of its section"
    LENGTH = "how long is the piece so far"
    POINT = "where in the picture of the piece"


About = tuple[Ask, int, int | None, int | None]
"""What a question asks for: of which row, end (index) or yarn (index)."""


@dataclass(frozen=True, slots=True)
class PlaceQuestion:
    """A question about the row `row` (0 is the newest) and, for an end, the end `end` (indices).

    For a side, `yarn` (index) is that of the shuttle. `left_on_average` places remain; `left_at_worst` with the answer
    that helps least.
    """

    ask: Ask
    row: int
    end: int | None
    left_on_average: float
    left_at_worst: int
    yarn: int | None = None

    @property
    def about(self) -> About:
        """What is asked for, without what the answer brings."""
        return self.ask, self.row, self.end, self.yarn


@dataclass(frozen=True, slots=True)
class Split:
    """A question with how many places (or what share of them) each of its answers keeps; `either` are kept by all.

    For a length and a touch in a picture, which have no few answers, `kept` is what the answer keeps at each place.
    `counted` is how many picks or repeats may have to be counted.
    """

    ask: Ask
    kept: NDArray[np.float64]
    row: int = 0
    end: int | None = None
    yarn: int | None = None
    either: float = 0.0
    counted: int = 0

    @property
    def about(self) -> About:
        """What is asked for."""
        return self.ask, self.row, self.end, self.yarn


def best_question(
    table: PickTable,
    found: NDArray[np.int64],
    treadles: bool = False,
    known: Evidence = NOTHING_KNOWN,
    unsure: Collection[About] = (),
) -> PlaceQuestion | None:
    """Return the best question about these places; None where none of them tells any two apart.

    `found` are places by index (places, int64). `treadles`: the weaver remembers the feet, so a treadle may be asked
    for. What is `known` is not asked again, nor is what the weaver was `unsure` of.
    """
    best: PlaceQuestion | None = None
    for split in splits(table, found, treadles, known):
        kept = split.kept[split.kept > 0]
        if not len(kept) or split.about in unsure:
            continue
        left = float(((kept + split.either / len(kept)) * (kept + split.either)).sum() / len(found))
        if left < len(found) - 1e-9 and (best is None or left < best.left_on_average - 1e-9):
            worst = int(kept.max() + split.either)
            best = PlaceQuestion(split.ask, split.row, split.end, left, worst, split.yarn)
    return best


def splits(
    table: PickTable,
    found: NDArray[np.int64],
    treadles: bool,
    known: Evidence,
    likely: NDArray[np.float64] | None = None,
) -> Iterator[Split]:
    """Yield every question about these places (indices, int64) that is not answered by what is known.

    Each place counts as much as `likely` says (float64), 1 without.
    """
    if len(found) < 2:
        return
    each = np.ones(len(found)) if likely is None else likely
    rows = [known.rows[row] if row < len(known.rows) else SeenRow() for row in range(ROWS_ASKED)]
    for row, seen in enumerate(rows):
        if seen.yarns is None or len(seen.yarns) > 1:
            yield Split(Ask.WEFT, count_of(table.look_back(table.weft, found, row) + 1, each), row)
    if known.since_change is None:
        since = np.minimum(table.since_change[found], MOST_COUNTED + 1)
        yield Split(Ask.SINCE_CHANGE, count_of(since, each), counted=int(since.max()))
    yield from _splits_by_ends(table, found, rows, each)
    if treadles and known.treadle is None and table.pressed.shape[1]:
        yield Split(Ask.TREADLE, count_of(table.treadle_code[found], each))
    told = {yarn for yarn, _ in known.sides}
    for yarn in np.unique(table.weft[: table.picks][table.thrown[: table.picks]])[:MOST_SHUTTLES].tolist():
        if yarn not in told:
            sides = count_of(sides_at(table, yarn, found), each, UNKNOWN + 1)
            yield Split(Ask.SIDE, sides[:UNKNOWN], yarn=yarn, either=float(sides[UNKNOWN]))


def count_of(code: NDArray[np.int64], each: NDArray[np.float64], least: int = 0) -> NDArray[np.float64]:
    """Return how much there is of each code (codes, float64): every place of `code` (int64) counts as `each` says."""
    return np.asarray(np.bincount(code, weights=each, minlength=least), dtype=np.float64)


def _splits_by_ends(
    table: PickTable, found: NDArray[np.int64], rows: list[SeenRow], each: NDArray[np.float64]
) -> Iterator[Split]:
    one_end_each = _one_end_of_each_kind(table)
    sheds, every = len(table.raised), float(each.sum())
    for row, seen in enumerate(rows):
        code = table.look_back(table.shed_code, found, row) + 1
        of_shed = count_of(code, each, sheds + 1)
        none, of_shed = float(of_shed[0]), of_shed[1:]
        up = of_shed @ table.raised[:, one_end_each]
        for end, number in zip(one_end_each.tolist(), up.tolist(), strict=True):
            if end not in seen.up and end not in seen.down:
                kept = np.maximum(np.array([number, every - none - number, none]), 0.0)
                yield Split(Ask.END, kept, row, end)


def _one_end_of_each_kind(table: PickTable) -> NDArray[np.int64]:
    """Return the first end of each way of interlacing: the others would answer alike."""
    first: dict[bytes, int] = {}
    for end, column in enumerate(np.ascontiguousarray(table.raised.T)):
        first.setdefault(column.tobytes(), end)
    return np.array(list(first.values()), dtype=np.int64)
