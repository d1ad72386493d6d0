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
    number[upper] = number.T[upper] = np.arange(pairs)
    one, other, between, often, next_pick = _followed(walk, ways, columns)
    size = 2**columns
    found = np.zeros((size, pairs), dtype=np.int32)
    np.add.at(found, (between, number[one, other]), often)
    # What stands between is outside of S: a part of what S leaves.
    _add_up_parts(found, columns)
    found = found[::-1] * _both_in(columns)
    # Both columns are in S, which is to say: no matter whether, less where one is not, and more where neither is.
    ends = np.array([*map(bit, range(columns)), 0], dtype=np.int64)
    first, last = ends[one[next_pick]], ends[other[next_pick]]
    at_once = np.zeros((size, 1), dtype=np.int64)
    for outside, sign in ((0, 1), (first, -1), (last, -1), (first | last, 1)):
        np.add.at(at_once[:, 0], between[next_pick] | outside, sign * often[next_pick])
    _add_up_parts(at_once, columns)
    sets = np.arange(size)
    skipped = np.zeros(size, dtype=np.bool_)
    for way in ways:
        if len(way) == 2:
            both = bit(way[0]) | bit(way[1])
            skipped |= (sets & both) == both
    return Goings(found, at_once[::-1, 0], skipped)


def _followed(walk: Walks, ways: Ways, columns: int) -> tuple[Ints, Ints, Ints, Ints, Bools]:
    """Return where one column follows another: both, the set between, how often, and whether in the next pick."""
    none = columns
    first = np.array([way[0] if way else none for way in ways], dtype=np.int64)[walk.steps]
    second = np.array([way[1] if len(way) == 2 else none for way in ways], dtype=np.int64)[walk.steps]
    masks = np.array([*map(bit, range(none)), 0], dtype=np.int64)
    pressed = masks[first] | masks[second]
    # Every step is followed on from each of its columns; the other one must be outside of the set.
    start = np.concatenate((np.flatnonzero(first < none), np.flatnonzero(second < none)))
    column = np.concatenate((first[first < none], second[second < none]))
    between = pressed[start] & ~masks[column]
    nothing = start[:0]
    found = [(nothing, nothing, nothing, nothing, nothing > 0)]
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
            often = walk.weight[here[follows]]
            found.append((column[follows], other[follows], beside[follows], often, np.full(len(often), apart == 1)))
        between = between | pressed[here]
        going = ((between & masks[column]) == 0) & ((between | masks[column]) != 2**none - 1)
        start, column, between = start[going], column[going], between[going]
    one, then, beside, often, next_pick = map(np.concatenate, zip(*found, strict=True))
    return one, then, beside, often, next_pick


def _add_up_parts(counted: Counts | Ints, columns: int) -> None:
    """Count at every set what is counted at any of its subsets, in place."""
    for column in range(columns):
        halves = counted.reshape(len(counted) // bit(column + 1), 2, bit(column), counted.shape[1])
        halves[:, 1] += halves[:, 0]


@cache
def _both_in(columns: int) -> Bools:
    """Return for every set whether both columns of a pair are in it: sets x pairs, bool."""
    held = (np.arange(2**columns)[:, None] & np.array([bit(k) for k in range(columns)], dtype=np.int64)) != 0
    one, other = np.triu_indices(columns, 1)
    found: Bools = held[:, one] & held[:, other]
    return found
