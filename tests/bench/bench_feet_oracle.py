"""How often the least footwork found is the least there is, by trying everything in worlds of the full small size.

    python -m tests.bench.bench_feet_oracle [--worlds N]

Four shafts, five treadles, six sheds, one treadle under each foot: all tie-ups, all orders, all divisions and all ways
to stand, by `tests/oracles/feet_brute`. No bound may be above the least, and what is called proven must be it. The
ratio is the oracle's time by ours.
"""

from __future__ import annotations

import argparse
import random
import sys
import time
from pathlib import Path

if __package__ in (None, ""):
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from companion.draft.masks import shafts_of
from companion.remap.feet.feet_first import lightest_of_all
from companion.remap.search.fewest import fewest_treadles
from tests.oracles.feet_brute import least_of_all_below


def world(seed):
    """Six sheds of four shafts, a few picks of each in a random order."""
    chance = random.Random(seed)
    sheds = chance.sample(range(1, 16), 6)
    return sheds + [chance.choice(sheds) for _ in range(8)]


def main():
    """Try the worlds and print what was found."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--worlds", type=int, default=20)
    ours_s = oracle_s = 0.0
    fitting = least_found = proven = 0
    worst = 1.0
    for seed in range(parser.parse_args().worlds):
        picks = world(seed)
        few = fewest_treadles(sorted(set(picks)), 1).columns
        began = time.perf_counter()
        found = lightest_of_all(picks, 5, 1, fewest=[few])
        ours_s += time.perf_counter() - began
        if found is None or len(few) > 5:
            continue
        began = time.perf_counter()
        least = least_of_all_below([frozenset(shafts_of(pick)) for pick in picks], 5, found.cost)
        oracle_s += time.perf_counter() - began
        if found.at_least > least or (found.proven and least < found.cost):
            raise SystemExit(f"world {seed}: {found.cost}, at least {found.at_least}, but the least is {least}")
        fitting, least_found, proven = fitting + 1, least_found + (least == found.cost), proven + found.proven
        worst = max(worst, found.cost / least)
        print(f"world {seed}: {found.cost:>5}, least {least:>5}, at least {found.at_least:>5}", flush=True)
    print(f"{fitting} worlds fit 5 treadles: the least in {least_found}, proven in {proven}; worst {worst:.3f} times")
    print(f"ours {ours_s:.2f} s, trying everything {oracle_s:.2f} s: ratio {oracle_s / max(ours_s, 1e-9):.1f}")


if __name__ == "__main__":
    main()
