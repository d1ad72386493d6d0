"""A weaver's process, killed with SIGKILL at a random moment, again and again, on one journal; checked after each kill.

Each pick is told through a pipe after it was acknowledged, so what the parent has read must be on disk. What belongs
there is worked out here by counting alone: entry n is pick (n - 1) mod 101, or the jump back to the start.
This shows what survives the death of the process. It cannot show what survives a power cut: that is SQLite's sync,
which test_store reads back.

The weaver at the warp before her first pick is the same: an end threaded is acknowledged as a pick is.

Run as a program it is the weaver: `python -m tests.journal.weave_and_kill JOURNAL` weaves until it is killed.
"""

import os
import random
import select
import signal
import subprocess
import sys
import time
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from companion.journal.snapshots import progress_of
from companion.journal.store import Journal
from companion.weaving.decide import jump, weave_pick
from companion.weaving.dressing_commands import go_on_dressing, take_out_dressing
from companion.weaving.dressing_events import Dressed, DressingTakenOut, DressingTask
from companion.weaving.events import Jumped, PickWoven
from companion.workshop.loomside import AtTheLoom
from tests.journal.warps import long_warp, wide_warp

PICKS = 100
ENDS = 60
"""So few that some tens of kills come round to the jump back and to all ends taken out."""
LONGEST_S = 0.015
"""Of a weaver's life: counted from its first pick, or for one in five from its very start, where it is opening."""
EARLY = 0.2


@dataclass
class Told:
    """What happened in all rounds together."""

    kills: int = 0
    acknowledged: int = 0
    kept_unacknowledged: int = 0
    killed_before_a_pick: int = 0
    entries: int = 0


def belongs(number):
    """The event that entry `number` must hold."""
    place = (number - 1) % (PICKS + 1)
    return PickWoven(place) if place < PICKS else Jumped(0, "again")


def threaded(number):
    """The event that entry `number` must hold where a warp of ENDS ends is threaded, taken out and threaded again."""
    place = (number - 1) % (ENDS + 1)
    task = DressingTask.THREADING
    return Dressed(task, place) if place < ENDS else DressingTakenOut(task, ENDS)


def thread(path, tell):
    """Thread end by end until killed, telling each entry's number once it is acknowledged."""
    task = DressingTask.THREADING
    with AtTheLoom(Journal.open(path), now_ms=lambda: time.time_ns() // 1_000_000) as loom:
        while True:
            done = loom.progress.now.dressing.of(task).done
            entry = loom.do(
                partial(take_out_dressing, task=task, count=ENDS)
                if done == ENDS
                else partial(go_on_dressing, task=task)
            )
            os.write(tell, b"%d\n" % entry.number)


def ends_threaded(path, chance_kills, seed, told):
    """Thread and kill so often, checking the journal after each kill; adds up in `told`."""
    rounds(path, partial(forked, what=thread), chance_kills, seed, told, belongs=threaded)


def weave(path, tell):
    """Weave until killed, telling each entry's number once it is acknowledged."""
    with AtTheLoom(Journal.open(path), now_ms=lambda: time.time_ns() // 1_000_000) as loom:
        while True:
            at_end = loom.progress.now.next_pick == PICKS
            entry = loom.do(partial(jump, pick=0, reason="again") if at_end else weave_pick)
            os.write(tell, b"%d\n" % entry.number)


def forked(path, tell, what=None):
    """Start a weaver as a copy of this process; returns its process number."""
    child = os.fork()
    if child == 0:
        try:
            (what or weave)(path, tell)
        finally:
            os._exit(1)
    return child


def fresh(path, tell):
    """Start a weaver in an interpreter of its own; returns its process number."""
    command = [sys.executable, "-m", "tests.journal.weave_and_kill", str(path)]
    return subprocess.Popen(command, stdout=tell, cwd=Path(__file__).parents[2]).pid


def weave_then_kill(start, path, chance):
    """Let a weaver live for a random while, kill it, and return the numbers it told."""
    hear, tell = os.pipe()
    life_s, early = chance.uniform(0, LONGEST_S), chance.random() < EARLY
    child = start(path, tell)
    os.close(tell)
    heard = b"" if early else told_by(hear, 60)
    assert early or heard, "the weaver never wove a pick"
    ends = time.monotonic() + life_s
    while (left := ends - time.monotonic()) > 0:
        heard += told_by(hear, left)
    os.kill(child, signal.SIGKILL)
    while piece := os.read(hear, 65_536):
        heard += piece
    os.close(hear)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), "the weaver died by itself"
    return [int(line) for line in heard.split()]


def told_by(hear, within_s):
    """What the weaver tells next; nothing if that takes longer than `within_s`."""
    if not select.select([hear], [], [], within_s)[0]:
        return b""
    piece = os.read(hear, 65_536)
    assert piece, "the weaver died by itself"
    return piece


def rounds(path, start, number, seed, told, belongs=belongs):
    """Weave and kill `number` times, checking the journal after each; adds up in `told`."""
    chance = random.Random(seed)
    Journal.create(path, wide_warp(ENDS) if belongs is threaded else long_warp(PICKS), at_ms=0).close()
    before = 0
    for _ in range(number):
        acknowledged = weave_then_kill(start, path, chance)
        assert acknowledged == list(range(before + 1, before + len(acknowledged) + 1)), "a number was lost or doubled"
        with Journal.open(path) as journal:
            extra = journal.last_number - before - len(acknowledged)
            assert extra in (0, 1), f"{extra} entries more than were acknowledged"
            for entry in journal.entries(after=before):
                assert entry.event == belongs(entry.number), f"entry {entry.number} holds {entry.event}"
            assert not journal.notice
            now = progress_of(journal).now
            if belongs is threaded:
                done = now.dressing.of(DressingTask.THREADING).done
                assert done == journal.last_number % (ENDS + 1), "resumed at the wrong end"
            else:
                assert now.next_pick == journal.last_number % (PICKS + 1), "resumed at the wrong pick"
        told.kills += 1
        told.acknowledged += len(acknowledged)
        told.kept_unacknowledged += extra
        told.killed_before_a_pick += not acknowledged
        before += len(acknowledged) + extra
    with Journal.open(path) as journal:
        told.entries = journal.look_through()
        assert [entry.event for entry in journal.entries()] == [belongs(n) for n in range(1, told.entries + 1)]
    assert told.entries == told.acknowledged + told.kept_unacknowledged


if __name__ == "__main__":
    weave(Path(sys.argv[1]), sys.stdout.fileno())
