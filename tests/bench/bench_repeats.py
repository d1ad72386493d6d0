"""Reading long treadlings as repeats: CPU time and growth, against the plain dynamic programme over every stretch.

Run: python -m tests.bench.bench_repeats

The peer is the table of every stretch's cost (exact, cubic in the picks), measured in the same run as far as it is
bearable; the ratio is its time over that of the search which is used for long treadlings. Treadlings are made from a
fixed seed: one repeat throughout, points, nested blocks, sections that come back and turn, and no order at all.
"""

from __future__ import annotations

import random
import sys
import time

from companion.draft.repeat_search import read_repeats

SIZES = (1_250, 2_500, 5_000, 10_000)
LONGEST_FOR_THE_PEER = 2_500


def treadlings(picks):
    """Map a name to a treadling of so many picks."""
    chance = random.Random(1)
    first, second = ([chance.randrange(8) for _ in range(size)] for size in (7, 9))
    blocks = [*first * 20, *second * 10, 4, 5]
    section = [*blocks * 2, *[6, 7, 8] * 50]
    turned = section + section[::-1]
    motifs = (first, second, list(range(8)), list(range(8))[::-1])
    mixed = [treadle for _ in range(picks) for treadle in chance.choice(motifs) * chance.randrange(1, 30)]
    made = {
        "one repeat": [1, 2, 3, 4] * picks,
        "points": [1, 2, 3, 4, 3, 2] * picks,
        "nested": blocks * picks,
        "turned": turned * picks,
        "motifs": mixed,
        "no order": [chance.randrange(8) for _ in range(picks)],
    }
    return {name: sequence[:picks] for name, sequence in made.items()}


def timed(sequence, **options):
    start = time.process_time()
    reading = read_repeats(sequence, **options)
    return time.process_time() - start, reading


def main():
    print(f"{'':<12}{'':>7}{'search':>9}{'':>8}{'':>7}  {'':<7}{'table':>8}")
    print(f"{'treadling':<12}{'picks':>7}{'s':>9}{'growth':>8}{'cost':>7}  {'exact':<7}{'s':>8}{'ratio':>7}{'cost':>7}")
    before = {}
    for picks in SIZES:
        for name, sequence in treadlings(picks).items():
            seconds, reading = timed(sequence, exact_picks=0)
            growth = f"{seconds / before[name]:.2f}" if name in before else ""
            before[name] = seconds
            peer = ""
            if picks <= LONGEST_FOR_THE_PEER:
                table_seconds, exact = timed(sequence, exact_picks=picks)
                peer = f"{table_seconds:>8.2f}{table_seconds / seconds:>7.1f}{exact.cost:>7}"
            print(f"{name:<12}{picks:>7}{seconds:>9.2f}{growth:>8}{reading.cost:>7}  {reading.exact!s:<7}{peer}")
    print("(growth: against half the picks; 2.00 is linear, 4.00 quadratic)")
    return 0


if __name__ == "__main__":
    sys.exit(main())
