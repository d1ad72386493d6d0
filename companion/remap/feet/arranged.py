"""The linear arrangement of one foot's treadles: the order in which it walks least, for many halves at once.

Exact by dynamic programming over (treadles placed so far, the last of them) (M. Held and R.M. Karp, J. SIAM 10, 1962,
from memory): with some treadles placed, each way from one of them to one that is not is a width longer by the next.

Lemmas and proofs: assets/mathematics.md, "Feet first" (F3).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from companion.draft.masks import bit
from companion.remap.feet.presses import WIDTH
from companion.remap.search.choices import Bools, Ints

NEVER = 2**50
"""More than anything costs."""
NEVER_SMALL = 2**29
"""More than small things cost, twice of which is still a number of 32 bits."""

MOST_AT_ONCE = 1_000_000
"""How many numbers are held at once."""
SMALL = 8
MOST_KEPT = 5_000
"""How many halves, of at most so many treadles, are remembered: one search asks for most of its halves many times."""
_known: dict[tuple[bytes, int, bytes], tuple[int, list[int]]] = {}


@dataclass(frozen=True, slots=True)
class _OfSize:
    """Every set of so many treadles with each of its members as the last, all int64 and of one length."""

    subset: Ints
    last: Ints
    before: Ints
    """The set without the last."""


def arranged(weights: Ints, strides: Ints, outermost: Bools) -> tuple[list[int], list[list[int]]]:
    """Return least cost and order for each of a batch: weights are batch x m x m, strides (batch), all int64.

    Weights are those of pairs, the same both ways. Those that are `outermost` (batch x m, bool) come first.
    """
    if weights.shape[1] > SMALL:
        return _worked_out(weights, strides, outermost)
    batch = zip(weights, strides.tolist(), outermost, strict=True)
    keys = [(one.tobytes(), stride, ends.tobytes()) for one, stride, ends in batch]
    found = {key: _known.get(key) for key in keys}
    at = {key: k for k, key in enumerate(keys) if found[key] is None}
    if at:
        new = list(at.values())
        costs, orders = _worked_out(weights[new], strides[new], outermost[new])
        found.update(zip(at, zip(costs, orders, strict=True), strict=True))
        if len(_known) + len(at) > MOST_KEPT:
            _known.clear()
        _known.update((key, known) for key in at if (known := found[key]) is not None)
    every = [known for key in keys if (known := found[key]) is not None]
    return [cost for cost, _ in every], [order for _, order in every]


def _worked_out(weights: Ints, strides: Ints, outermost: Bools) -> tuple[list[int], list[list[int]]]:
    batch, m, _ = weights.shape
    at_once = max(1, MOST_AT_ONCE // (2**m * m * max(1, m // 2)))
    costs: list[int] = []
    orders: list[list[int]] = []
    for at in range(0, batch, at_once):
        some = slice(at, at + at_once)
        spared = np.ascontiguousarray((weights[some] * strides[some, None, None]).transpose(1, 2, 0))
        least = _least(weights[some], spared, outermost[some])
        whole = least[2**m - 1]
        costs += (whole.min(axis=0) + strides[some] * weights[some].sum(axis=(1, 2)) // 2).tolist()
        orders += _traced(least, spared).tolist()
    return costs, orders


def _least(weights: Ints, spared: Ints, outermost: Bools) -> Ints:
    """Return the least cost of each set with each last member: 2**m x m x batch, strides that are `spared` taken off.

    The batch comes last, so that numpy goes through it without a break.
    """
    batch, m, _ = weights.shape
    held = _held(m)
    cut = WIDTH * ((weights.sum(axis=2)[:, None, :] - held @ weights) * held).sum(axis=2).T
    # Half as much memory goes through in half the time.
    small = WIDTH * m * int(weights.sum(axis=(1, 2)).max(initial=0)) < NEVER_SMALL
    never = NEVER_SMALL if small else NEVER
    least = np.full((2**m, m, batch), never, dtype=np.int32 if small else np.int64)
    cut, spared = cut.astype(least.dtype), spared.astype(least.dtype)
    ends = outermost @ np.array([bit(v) for v in range(m)], dtype=np.int64)
    alone = np.arange(m)
    least[2**alone, alone] = np.where(outermost | (ends == 0)[:, None], 0, never).T
    for layer in _layers(m):
        cost = (least[layer.before] - spared[layer.last]).min(axis=1) + cut[layer.before]
        if ends.any():
            too_early = ~outermost.T[layer.last] & ((ends & ~layer.before[:, None]) != 0)
            cost = np.where(too_early, never, cost)
        least[layer.subset, layer.last] = cost
    return least


@cache
def _held(m: int) -> Ints:
    """Return which of m things each subset holds: subsets x things, int64."""
    bits = (np.arange(2**m, dtype=np.int64)[:, None] & np.array([bit(k) for k in range(m)], dtype=np.int64)) != 0
    found: Ints = bits.astype(np.int64)
    return found


@cache
def _layers(m: int) -> tuple[_OfSize, ...]:
    """Return the layers of two treadles and more."""
    subset, last = np.nonzero(_held(m))
    size = _held(m).sum(axis=1)[subset]
    before = subset - 2**last
    return tuple(_OfSize(subset[size == k], last[size == k], before[size == k]) for k in range(2, m + 1))


def _traced(least: Ints, spared: Ints) -> Ints:
    """Return the orders that cost least, each from its first treadle on: batch x m."""
    subsets, m, batch = least.shape
    which = np.arange(batch)
    order = np.empty((batch, m), dtype=np.int64)
    subset = np.full(batch, subsets - 1)
    last = least[subsets - 1].argmin(axis=0)
    for at in reversed(range(m)):
        order[:, at] = last
        subset = subset - 2**last
        last = (least[subset, :, which] - spared[last, :, which]).argmin(axis=1)
    return order
