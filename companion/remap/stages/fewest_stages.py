"""Where to stop and tie the treadles anew, when no one tie-up opens all sheds: provably fewest stops.

A stage is a stretch of picks whose sheds fit the loom. Fitting is hereditary: a tie-up that opens some sheds opens
every subset of them, so every stretch within a stretch that fits fits too. Two things follow.

*Fewest stages.* Take each stage as long as it will go. Let any other plan be given; by induction its m-th stop lies
no later than ours: its stage m + 1 begins no later than ours, so what we try first, up to its next stop, is a stretch
within a stretch that fits or within our own stage, and fits. So no plan needs fewer stages.

*Stops at section ends.* Among plans with that many stages one with the most stops at ends of sections is found by
dynamic programming. A stop that is not at a section end may be put as late as its stage allows: were the next stop
then reached already, the plan would have had a stage too many. So only section ends and latest stops are candidates.

Lemmas and proofs: assets/mathematics.md, "Stages".
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from itertools import pairwise

from companion.remap.loom.targets import Target

FitsOrNot = Callable[[frozenset[Target]], bool]
"""Tells whether all of these targets fit the loom on one tie-up."""


def fewest_stages(furthest: Furthest, section_ends: Sequence[int] = ()) -> tuple[range, ...]:
    """Return the picks of each stage: as few stages as can be, then as many stops at section ends as can be.

    `section_ends` are indices of the pick after a section's last. Every single target must fit. Where two targets fit,
    `fewest_stages(Furthest([1, 2, 1, 3], …), [2])` is `(range(0, 2), range(2, 4))`: one stop, and at the section's end
    although the first stage could go on to pick 3.
    """
    picks = len(furthest.treadling)
    if not picks:
        return ()
    stages = furthest.stages_from(0)
    ends = sorted({end for end in section_ends if 0 < end < picks})
    # Each stop that can be the last of so many stages: how many stops at section ends lead there, and from which stop.
    layer: dict[int, tuple[int, int]] = {0: (0, -1)}
    layers = []
    for left in range(stages - 1, 0, -1):
        after: dict[int, tuple[int, int]] = {}
        for start in sorted(layer):
            latest = furthest(start)
            for stop in (*(end for end in ends if start < end < latest), latest):
                kept = layer[start][0] + (stop in ends)
                if (stop not in after or kept > after[stop][0]) and furthest.stages_from(stop) <= left:
                    after[stop] = (kept, start)
        layers.append(after)
        layer = after
    stops = [picks]
    if layers:
        stops.append(max(layer, key=lambda stop: (layer[stop][0], stop)))
    for found in reversed(layers):
        stops.append(found[stops[-1]][1])
    if stages == 1:
        stops.append(0)
    stops.reverse()
    return tuple(range(start, stop) for start, stop in pairwise(stops))


class Furthest:
    """How far a stage goes that begins at a pick; each question about a set of targets is asked once.

    Where two targets fit, `Furthest([1, 2, 1, 3], …)(0)` is 3.
    """

    def __init__(self, treadling: Sequence[Target], fits: FitsOrNot) -> None:
        self.treadling = treadling
        self._fits = cache(fits)
        self._known: dict[int, int] = {}
        self._stages = {len(treadling): 0}

    def __call__(self, start: int) -> int:
        """Return the pick at which a stage that begins at `start` must stop at the latest."""
        if start not in self._known:
            targets: set[Target] = set()
            stop = start
            while stop < len(self.treadling):
                target = self.treadling[stop]
                if target not in targets:
                    if not self._fits(frozenset(targets | {target})):
                        break
                    targets.add(target)
                stop += 1
            self._known[start] = stop
        return self._known[start]

    def stages_from(self, start: int) -> int:
        """Return how few stages weave the picks from `start` on: each as long as it will go."""
        starts = []
        while start not in self._stages:
            starts.append(start)
            start = self(start)
        for known in reversed(starts):
            self._stages[known] = self._stages[self(known)] + 1
            start = known
        return self._stages[start]
