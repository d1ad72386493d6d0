"""The journal's speed as it grows: opening a warp, adding an entry, and a verified copy.

Peers in the same run: opening is held against folding every entry, adding against one bare INSERT into a table without
triggers, seals or snapshots, on the same disk with the same sync. Growth is the ratio to the shortest journal.

Run: python -m tests.bench.bench_journal [LARGEST]
"""

import sqlite3
import statistics
import sys
import tempfile
import time
from functools import partial
from pathlib import Path

from companion.journal.backup import back_up
from companion.journal.snapshots import keep_snapshot, progress_of
from companion.journal.store import Journal
from companion.loomside import AtTheLoom
from companion.weaving.decide import jump, weave_pick
from companion.weaving.events import Entry, Jumped, PickWoven
from companion.weaving.progress import fold
from tests.journal.warps import long_warp

PICKS = 10_000
SIZES = (10, 1_000, 10_000, 100_000, 1_000_000)
ADDED = 2_000
OPENINGS = 7


def entries(number):
    """The first `number` entries of one piece woven again and again."""
    for n in range(1, number + 1):
        place = (n - 1) % (PICKS + 1)
        yield Entry(n, 1_700_000_000_000 + 2_000 * n, PickWoven(place) if place < PICKS else Jumped(0, "again"))


def timed(work):
    began = time.perf_counter()
    result = work()
    return time.perf_counter() - began, result


def median_opening(path):
    """Median seconds from a closed journal to the progress, as at the start of the program."""

    def open_and_close():
        with AtTheLoom(Journal.open(path), now_ms=lambda: 0) as loom:
            opened.append(time.perf_counter() - began)
            return loom.progress.now.number

    opened = []
    for _ in range(OPENINGS):
        began = time.perf_counter()
        open_and_close()
    return statistics.median(opened)


def adding(path):
    """Sorted seconds of `ADDED` commands, each on disk when it returns, snapshots included."""
    spans = []
    with AtTheLoom(Journal.open(path), now_ms=lambda: 0) as loom:
        for _ in range(ADDED):
            at_end = loom.progress.now.next_pick == PICKS
            spans.append(timed(lambda at_end=at_end: loom.do(partial(jump, pick=0) if at_end else weave_pick))[0])
    return sorted(spans)


def bare_insert(folder):
    """Median seconds of the peer: one row, one commit, the same sync."""
    database = sqlite3.connect(folder / "peer.db", isolation_level=None)
    database.execute("PRAGMA journal_mode = WAL")
    database.execute("PRAGMA synchronous = FULL")
    database.execute("CREATE TABLE entries (number INTEGER PRIMARY KEY, at_ms, name, body, seal)")
    spans = [
        timed(
            lambda n=n: database.execute(
                "INSERT INTO entries VALUES (?, ?, ?, ?, ?)", (n, n, "PickWoven", '{"pick":1}', n)
            )
        )[0]
        for n in range(ADDED)
    ]
    database.close()
    return statistics.median(spans)


def main():
    largest = int(sys.argv[1]) if len(sys.argv) > 1 else SIZES[-1]
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        peer = bare_insert(folder)
        print(f"peer: one bare INSERT with the same sync, median {1e3 * peer:.3f} ms")
        print(
            "entries   file MB  open ms (growth)  fold of all ms (ratio)  add median ms (growth, ratio)  p99 ms  copy s"
        )
        first = None
        for size in (size for size in SIZES if size <= largest):
            path = folder / f"{size}.journal"
            with Journal.create(path, long_warp(PICKS), at_ms=0) as journal:
                journal.extend(entries(size))
                keep_snapshot(journal, progress_of(journal))
            with Journal.open_to_read(path) as journal:
                folding, _ = timed(partial(fold, journal.warp, journal.entries()))
            opening = median_opening(path)
            copying, copy = timed(partial(back_up, path, folder / "copies"))
            assert copy.entries == size
            spans = adding(path)
            median = statistics.median(spans)
            first = first or (opening, median)
            print(
                f"{size:>8} {path.stat().st_size / 1e6:>8.1f} {1e3 * opening:>8.1f} ({opening / first[0]:.2f})"
                f" {1e3 * folding:>14.1f} ({folding / opening:.1f})"
                f" {1e3 * median:>16.3f} ({median / first[1]:.2f}, {median / peer:.2f})"
                f" {1e3 * spans[int(0.99 * ADDED)]:>14.2f} {copying:>7.2f}",
                flush=True,
            )


if __name__ == "__main__":
    main()
