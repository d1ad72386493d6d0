"""The tie-up of the stage before, with as few of its treadles tied anew as will do when each missing shed gets one.

Lemmas and proofs: assets/mathematics.md, "Stages".
"""

from __future__ import annotations

from itertools import chain, combinations, islice

from companion.remap.loom.footings import can_open
from companion.remap.loom.question import Job
from companion.remap.loom.targets import UNTIED, Columns

MOST_TRIED = 300
"""How many ways to give up treadles of the tie-up before are tried for the next stage."""


def keeping_most(previous: Columns, job: Job) -> Columns | None:
    """Return columns for reach 1 that leave as many treadles of the previous stage as they are as can be.

    `previous` has a column for every treadle of the loom.
    Treadles are given up one, two, three … at a time until the targets that the rest do not open each have a treadle.
    None where `MOST_TRIED` ways to give treadles up have not helped.
    """
    targets = list(dict.fromkeys(target for target in job.treadling if target))
    every = range(len(previous))
    ways = chain.from_iterable(combinations(every, given_up) for given_up in (*every, len(previous)))
    for given_up in islice(ways, MOST_TRIED):
        kept = [UNTIED if treadle in given_up else column for treadle, column in enumerate(previous)]
        missing = [target for target in targets if not can_open(target, kept, job.loom.reach)]
        if len(missing) <= len(given_up):
            for treadle, target in zip(given_up, missing, strict=False):
                kept[treadle] = target
            return tuple(column for column in kept if column)
    return None
