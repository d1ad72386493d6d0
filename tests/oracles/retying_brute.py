"""The best plan of tying anew, by trying every tie-up of numbered treadles at every stage of every cutting.

Slow, and it shares nothing with the product: treadles are numbered here, columns are any set of shafts, and a stop may
be at any pick.
"""

from __future__ import annotations

from itertools import combinations, pairwise, product

import numpy as np


def best_plan(targets, shafts, treadles, present, ends):
    """(stages, cords, stops at section ends) of the best plan, each compared only where those before are equal."""
    tieups = list(product(range(2**shafts), repeat=treadles))
    ones = [number.bit_count() for number in range(2**shafts)]
    between = np.array(
        [[sum(ones[a ^ b] for a, b in zip(one, other, strict=True)) for other in tieups] for one in tieups]
    )
    opens = {target: np.array([_opens(tieup, target) for tieup in tieups]) for target in set(targets)}
    start = np.zeros(len(tieups), dtype=int) if present is None else between[tieups.index(tuple(present))]
    for stops in range(len(targets)):
        found = []
        for cuts in combinations(range(1, len(targets)), stops):
            costs = None
            for first, stop in pairwise((0, *cuts, len(targets))):
                good = np.all([opens[target] for target in targets[first:stop]], axis=0)
                costs = start if costs is None else np.min(costs[:, None] + between, axis=0)
                costs = np.where(good, costs, 10**6)
            if costs.min() < 10**6:
                found.append((int(costs.min()), -sum(cut in ends for cut in cuts)))
        if found:
            cords, kept = min(found)
            return stops + 1, cords, -kept
    raise AssertionError("a single shed does not fit")


def _opens(tieup, target):
    return target == 0 or any(one | other == target for one in tieup for other in tieup)
