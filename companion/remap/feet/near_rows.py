"""Rows of columns that differ from one by a move, and which of them are worth a closer look.

Why nothing dearer comes of it: assets/mathematics.md, "Feet first".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

import numpy as np

from companion.remap.feet.presses import BOTH_FEET, TWO_UNDER_ONE
from companion.remap.feet.rows_weighed import weighed
from companion.remap.feet.walking import MOST_CELLS, FixedFeet
from companion.remap.feet.walks import Walks

MOST_OWN = 12
"""How many sheds without a treadle of their own are tried with one: those with most picks."""
SHUT = 2**50
"""More than anything costs: some shed does not open."""
OUTSIDE = 2**62
"""Stands for a column that no foot presses; columns are below it."""


def moved(row: Sequence[int]) -> Iterator[list[int]]:
    """Yield the rows with two treadles exchanged, or one moved along to the right."""
    for one in range(len(row)):
        for other in range(one + 1, len(row)):
            if row[one] != row[other]:
                exchanged = list(row)
                exchanged[one], exchanged[other] = row[other], row[one]
                yield exchanged
                yield [*row[:one], *row[one + 1 : other + 1], row[one], *row[other + 1 :]]


def with_own(row: Sequence[int], walk: Walks) -> Iterator[list[int]]:
    """Yield the rows with a shed's own column put in the place of another, or between two where a treadle is empty."""
    without = [k for k, target in enumerate(walk.targets) if target and target not in row]
    empty = [at for at, column in enumerate(row) if not column]
    for k in sorted(without, key=lambda k: -walk.picks[k])[:MOST_OWN]:
        own = walk.targets[k]
        for at in range(len(row)):
            yield [*row[:at], own, *row[at + 1 :]]
        if empty:
            fewer = [*row[: empty[-1]], *row[empty[-1] + 1 :]]
            for at in range(len(row)):
                yield [*fewer[:at], own, *fewer[at:]]


def least_extra(walk: Walks, rows: Sequence[Sequence[int]]) -> list[int]:
    """Return what the feet pay at least on each of these rows beside their walk, at reach 2; `SHUT` where one is shut.

    Columns that do not fit into 62 bits open nothing here.
    """
    if not rows or max(max(row) for row in rows) >= OUTSIDE:
        return [SHUT] * len(rows)
    columns = np.array(rows, dtype=np.int64)
    columns = np.where(columns == 0, OUTSIDE, columns)
    blocks = np.hstack((columns, columns[:, :-1] | columns[:, 1:]))
    treadles = columns.shape[1]
    lies = [(t, t) for t in range(treadles)] + [(t, t + 1) for t in range(treadles - 1)]
    pairs = [(i, j) for i, j in combinations(range(len(lies)), 2) if lies[i][1] < lies[j][0] or lies[j][1] < lies[i][0]]
    one, other = (np.array(side, dtype=np.intp) for side in zip(*pairs, strict=True))
    both = BOTH_FEET + TWO_UNDER_ONE * ((one >= treadles).astype(np.int64) + (other >= treadles))
    least = np.zeros(len(rows), dtype=np.int64)
    for target, picks in zip(walk.targets, walk.picks, strict=True):
        if not target:
            continue
        inside = np.where(blocks & ~np.int64(target) == 0, blocks, 0)
        opened = inside == target
        price = np.where((inside[:, one] | inside[:, other]) == target, both, SHUT).min(axis=1)
        price = np.where(opened[:, treadles:].any(axis=1), TWO_UNDER_ONE, price)
        price = np.where(opened[:, :treadles].any(axis=1), 0, price)
        least += np.where(price == SHUT, SHUT, price * picks)
    costs: list[int] = np.minimum(least, SHUT).tolist()
    return costs


def lightest_moved(walk: Walks, row: Sequence[int], feet: FixedFeet, near: list[list[int]]) -> list[list[int]]:
    """Return the one row that is lightest with each target opened by the columns that open it now, if it is lighter."""
    number = {column: k for k, column in enumerate(row)}
    if len(number) < len(row) or not near:
        return near[:1]
    ways = [tuple(number[row[t]] for t in (*press.left, *press.right)) for press in feet.presses]
    splits = range(len(row) + 1)
    short = walk.shortened(max(1, MOST_CELLS // (len(near) * len(splits))))
    orders = np.array([[number[column] for column in other] for other in near for _ in splits])
    costs = weighed(short, ways, orders, np.array([split for _ in near for split in splits]))
    at = min(range(len(costs)), key=costs.__getitem__)
    return [near[at // len(splits)]] if costs[at] < feet.cost else []
