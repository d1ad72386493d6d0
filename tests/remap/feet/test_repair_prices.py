"""What opening a shed by a press costs is the fewest cords that do it, each changed once at most."""

from __future__ import annotations

import random
from itertools import product

import numpy as np
import pytest

from companion.remap.feet.repair_prices import NEVER, RepairPrices

PULLS, TREADLES = 3, 3
PRESSES = ((0,), (1,), (2,), (0, 1), (0, 2), (1, 2), (0, 1, 2))
EVERY = range(2**PULLS)


def least_by_trying(target, press, row, changed, on, off):
    """Try every change of the cords on these treadles that were not changed yet."""
    best = NEVER
    for flips in product(EVERY, repeat=len(press)):
        if any(flip & changed[t] for flip, t in zip(flips, press, strict=True)):
            continue
        pulled = price = 0
        for flip, t in zip(flips, press, strict=True):
            pulled |= row[t] ^ flip
            price += sum((off if row[t] >> p & 1 else on)[p] for p in range(PULLS) if flip >> p & 1)
        if pulled == target:
            best = min(best, price)
    return best


@pytest.mark.parametrize("seed", range(3))
def test_every_price_is_what_trying_all_changes_finds(seed):
    chance = random.Random(seed)
    targets = [chance.randrange(1, 2**PULLS) for _ in range(4)]
    prices = RepairPrices(targets, PRESSES, TREADLES, PULLS)
    for _ in range(6):
        row = [chance.choice(EVERY) for _ in range(TREADLES)]
        changed = [chance.choice(EVERY) & chance.choice(EVERY) for _ in range(TREADLES)]
        on, off = ([chance.randint(1, 9) for _ in range(PULLS)] for _ in range(2))
        told = prices.of(row, changed, np.array(on, dtype=np.float64), np.array(off, dtype=np.float64))
        for at, target in enumerate(targets):
            for which, press in enumerate(PRESSES):
                assert told[at, which] == least_by_trying(target, press, row, changed, on, off)
