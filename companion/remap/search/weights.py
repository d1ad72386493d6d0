"""A lower bound by weights, whatever the feet can press: a fooling set in parts.

Give every pull of every target a weight. A column that is pressed for some targets brings each of them no more than all
that lies in it; let no column bring more than a weight of one in all. Every pull has to be brought, so there are at
least as many columns as the weights add up to (the fractional cover by rectangles, in its dual; N. Nisan and E.
Kushilevitz, Communication Complexity, 1997, section 2.4, from memory). A fooling set is the case where the weights are
nothing or one; with parts the bound is often several treadles higher, on twills above all.

The weights that add up to most are a linear program, with a row for each column worth a look. Pulls that are alike may
as well weigh the same, and then columns that are alike bring the same: a large program is put together kind by kind (M.
Grohe, K. Kersting, M. Mladenov and E. Selman, Dimension reduction via colour refinement, ESA 2014, from memory), which
leaves a few rows of the thousands of a twill. It is solved by the simplex method, which may begin at nothing: all rows
allow it (G.B. Dantzig, Linear Programming and Extensions, 1963, from memory). The rows are made to differ a little, so
that it does not go in a ring.

Only the weights come from floating-point numbers. They are rounded to whole parts, what each column brings is added up
in whole numbers, and the most that any brings counts as one: the proof is exact, however good or bad the weights are.

Lemmas and proofs: assets/mathematics.md, "Weights of pulls".
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from companion.draft.masks import bits_of, has_bit
from companion.remap.loom.targets import Target
from companion.remap.search.choices import Ints, columns_worth_a_look
from companion.remap.search.engine import Found
from companion.remap.search.prices import Floats
from companion.remap.search.watch import SearchPausedError, Watch

TURN = 200
"""Nodes of one turn, each an exchange of the simplex method."""

MOST_ENTRIES = 600_000
"""Columns times pulls of targets: beyond, an exchange takes some milliseconds."""

WHOLE = 2**20
"""The weight of one, in parts."""

APART = 1e-7
"""By how much the rows differ from one to the next."""

NEARLY_NOTHING = 1e-9

MANY_ENTRIES = 60_000
"""Beyond, what is alike gets one weight together: an exchange of the whole table takes more than a tenth of a
millisecond. Below that the whole table has more answers to take the mean of, and `thrift` goes better by it."""
MARK = 2**40
"""Marks are about as large: sums of some thousands stay whole numbers of 64 bits."""

MEAN_OF, NUDGE = 8, 1e-3
"""Of how many weights the mean is taken, and by how much pulls count more or less for each."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """Weights in whole parts, for each target by pull; no column brings more than a `treadle` of them.

    `columns` are all that are worth a look. `all` is what the weights add up to.
    """

    columns: tuple[int, ...]
    weights: Mapping[int, Mapping[int, int]]
    treadle: int
    all: int

    @property
    def bound(self) -> int:
        """How many columns are needed at least."""
        return -(-self.all // self.treadle) if self.treadle else 0

    def asks(self, target: int) -> int:
        """Return what the pulls of a target weigh together."""
        return sum(self.weights[target].values())

    def brings(self, column: int) -> dict[int, int]:
        """Return what a column brings at most each of the targets that it lies in."""
        return {
            target: sum(weight for pull, weight in parts.items() if has_bit(column, pull))
            for target, parts in self.weights.items()
            if not column & ~target
        }


class Weights:
    """The engine that gives this bound once, and has no other; it finds no answers."""

    def __init__(self, targets: Sequence[Target], watch: Watch) -> None:
        self._watch = watch
        self._steps = _weighed(targets)
        self._last: Weighed | None = None
        self.weighed: Weighed | None = None
        """The weights, once nothing better is to come."""

    def work(self, known: Found, enough: int | None) -> Found:
        """Go on for a turn and tell the bound that is known by then."""
        self._watch.allow(TURN)
        try:
            for weighed in self._steps:
                if weighed is not None:
                    self._last = weighed
                self._watch.node()
            self.weighed = self._last
        except SearchPausedError:
            pass
        return known if self._last is None else known.needing(self._last.bound)


def weighed_pulls(targets: Sequence[Target]) -> Weighed | None:
    """Return the weights that add up to most: four treadles' worth for the targets 0011, 0110, 1100 and 1001.

    None where it would take too long.
    """
    return next(iter(deque(_weighed(targets), maxlen=1)), None)


def _weighed(targets: Sequence[int]) -> Iterator[Weighed | None]:
    """Yield None after every exchange but some, then what is known; the last is the best to go by."""
    columns = columns_worth_a_look(targets)
    if columns is None or len(columns) * sum(target.bit_count() for target in targets) > MOST_ENTRIES:
        return
    brings = _brought(targets, columns)
    of_column, of_pull = _alike(brings) if brings.size > MANY_ENTRIES else map(np.arange, brings.shape)
    _, one_of_each = np.unique(of_column, return_index=True)
    pulls_alike = np.bincount(of_pull)
    together = brings[one_of_each] @ (of_pull[:, None] == np.arange(len(pulls_alike)))
    for weights in _exchanged(together, pulls_alike):
        yield None if weights is None else _in_parts(targets, columns, brings, weights[of_pull])


def _brought(targets: Sequence[int], columns: Sequence[int]) -> Ints:
    """Return what each column can bring: columns x pulls of targets, 1 or 0."""
    pulls = [(target, pull) for target in targets for pull in bits_of(target)]
    rows = [[not column & ~target and has_bit(column, pull) for target, pull in pulls] for column in columns]
    return np.array(rows, dtype=np.int64)


def _in_parts(targets: Sequence[int], columns: Sequence[int], brings: Ints, weights: Floats) -> Weighed:
    """Return the weights in whole parts; they need not be the best, nor even allowed, to be told truly."""
    whole: Ints = (np.maximum(weights, 0) * WHOLE).astype(np.int64)
    parts = iter(whole.tolist())
    by_target = {target: {pull: next(parts) for pull in bits_of(target)} for target in targets}
    return Weighed(tuple(columns), by_target, int((brings @ whole).max(initial=0)), int(whole.sum()))


def _alike(brings: Ints) -> tuple[Ints, Ints]:
    """Return a number for each column and each pull, the same for those that are alike.

    Alike are columns that bring as many pulls of each number, and pulls that as many columns of each number bring.
    Numbers are told apart by sums of marks: two that are taken for alike by mistake make the bound no less true.
    """
    of_column, of_pull = np.zeros(brings.shape[0], dtype=np.int64), np.zeros(brings.shape[1], dtype=np.int64)
    while True:
        kinds = of_column.max(initial=0), of_pull.max(initial=0)
        of_column = _numbered(brings @ _marks(of_pull) + 3 * _marks(of_column))
        of_pull = _numbered(_marks(of_column) @ brings + 3 * _marks(of_pull))
        if kinds == (of_column.max(initial=0), of_pull.max(initial=0)):
            return of_column, of_pull


def _marks(numbers: Ints) -> Ints:
    marks: Ints = (MARK * np.sin(numbers + 1)).astype(np.int64)
    return marks


def _numbered(sums: Ints) -> Ints:
    numbers: Ints = np.unique(sums, return_inverse=True)[1]
    return numbers


def _exchanged(brings: Ints, alike: Ints) -> Iterator[Floats | None]:
    """Yield None after every exchange but some, and then weights that add up to most.

    `brings` says of how many pulls of each kind a column brings (columns x kinds), `alike` how many there are of each.
    There are often many such: the mean of those that were met by then comes out, of `MEAN_OF` in the end. By the mean
    more columns fall short, and so waste something.
    """
    columns, kinds = brings.shape
    table = np.zeros((columns + 1, kinds + 1))
    table[:-1, :-1] = brings
    table[:-1, -1] = 1 + APART * np.arange(columns)
    # The weight that stands in a row, or -1; and the weight that is nothing, in its column, or -1.
    in_row, in_column = np.full(columns, -1), np.arange(kinds)
    mean = np.zeros(kinds)
    for turn in range(MEAN_OF):
        # Each time another kind counts a little more.
        worth = alike * (1 + (NUDGE * np.sin(np.arange(kinds) * (turn + 1)) if turn else np.zeros(kinds)))
        stands, idle = in_row >= 0, in_column >= 0
        table[-1] = worth[in_row[stands]] @ table[:-1][stands]
        table[-1, :-1][idle] -= worth[in_column[idle]]
        while True:
            enters = int(table[-1, :-1].argmin())
            if table[-1, enters] > -NEARLY_NOTHING:
                break
            _exchange(table, enters, in_row, in_column)
            yield None
        stands = in_row >= 0
        best = np.zeros(kinds)
        best[in_row[stands]] = table[:-1, -1][stands]
        mean += best
        yield mean / (turn + 1)


def _exchange(table: Floats, enters: int, in_row: Ints, in_column: Ints) -> None:
    """Let a weight enter in the place of what first comes to nothing, in place."""
    rates = table[:, enters].copy()
    grows = rates[:-1] > NEARLY_NOTHING
    allowed = np.where(grows, table[:-1, -1] / np.where(grows, rates[:-1], 1), np.inf)
    leaves = int(allowed.argmin())
    pivot = table[leaves, enters]
    row = table[leaves] / pivot
    table -= rates[:, None] * row
    table[:, enters] = -rates / pivot
    table[leaves] = row
    table[leaves, enters] = 1 / pivot
    in_row[leaves], in_column[enters] = in_column[enters], in_row[leaves]
