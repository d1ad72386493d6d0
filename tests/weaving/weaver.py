"""A simulated weaver: when which treadle goes down and comes up, pick by pick, with the mistakes planted here.

It knows nothing of the product's rules: feet arrive one after the other, brush neighbours, stand as long as a pick
takes, and leave one after the other; sometimes the next foot is down before the last one is up.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from enum import Enum


class Mistake(Enum):
    WRONG = "a wrong treadle instead of a right one"
    EXTRA = "a wrong treadle besides the right ones"
    MISSING = "only one of two treadles"


@dataclass
class Step:
    """One pick at the loom: the moves (seconds, treadle, down) and the mistake in them, if any."""

    wanted: frozenset[int]
    moves: list[tuple[float, int, bool]]
    mistake: Mistake | None
    beat_s: float
    """When the weaver would beat, were she not warned."""


class Weaver:
    def __init__(self, treadles, seed=1, pace_s=1.6):
        self._treadles = treadles
        self._chance = random.Random(seed)
        self._pace_s = pace_s
        self._now_s = 10.0

    def step(self, wanted, mistake=None, following=None):
        """Weave one pick; a mistake is noticed after the warning, undone, and the pick trodden right.

        With `following`, the treadles of the next pick, a foot now and then goes there before the last one is up.
        """
        moves = []
        standing_s = None
        if mistake is not None:
            standing_s = self._tread(moves, self._spoil(wanted, mistake), linger_s=1.2)
        right_s = self._tread(moves, wanted, linger_s=max(0.5, self._pace_s * self._chance.uniform(0.3, 0.7)))
        if following is not None and not wanted & following and self._chance.random() < 0.2:
            first_up_s = min(at_s for at_s, _, down in moves[-len(wanted) :] if not down)
            self._now_s = first_up_s - self._chance.uniform(0.02, 0.2)
        # The beat comes when the feet stand and the shuttle has gone through.
        return Step(wanted, sorted(moves), mistake, (right_s if standing_s is None else standing_s) + 0.9)

    def _spoil(self, wanted, mistake):
        others = [treadle for treadle in range(self._treadles) if treadle not in wanted]
        one = self._chance.choice(sorted(wanted))
        match mistake:
            case Mistake.WRONG:
                return (wanted - {one}) | {self._chance.choice(others)}
            case Mistake.EXTRA:
                return wanted | {self._chance.choice(others)}
            case Mistake.MISSING:
                assert len(wanted) > 1
                return wanted - {one}

    def _tread(self, moves, down, linger_s):
        chance, start_s = self._chance, self._now_s
        arrive = {treadle: start_s + number * chance.uniform(0.05, 0.4) for number, treadle in enumerate(sorted(down))}
        if chance.random() < 0.2:
            brushed = chance.choice([t for t in range(self._treadles) if t not in down])
            moves += [(start_s + 0.01, brushed, True), (start_s + 0.01 + chance.uniform(0.02, 0.09), brushed, False)]
        moves += [(at_s, treadle, True) for treadle, at_s in arrive.items()]
        self._now_s = max(arrive.values()) + linger_s
        for treadle in sorted(down):
            moves.append((self._now_s + chance.uniform(0.0, 0.15), treadle, False))
        self._now_s = max(at_s for at_s, *_ in moves) + chance.uniform(0.1, 0.6)
        return max(arrive.values())
