"""The tie-up of the stage before, with as few of its treadles tied anew as can be."""

from __future__ import annotations

from itertools import chain, combinations, islice

from companion.remap.feet.place_tieup import present_columns
from companion.remap.loom.footings import can_open
from companion.remap.loom.loom import TieUp
from companion.remap.loom.question import Job
from companion.remap.loom.targets import tie_of

MOST_TRIED = 300
"""How many ways to give up treadles of the tie-up before are tried for the next stage."""


def keeping_most(previous: TieUp, job: Job) -> TieUp | None:
    """Return a tie-up for reach 1 that leaves as many treadles of the previous one as they are as can be.

    Treadles are given up one, two, three … at a time until the targets that the rest do not open each have a treadle.
    None where `MOST_TRIED` ways to give treadles up have not helped.
    """
    columns = present_columns(job, previous)
    targets = list(dict.fromkeys(target for target in job.treadling if target))
    every = range(len(columns))
    ways = chain.from_iterable(combinations(every, given_up) for given_up in (*every, len(columns)))
    for given_up in islice(ways, MOST_TRIED):
        kept = [0 if treadle in given_up else column for treadle, column in enumerate(columns)]
        missing = [target for target in targets if not can_open(target, kept, job.loom.reach)]
        if len(missing) <= len(given_up):
            for treadle, target in zip(given_up, missing, strict=False):
                kept[treadle] = target
            return tuple(tie_of(column, job.shafts, job.loom.action) for column in kept if column)
    return None
