"""How many columns are needed at least, whatever the feet can press.

Two bounds that hold for unions of any number of columns, and so for both reaches:

- *Fooling set*: take pairs (target, pull in it) so that of any two pairs one pull is missing from the other one's
  target. A column that lies inside one pair's target and carries its pull cannot do so for another pair, so every pair
  has a column of its own, and the searches start from these (a bound on Boolean rank; D.A. Gregory and N.J. Pullman,
  Semiring rank, J. Combin. Inform. System Sci. 8, 1983, from memory). Chosen greedily: valid, not always the largest.
- *Counting*: n treadles cannot open more sheds than there are ways to press them.

Lemmas and proofs: assets/mathematics.md, "Fooling sets and counting".
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from companion.draft.masks import Shed, bit, bits_of, first_bits, is_raised, union
from companion.remap.loom.targets import Target

MOST_PAIRS = 1600
"""Above this many pairs the greedy choice would take longer than what it saves."""

MOST_WORK = 12_000
"""Pairs times restarts: some tenths of a second at most."""


class Seed(NamedTuple):
    """A column of its own that every answer has: it lies inside `target` and carries `pull` (as a mask)."""

    target: Target
    pull: int


def fooling_set(targets: Sequence[Target], restarts: int) -> tuple[Seed, ...]:
    """Return a large fooling set: all four (target, pull) for the targets 0001, 0010, 0100, 1000.

    Pairs that clash with the fewest others are taken first; `restarts` times another one is put before them.
    """
    pairs, clashes = _clashes(targets)
    everything = first_bits(len(pairs))
    best = _apart(clashes, everything, ())
    order = sorted(range(len(pairs)), key=lambda at: (clashes[at].bit_count(), at))
    for first in order[1 : 1 + min(restarts, MOST_WORK // max(1, len(pairs)))]:
        other = _apart(clashes, everything & ~clashes[first], (first,))
        if len(other) > len(best):
            best = other
    return tuple(Seed(targets[pairs[at][0]], bit(pairs[at][1])) for at in best)


def _clashes(targets: Sequence[int]) -> tuple[list[tuple[int, int]], list[int]]:
    """Return all pairs (target index, pull), and for each the set of pairs that cannot stand beside it, itself too."""
    pairs = [(k, pull) for k, target in enumerate(targets) for pull in bits_of(target)]
    if len(pairs) > MOST_PAIRS:
        pairs.sort(key=lambda pair: targets[pair[0]].bit_count())
        pairs = sorted(pairs[:MOST_PAIRS])
    with_pull: dict[int, int] = {}
    with_target: dict[int, int] = {}
    for at, (k, pull) in enumerate(pairs):
        with_pull[pull] = with_pull.get(pull, 0) | bit(at)
        with_target[k] = with_target.get(k, 0) | bit(at)
    holding = {
        pull: union(Shed(with_target.get(k, 0)) for k, t in enumerate(targets) if is_raised(Shed(t), pull))
        for pull in with_pull
    }
    inside = [union(Shed(with_pull.get(pull, 0)) for pull in bits_of(target)) for target in targets]
    return pairs, [holding[pull] & inside[k] for k, pull in pairs]


def _apart(clashes: Sequence[int], left: int, chosen: tuple[int, ...]) -> tuple[int, ...]:
    while left:
        best = min(bits_of(left), key=lambda at: ((clashes[at] & left).bit_count(), at))
        left &= ~clashes[best]
        chosen = (*chosen, best)
    return chosen


def counting_bound(targets: int, reach: int) -> int:
    """Return the fewest treadles with at least so many ways to press: `counting_bound(22, 1)` is 7."""
    treadles = 0
    while ways_to_press(treadles, reach) < targets:
        treadles += 1
    return treadles


def ways_to_press(treadles: int, reach: int) -> int:
    """Return how many sets of treadles two feet can press: n + n(n-1)/2 at reach 1.

    At reach 2 a set is one or two separate runs: of at most two treadles each, or one of three or four.
    """
    if reach == 1:
        return treadles + treadles * (treadles - 1) // 2
    ways = sum(max(0, treadles - length + 1) for length in (1, 2, 3, 4))
    for one in (1, 2):
        for other in (1, 2):
            free = treadles - one - other - 1
            if free >= 0:
                ways += (free + 1) * (free + 2) // 2
    return ways
