"""Keeping treadles as they are: no way to give up fewer opens the sheds of the next stage."""

import itertools
import random

from companion.remap.loom.footings import can_open
from companion.remap.loom.loom import Loom
from companion.remap.loom.question import Job
from companion.remap.stages.keeping import keeping_most


def fewest_given_up(previous, targets):
    """Try every set of treadles to keep, the rest tied to targets one by one."""
    for given_up in range(len(previous) + 1):
        for gone in itertools.combinations(range(len(previous)), given_up):
            kept = [column for at, column in enumerate(previous) if at not in gone]
            if sum(not can_open(target, kept, 1) for target in targets) <= given_up:
                return given_up
    return None


def test_as_many_treadles_as_can_be_stay_as_they_are():
    rng = random.Random("keeping")
    for _ in range(150):
        previous = [rng.randrange(1, 16) for _ in range(4)]
        targets = [rng.randrange(1, 16) for _ in range(rng.randint(1, 6))]
        job = Job(Loom(4, 4), 4, tuple(targets), None)
        columns = keeping_most(tuple(previous), job)
        fewest = fewest_given_up(previous, dict.fromkeys(targets))
        if columns is None:
            assert fewest is None
            continue
        assert all(can_open(target, columns, 1) for target in targets)
        left = list(columns)
        stay = 0
        for column in previous:
            if column in left:
                left.remove(column)
                stay += 1
        assert stay >= len(previous) - fewest
