"""A simulated switch with the bounce that Ganssle measured (mean 1.6 ms, worst 6.2 ms; A Guide to Debouncing, 2004).

The signal is made here as changes in time and sampled there: nothing of the product is used.
"""

from __future__ import annotations

import bisect
import random
from itertools import pairwise

MEAN_BOUNCE_MS = 1.6
WORST_BOUNCE_MS = 6.2


class BouncingSwitch:
    """Changes of a contact for presses given as (down_ms, up_ms)."""

    def __init__(self, presses, seed, worst_ms=WORST_BOUNCE_MS):
        chance = random.Random(seed)
        self._times = [float("-inf")]
        self._states = [False]
        for down_ms, up_ms in presses:
            self._change(down_ms, True, chance, worst_ms)
            self._change(up_ms, False, chance, worst_ms)
        assert all(earlier <= later for earlier, later in pairwise(self._times))

    def _change(self, at_ms, final, chance, worst_ms):
        bounce_ms = min(worst_ms, chance.expovariate(1 / MEAN_BOUNCE_MS))
        flips = sorted(at_ms + chance.uniform(0, bounce_ms) for _ in range(2 * chance.randrange(6)))
        for number, flip_ms in enumerate([at_ms, *flips]):
            self._times.append(flip_ms)
            self._states.append(final if number % 2 == 0 else not final)

    def closed(self, at_ms):
        return self._states[bisect.bisect_right(self._times, at_ms) - 1]
