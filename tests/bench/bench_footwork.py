"""Least footwork by the one model, against OR-tools CP-SAT (two workers) and the draft's own order in the same run.

    python -m tests.bench.bench_footwork [--cap SECONDS]

First a treadle for every shed, where CP-SAT's model covers every order and division: both costs must agree where both
are proven. A ratio is CP-SAT's time by ours; `>=` where it was stopped. Then how our time grows with the treadles and
with the picks, sheds being more than treadles too, and what is saved against the draft's own order.
"""

from __future__ import annotations

import argparse
import random
import sys
import time
from pathlib import Path

if __package__ in (None, ""):
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from companion.remap.feet.feet_first import lightest_of_all
from companion.remap.feet.walking import best_feet_on
from companion.remap.feet.walks import walks_of
from companion.remap.search.fewest import fewest_treadles
from tests.oracles.walk_cpsat import least_walk


def timed(work):
    """Return what `work` gives and how long it took, in seconds."""
    began = time.perf_counter()
    result = work()
    return result, time.perf_counter() - began


def treadlings(sheds, picks, chance):
    """Three kinds of treadling of numbers of sheds: straight, to the point and back, and at random."""
    point = [*range(sheds), *range(sheds - 2, 0, -1)]
    yield "straight", [pick % sheds for pick in range(picks)]
    yield "point", [point[pick % len(point)] for pick in range(picks)]
    yield "random", [chance.randrange(sheds) for _ in range(picks)]


def against_cpsat(cap):
    """Print both, a treadle for every shed."""
    print("sheds picks treadling   ours  proven     s   own order   CP-SAT  bound      s   ratio")
    chance = random.Random(3)
    for sheds in (4, 6, 8, 10, 12):
        for kind, wanted in treadlings(sheds, 2 * sheds + 8, chance):
            used = sorted(set(wanted))
            steps = [used.index(k) for at, k in enumerate(wanted) if not at or wanted[at - 1] != k]
            picks, number = [1 << k for k in steps], len(used)
            found, ours_s = timed(lambda picks=picks, number=number: lightest_of_all(picks, number, 1))
            own = best_feet_on(walks_of(picks), [1 << k for k in range(number)], 1).cost
            (theirs, bound), theirs_s = timed(lambda steps=steps, number=number: least_walk(steps, number, cap))
            if theirs is not None and (found.cost < bound or (found.proven and theirs < found.cost)):
                raise SystemExit(f"disagreement on {steps}: {found.cost} and {theirs}, at least {bound}")
            least = "" if theirs == bound else ">="
            print(
                f"{len(used):>5}{len(steps):>6} {kind:<9}{found.cost:>8}{found.proven!s:>8}{ours_s:>7.3f}{own:>11}"
                f"{theirs!s:>9}{bound:>7}{theirs_s:>7.2f} {least:>2}{theirs_s / ours_s:>7.1f}",
                flush=True,
            )


def growth():
    """Print our time with more treadles and more picks."""
    print("\nsheds treadles picks reach   cost  at least  own order      s")
    for sheds in (8, 12, 16):
        for treadles in (sheds - 2, sheds):
            for picks in (100, 300, 1000):
                for reach in (1, 2):
                    chance = random.Random(sheds)
                    columns = [1 << k for k in range(sheds - 3)]
                    targets = [*columns, columns[0] | columns[1], columns[2] | columns[3], columns[0] | columns[4]]
                    treadling = [chance.choice(targets) for _ in range(picks)]
                    few = [fewest_treadles(targets, foot).columns for foot in range(1, reach + 1)]
                    found, ours_s = timed(
                        lambda t=treadling, n=treadles, r=reach, few=few: lightest_of_all(t, n, r, fewest=few)
                    )
                    fits = len(set(treadling)) <= treadles
                    own = best_feet_on(walks_of(treadling), targets, reach).cost if fits else "-"
                    print(
                        f"{sheds:>5}{treadles:>9}{picks:>6}{reach:>6}{found.cost:>7}{found.at_least:>10}{own:>11}{ours_s:>7.2f}",
                        flush=True,
                    )


def main():
    """Run both parts."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--cap", type=float, default=5)
    against_cpsat(parser.parse_args().cap)
    growth()


if __name__ == "__main__":
    main()
