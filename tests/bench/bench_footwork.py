"""Feet and order of treadles: time by number of picks, ratio to the plain way in the same run.

    python -m tests.bench.bench_footwork

The peer for the feet is a shortest path by networkx (DAG) over picks x footings; for the order it is our own feet,
worked out for each order on its own, timed on a sample of orders and scaled up to all of them.
"""

from __future__ import annotations

import random
import sys
import time
from itertools import combinations, islice, permutations
from math import factorial
from pathlib import Path

import networkx

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from companion.remap.feet.footwork import best_feet, pick_cost
from companion.remap.feet.ordering import best_order
from companion.remap.loom.footings import footings_for
from companion.remap.loom.loom import Footing
from companion.remap.loom.targets import by_treadle

TREADLES = 8
COLUMNS = [1 << shaft for shaft in range(TREADLES)]
PAIRS = [
    COLUMNS[one] | COLUMNS[other] for one, other in ((0, 1), (2, 3), (4, 5), (6, 7), (0, 7), (1, 4), (2, 5), (3, 6))
]

EVERY_PAIR = [one | other for one, other in combinations(COLUMNS, 2)]


def treadlings(picks):
    """Five kinds of treadling of this many picks."""
    chance = random.Random(picks)
    yield "straight", [COLUMNS[pick % TREADLES] for pick in range(picks)]
    yield "stepped", [(COLUMNS + PAIRS)[pick * 5 % 16] for pick in range(picks)]
    yield "random", [chance.choice(COLUMNS + PAIRS) for _ in range(picks)]
    yield "36 sheds", [chance.choice(COLUMNS + EVERY_PAIR) for _ in range(picks)]
    yield (
        "with tabby",
        [COLUMNS[pick // 2 % 2] if pick % 2 == 0 else chance.choice((COLUMNS + PAIRS)[2:12]) for pick in range(picks)],
    )


def timed(work):
    """Return what `work` gives and how long it took, in seconds."""
    began = time.perf_counter()
    result = work()
    return result, time.perf_counter() - began


def choices_on(places):
    """The footings of every target on this order."""
    placed = by_treadle(COLUMNS, places, TREADLES)
    return {target: footings_for(target, placed, 1) for target in COLUMNS + EVERY_PAIR}


def by_networkx(treadling, choices):
    """The least cost as a shortest path."""
    graph = networkx.DiGraph()
    before = [((-1, 0), Footing())]
    for pick, target in enumerate(treadling):
        now = [((pick, at), footing) for at, footing in enumerate(choices[target])]
        for old_name, old in before:
            for name, footing in now:
                graph.add_edge(old_name, name, weight=pick_cost(old, footing, TREADLES))
        before = now
    for name, _ in before:
        graph.add_edge(name, "end", weight=0)
    return networkx.dijkstra_path_length(graph, (-1, 0), "end")


def main():
    """Print the table."""
    print("treadling   picks   feet s  networkx s  ratio  order s  one by one s   ratio")
    for picks in (500, 1000, 2000, 5000):
        for name, treadling in treadlings(picks):
            choices = choices_on(range(TREADLES))
            walk, feet_s = timed(lambda treadling=treadling, choices=choices: best_feet(treadling, choices, TREADLES))
            least, peer_s = timed(lambda treadling=treadling, choices=choices: by_networkx(treadling, choices))
            assert walk.cost == least
            order, order_s = timed(lambda treadling=treadling: best_order(COLUMNS, TREADLES, 1, treadling))
            assert order.proven
            sample = list(islice(permutations(range(TREADLES)), 0, factorial(TREADLES), factorial(TREADLES) // 6))
            costs, sample_s = timed(
                lambda treadling=treadling, sample=sample: [
                    best_feet(treadling, choices_on(places), TREADLES).cost for places in sample
                ]
            )
            assert order.cost <= min(costs)
            all_s = sample_s / len(sample) * factorial(TREADLES) / 2
            print(
                f"{name:<11}{picks:>6}{feet_s:>9.3f}{peer_s:>12.3f}{peer_s / feet_s:>7.1f}"
                f"{order_s:>9.2f}{all_s:>14.0f}{all_s / order_s:>8.0f}"
            )


if __name__ == "__main__":
    main()
