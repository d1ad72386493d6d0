"""Stepping ends: cost of one more end after 10, 1,000 and 10,000, beside one more pick in the same run.

The peer is a pick woven and shown (fold, this and next pick) on a warp of as many picks. What is shown of an end is
made ready once for a sitting; that is timed by itself.
Run: python -m tests.bench.bench_dressing [ENDS]
"""

from __future__ import annotations

import statistics
import sys
import time

from companion.weaving.decide import weave_pick
from companion.weaving.dressing_events import DressingTask
from companion.weaving.dressing_way import DressingWay
from companion.weaving.events import Entry
from companion.weaving.pick_view import next_pick, this_pick
from companion.weaving.progress import begin, evolve
from tests.weaving.world import lever_draft, lever_warp

THREADING = DressingTask.THREADING


def main():
    ends = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    warp = lever_warp(lever_draft([pick // 7 % 3 for pick in range(ends)], ends=ends))
    way, began = DressingWay(one_by_one=True), time.process_time()
    way.view(warp, begin(warp), THREADING)
    print(f"made ready for {ends:,} ends: {(time.process_time() - began) * 1e3:.0f} ms, once a sitting")

    def press_end(progress):
        return way.go_on(warp, progress, THREADING)

    def press_pick(progress):
        return weave_pick

    by_end = _stepped(warp, ends, press_end, lambda progress: way.view(warp, progress, THREADING))
    by_pick = _stepped(warp, ends, press_pick, lambda progress: (this_pick(warp, progress), next_pick(warp, progress)))
    for mark in by_end:
        print(f"after {mark:>6}: an end {by_end[mark]:6.1f} us, a pick {by_pick[mark]:6.1f} us, ", end="")
        print(f"ratio {by_end[mark] / by_pick[mark]:.2f}")


def _stepped(warp, steps, command, view):
    progress, taken, marks = begin(warp), [], {}
    for number in range(1, steps + 1):
        start = time.process_time()
        event = command(progress)(warp, progress)
        progress = evolve(warp, progress, Entry(number, number * 2_000, event))
        view(progress)
        taken.append(time.process_time() - start)
        if number in (10, 100, 1_000, 10_000, 100_000):
            marks[number] = statistics.median(taken[-200:]) * 1e6
    return marks


if __name__ == "__main__":
    main()
