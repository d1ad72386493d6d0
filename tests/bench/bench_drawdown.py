"""Drawdown and float analysis of a wide and long cloth, against the time to write a matrix of its size.

Run: python -m tests.bench.bench_drawdown

The floor is numpy filling a new bool matrix of picks x ends, which no drawdown can beat. Two cloths: a treadling of a
few sheds, as real ones are, and one in which no two picks are alike, the worst case for the floats. Peak memory is the
growth of the process's largest resident size, so the big cloth is woven last.
"""

from __future__ import annotations

import random
import resource
import sys
import time

import numpy as np

from companion.draft.cloth import crossings
from companion.draft.floats import longest_floats, never_interlacing
from companion.draft.layers import layers
from companion.draft.masks import Shed

ENDS = 2_000
SIZES = (2_500, 5_000, 10_000, 20_000)
ROUNDS = 3


def best_of(action):
    """The least time of some rounds, in seconds."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        action()
        times.append(time.perf_counter() - start)
    return min(times)


def floor(picks):
    """The time to get and write a bool matrix."""
    return best_of(lambda: np.ones((picks, ENDS), dtype=np.bool_))


def sheds_of(kind, picks):
    chance = random.Random(20_000)
    if kind == "8 sheds":
        return [Shed(chance.choice((1, 2, 4, 8, 14, 13, 11, 7))) for _ in range(picks)]
    return [Shed(chance.getrandbits(24)) for _ in range(picks)]


def measured(threading, sheds):
    """The times of drawdown, float analysis and layers."""
    woven = crossings(threading, sheds)
    return (
        best_of(lambda: crossings(threading, sheds).matrix()),
        best_of(lambda: (longest_floats(woven), never_interlacing(woven))),
        best_of(lambda: layers(woven)),
    )


def peak_mb():
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def main():
    empty = peak_mb()
    print(f"{ENDS} ends; times in ms, best of {ROUNDS}; 'x floor' is drawdown + floats against writing the matrix")
    print(f"{'cloth':<10}{'picks':>7}{'floor':>8}{'drawdown':>10}{'floats':>8}{'layers':>8}{'x floor':>9}{'growth':>8}")
    for kind, shafts in (("8 sheds", 4), ("all differ", 24)):
        threading = [end % shafts for end in range(ENDS)]
        before = None
        for picks in SIZES:
            sheds = sheds_of(kind, picks)
            lowest = floor(picks)
            drawdown, floats, layered = measured(threading, sheds)
            total = drawdown + floats
            growth = f"{total / before:.2f}" if before else ""
            before = total
            print(
                f"{kind:<10}{picks:>7}{lowest * 1e3:>8.1f}{drawdown * 1e3:>10.1f}{floats * 1e3:>8.1f}"
                f"{layered * 1e3:>8.1f}{total / lowest:>9.1f}{growth:>8}"
            )
    print(f"largest resident size {peak_mb():.0f} MB, of which {empty:.0f} MB before the first cloth")
    print("(growth: against half the picks; 2.00 is linear)")
    return 0


if __name__ == "__main__":
    sys.exit(main())
