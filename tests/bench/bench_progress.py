"""The fold: cost of one more event after 10, 10,000 and 1,000,000, and of a whole fold, with growth and a peer.

The peer folds the same events into a mutable Python object (a list of picks), as little as weaving needs.
Run: python -m tests.bench.bench_progress [EVENTS]
"""

from __future__ import annotations

import statistics
import sys
import time

from companion.weaving.events import Entry, Jumped, PickTakenOut, PickWoven, Undone
from companion.weaving.pick_view import next_pick, this_pick
from companion.weaving.progress import begin, evolve
from tests.weaving.world import lever_draft, lever_warp

PICKS = 1_000


def events(number):
    """Weave; every 50th pick is taken out and woven again, every 97th undone; at the end begin anew by a jump."""
    place, made = 0, 0
    while made < number:
        if place == PICKS:
            yield Jumped(0, "once more")
            place, made = 0, made + 1
            continue
        yield PickWoven(place)
        made += 1
        if place % 50 == 49:
            yield PickTakenOut(place)
            yield PickWoven(place)
            made += 2
        if place % 97 == 96:
            yield Undone(made)
            yield PickWoven(place)
            made += 2
        place += 1


class Plain:
    """The peer: mutable, without undo trail, shuttles, sections or times."""

    def __init__(self):
        self.cloth, self.place = [], 0

    def take(self, event):
        if isinstance(event, PickWoven):
            self.cloth.append(event.pick)
            self.place = event.pick + 1
        elif isinstance(event, PickTakenOut | Undone):
            self.place = self.cloth.pop()
        else:
            self.place = event.pick


def main():
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    warp = lever_warp(lever_draft([pick // 7 % 3 for pick in range(PICKS)]))
    entries = [Entry(count, count * 2_000, event) for count, event in enumerate(events(number), 1)]
    marks = [mark for mark in (10, 10_000, 100_000, 1_000_000) if mark <= number]
    progress, began = begin(warp), time.process_time()
    for entry in entries:
        progress = evolve(warp, progress, entry)
        if entry.number in marks:
            taken = time.process_time() - began
            print(
                f"after {entry.number:>9} events: whole fold {taken:7.2f} s "
                f"({taken / entry.number * 1e6:5.1f} us each), one more event {_one_more(warp, progress):5.1f} us, "
                f"this and next pick {_view(warp, progress):5.1f} us, runs in the cloth {len(progress.now.cloth.below)}"
            )
    ours = time.process_time() - began
    plain, began = Plain(), time.process_time()
    for entry in entries:
        plain.take(entry.event)
    peer = time.process_time() - began
    assert plain.place == progress.now.next_pick
    assert len(plain.cloth) == progress.now.cloth.picks
    print(f"plain mutable list: {peer:.2f} s; ratio {ours / peer:.0f}")


def _one_more(warp, progress):
    entry = Entry(progress.now.number + 1, progress.now.at_ms + 2_000, PickWoven(progress.now.next_pick))
    return _median_us(lambda: evolve(warp, progress, entry))


def _view(warp, progress):
    return _median_us(lambda: (this_pick(warp, progress), next_pick(warp, progress)))


def _median_us(work):
    times = []
    for _ in range(301):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return statistics.median(times) * 1e6


if __name__ == "__main__":
    main()
