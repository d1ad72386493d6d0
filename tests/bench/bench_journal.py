"""The journal's speed as it grows: opening a warp, adding an entry, and a verified copy.

Peers in the same run: opening is held against folding every entry, adding against one bare INSERT into a table without
triggers, seals or snapshots, on the same disk with the same sync. Growth is the ratio to the shortest journal. Journals
of all sizes and the peer take turns, entry by entry, so that a busy disk slows all of them alike.

Run: python -m tests.bench.bench_journal [LARGEST]
"""

import sqlite3
import statistics
import sys
import tempfile
import time
from contextlib import ExitStack
from functools import partial
from pathlib import Path

from companion.journal.backup import back_up
from companion.journal.snapshots import keep_snapshot, progress_of
from companion.journal.store import Journal
from companion.weaving.decide import jump, weave_pick
from companion.weaving.events import Entry, Jumped, PickWoven
from companion.workshop.loomside import AtTheLoom
from tests.journal.warps import long_warp

PICKS = 10_000
SIZES = (10, 1_000, 10_000, 100_000, 1_000_000)
ADDED = 2_000
OPENINGS = 15


def entries(number):
    """The first `number` entries of one piece woven again and again."""
    for n in range(1, number + 1):
        place = (n - 1) % (PICKS + 1)
        yield Entry(n, 1_700_000_000_000 + 2_000 * n, PickWoven(place) if place < PICKS else Jumped(0, "again"))


def timed(work):
    began = time.perf_counter()
    work()
    return 1e3 * (time.perf_counter() - began)


def make(path, size):
    """A journal of `size` entries with its snapshot; returns the milliseconds of folding all of it."""
    with Journal.create(path, long_warp(PICKS), at_ms=0) as journal:
        journal.extend(entries(size))
        return timed(lambda: keep_snapshot(journal, progress_of(journal)))


def sit_down(path):
    """From a closed journal to the progress, as at the start of the program."""
    return AtTheLoom(Journal.open(path), now_ms=lambda: 0)


def weave_one(loom):
    at_end = loom.progress.now.next_pick == PICKS
    loom.do(partial(jump, pick=0) if at_end else weave_pick)


def bare_table(folder):
    """The peer: one row, one commit, the same sync."""
    database = sqlite3.connect(folder / "peer.db", isolation_level=None)
    database.execute("PRAGMA journal_mode = WAL")
    database.execute("PRAGMA synchronous = FULL")
    database.execute("CREATE TABLE entries (number INTEGER PRIMARY KEY, at_ms, name, body, seal)")
    return database


def openings(paths):
    """Milliseconds of each opening, by size."""
    spans = {size: [] for size in paths}
    for _ in range(OPENINGS):
        for size, path in paths.items():
            with ExitStack() as stack:
                spans[size].append(timed(lambda path=path, stack=stack: stack.enter_context(sit_down(path))))
    return spans


def additions(paths, peer):
    """Milliseconds of each command, on disk when it returns and snapshots included, by size; and of the peer's rows."""
    spans, peers = {size: [] for size in paths}, []
    with ExitStack() as stack:
        looms = {size: stack.enter_context(sit_down(path)) for size, path in paths.items()}
        for n in range(ADDED):
            row = (n, n, "PickWoven", '{"pick":1}', n)
            peers.append(timed(partial(peer.execute, "INSERT INTO entries VALUES (?, ?, ?, ?, ?)", row)))
            for size, loom in looms.items():
                spans[size].append(timed(partial(weave_one, loom)))
    return spans, peers


def main():
    largest = int(sys.argv[1]) if len(sys.argv) > 1 else SIZES[-1]
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        paths = {size: folder / f"{size}.journal" for size in SIZES if size <= largest}
        folding = {size: make(path, size) for size, path in paths.items()}
        opening = openings(paths)
        copying = {size: timed(partial(back_up, path, folder / "copies")) for size, path in paths.items()}
        peer = bare_table(folder)
        adding, peers = additions(paths, peer)
        peer.close()
        bare = statistics.median(peers)
        print(
            f"peer: one bare INSERT with the same sync, median {bare:.3f} ms, p99 {sorted(peers)[-ADDED // 100]:.1f} ms"
        )
        print("  entries  file MB | open ms  growth  fold all ms | add ms  growth  to peer   p99 ms | verified copy s")
        first_open, first_add = (statistics.median(spans[min(paths)]) for spans in (opening, adding))
        for size, path in paths.items():
            opened, added = statistics.median(opening[size]), statistics.median(adding[size])
            print(
                f"{size:>9} {path.stat().st_size / 1e6:>8.1f} | {opened:>7.1f} {opened / first_open:>7.2f}"
                f" {folding[size]:>12.1f} | {added:>6.3f} {added / first_add:>7.2f} {added / bare:>8.2f}"
                f" {sorted(adding[size])[-ADDED // 100]:>8.1f} | {copying[size] / 1e3:.2f}"
            )


if __name__ == "__main__":
    main()
