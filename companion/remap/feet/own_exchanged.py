"""Which sheds get a treadle of their own, improved by exchanges: one column out, one of those that then open all in.

A complete search (`owning`) ends long before all is looked at where treadles are short by several and many columns are
worth a look. Exchanges go on from the best that it knows: a column is taken out by chance, and of all columns that open
what it leaves shut one is drawn, with odds that rise with its picks by a *temperature*, which falls as it goes
(simulated annealing; S. Kirkpatrick, C.D. Gelatt and M.P. Vecchi, Science 220, 1983, from memory). Every set on the way
opens every shed. It proves nothing.

Lemmas and proofs: assets/mathematics.md, "Feet first" (F8).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import accumulate
from math import exp

from companion.draft.masks import bit, bits_of, first_bits
from companion.remap.search.chance import chances

MOVES = 1_000
MOST_WORK = 400_000
"""Moves times sheds times treadles: some hundredths of a second."""
HOT, COLD = 0.6, 0.05
"""The temperatures at the beginning and at the end, in picks of a shed on the mean."""

OpenWays = Mapping[int, Sequence[Collection[int]]]
"""For each target the sets of one or two columns that open it, by index of the column."""


def exchanged(start: Sequence[int], ways: OpenWays, picks: Mapping[int, int], columns: int, must: int) -> Iterator[int]:
    """Yield sets of columns, as masks, each with more picks on treadles of their own than those before it.

    `start` are columns by index that open every target of `ways`; `picks` are those of columns that are targets. There
    are so many `columns` in all. Those of the mask `must` stay. Starts with the columns 1 and 2 of 1, 2 and 3 where 3
    has most picks: columns 1 and 3 come out.
    """
    beside = [_beside(of_target) for of_target in ways.values()]
    row = list(start)
    own = sum(picks.get(column, 0) for column in row)
    most = own
    moves = min(MOVES, MOST_WORK // max(1, len(row) * len(beside)))
    mean = sum(picks.values()) / max(1, len(picks))
    free = [at for at, column in enumerate(row) if not must & bit(column)]
    chance = chances(1)
    for move in range(moves if free else 0):
        at = free[int(next(chance) * len(free))]
        rest = [*row[:at], *row[at + 1 :]]
        others = sum(map(bit, rest))
        options = list(bits_of(_that_open(beside, rest, others) & first_bits(columns) & ~others))
        heat = mean * HOT * (COLD / HOT) ** (move / moves)
        heaviest = max(picks.get(column, 0) for column in options)
        odds = list(accumulate(exp((picks.get(column, 0) - heaviest) / heat) for column in options))
        drawn = next(chance) * odds[-1]
        new = next((column for column, odd in zip(options, odds, strict=True) if odd > drawn), options[-1])
        own += picks.get(new, 0) - picks.get(row[at], 0)
        row[at] = new
        if own > most:
            most = own
            yield others | bit(new)


_Beside = tuple[int, dict[int, int]]
"""Of one target: the columns that open it alone, as a mask, and for each column those that open it together."""


def _beside(ways: Sequence[Collection[int]]) -> _Beside:
    alone, together = 0, dict[int, int]()
    for way in ways:
        if len(way) == 1:
            (column,) = way
            alone |= bit(column)
        else:
            one, other = way
            together[one] = together.get(one, 0) | bit(other)
            together[other] = together.get(other, 0) | bit(one)
    return alone, together


def _that_open(beside: Sequence[_Beside], rest: Sequence[int], others: int) -> int:
    """Return the columns that open, each beside the `others`, whatever these leave shut, as a mask; -1 for any."""
    fitting = -1
    for alone, together in beside:
        if alone & others:
            continue
        new = alone
        for column in rest:
            partners = together.get(column, 0)
            if partners & others:
                break
            new |= partners
        else:
            fitting &= new
    return fitting
