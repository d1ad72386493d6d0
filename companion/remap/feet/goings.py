"""How often each foot goes from one of its treadles to another, for every set of treadles at once.

A foot that has the columns of a set S goes from a to b where these follow each other in the treadling with nothing
between that it presses: that depends only on which columns stand between, and they must all be outside of S. So each
place where b comes after a is counted once, at the set of what stands between, and the counts of all its subsets are
added up for every set (the zeta transform; F. Yates, The Design and Analysis of Factorial Experiments, 1937, from
memory).

Lemmas and proofs: assets/mathematics.md, "Feet first" (F3).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from companion.draft.masks import bit
from companion.remap.feet.seats import Ways
from companion.remap.feet.walks import Walks
from companion.remap.search.choices import Bools, Ints

Counts = npt.NDArray[np.int32]


@dataclass(frozen=True, slots=True, eq=False)
class Goings:
    """What the foot does that has the columns of a set, for every set of columns, by its mask.

    `pairs` (sets x pairs of columns, int32; in the order of `numpy.triu_indices`) says how often it goes between two of
    them, `hurried` (sets, int64) how often from one pick to the next. `skipped` (sets, bool): two columns of some pick
    are in the set; no going over such a pick is counted.
    """

    pairs: Counts
    hurried: Ints
    skipped: Bools


def goings(walk: Walks, columns: int, ways: Ways) -> Goings:
    """Count for every set of so many columns; each target has no column, one or two (`ways`)."""
    pairs = columns * (columns - 1) // 2
    number = np.zeros((columns + 1, columns + 1), dtype=np.int64)
    upper = np.triu_indices(columns, 1)
    number[upper] = np.arange(pairs)
    keys, often, next_pick = _followed(walk, ways, number + number.T)
    size = 2**columns
    found = np.bincount(keys, often, size * pairs).astype(np.int32).reshape(size, pairs)
    at_once = np.bincount(keys[next_pick], often[next_pick], size * pairs).astype(np.int32).reshape(size, pairs)
    both_in = _both_in(columns)
    # What stands between is outside of S: a part of what S leaves.
    found = _of_all_parts(found, columns)[::-1] * both_in
    hurried = (_of_all_parts(at_once, columns)[::-1] * both_in).sum(axis=1, dtype=np.int64)
    sets = np.arange(size)
    skipped = np.zeros(size, dtype=np.bool_)
    for way in ways:
        if len(way) == 2:
            both = bit(way[0]) | bit(way[1])
            skipped |= (sets & both) == both
    return Goings(found, hurried, skipped)


def _followed(walk: Walks, ways: Ways, number: Ints) -> tuple[Ints, Ints, Bools]:
    """Return where one column follows another: the set between and the pair in one number, how often, whether at once.

    `number` tells the number of a pair of columns.
    """
    pairs = int(number.max(initial=0)) + 1
    none = len(number) - 1
    first = np.array([way[0] if way else none for way in ways], dtype=np.int64)[walk.steps]
    second = np.array([way[1] if len(way) == 2 else none for way in ways], dtype=np.int64)[walk.steps]
    masks = np.array([*map(bit, range(none)), 0], dtype=np.int64)
    pressed = masks[first] | masks[second]
    # Every step is followed on from each of its columns; the other one must be outside of the set.
    start = np.concatenate((np.flatnonzero(first < none), np.flatnonzero(second < none)))
    column = np.concatenate((first[first < none], second[second < none]))
    between = pressed[start] & ~masks[column]
    keys, often, next_pick = [start[:0]], [start[:0]], [np.zeros(0, dtype=np.bool_)]
    apart = 0
    while len(start):
        apart += 1
        going = start + apart < len(walk.steps)
        start, column, between = start[going], column[going], between[going]
        here = start + apart
        for other in (first[here], second[here]):
            beside = between | (pressed[here] & ~masks[other])
            follows = (other < none) & ((between & masks[other]) == 0) & ((beside & masks[column]) == 0)
            follows &= other != column
            keys.append(beside[follows] * pairs + number[column[follows], other[follows]])
            often.append(walk.weight[here[follows]])
            next_pick.append(np.full(len(keys[-1]), apart == 1))
        between = between | pressed[here]
        going = ((between & masks[column]) == 0) & ((between | masks[column]) != 2**none - 1)
        start, column, between = start[going], column[going], between[going]
    return np.concatenate(keys), np.concatenate(often), np.concatenate(next_pick)


def _of_all_parts(counted: Counts, columns: int) -> Counts:
    """Return for every set what is counted at all of its subsets together."""
    for column in range(columns):
        halves = counted.reshape(len(counted) // bit(column + 1), 2, bit(column), counted.shape[1])
        halves[:, 1] += halves[:, 0]
    return counted


@cache
def _both_in(columns: int) -> Bools:
    """Return for every set whether both columns of a pair are in it: sets x pairs, bool."""
    held = (np.arange(2**columns)[:, None] & np.array([bit(k) for k in range(columns)], dtype=np.int64)) != 0
    one, other = np.triu_indices(columns, 1)
    found: Bools = held[:, one] & held[:, other]
    return found
