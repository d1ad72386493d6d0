"""Kill -9 a weaver 1,000 times on one journal and once more while she threads: acknowledged, kept, how long it took.

Run: python -m tests.bench.bench_kill [KILLS [SEED]]
"""

import sys
import tempfile
import time
from pathlib import Path

from tests.journal.weave_and_kill import Told, ends_threaded, forked, fresh, rounds


def main():
    kills = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else time.time_ns()
    print(f"seed {seed}")
    with tempfile.TemporaryDirectory() as folder:
        for what, start, number in (
            ("forked weavers", forked, kills - kills // 20),
            ("weavers in fresh interpreters", fresh, kills // 20),
        ):
            told, began = Told(), time.perf_counter()
            rounds(Path(folder) / f"{start.__name__}.journal", start, number, seed, told)
            print(
                f"{what}: {told.kills} kills ({told.killed_before_a_pick} before the first pick), "
                f"{told.acknowledged} picks acknowledged, 0 lost, 0 doubled, "
                f"{told.kept_unacknowledged} kept without acknowledgement (at most 1 a kill), "
                f"{time.perf_counter() - began:.0f} s"
            )
        told, began = Told(), time.perf_counter()
        ends_threaded(Path(folder) / "threaded.journal", kills, seed, told)
        print(
            f"threading: {told.kills} kills, {told.acknowledged} entries acknowledged, 0 lost, 0 doubled, "
            f"{told.kept_unacknowledged} kept without acknowledgement, {time.perf_counter() - began:.0f} s"
        )


if __name__ == "__main__":
    main()
