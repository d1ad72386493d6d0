"""Answers by annealing the feet: every target gets a footing at once, and its footing is drawn anew, over and over.

Once each target has a footing, the best columns follow: a column is all that the targets which press it have in common.
So only the footings are sought. Their cost is the number of pulls that no column brings; at nothing, an answer.
One target after the other, more often one that still lacks a pull, draws its footing from all that there are, with odds
that fall with the cost by a *temperature*, which itself falls in the course of a round (simulated annealing; S.
Kirkpatrick, C.D. Gelatt and M.P. Vecchi, Science 220, 1983, from memory). All footings of a target are priced together
in numpy.

How many columns to try is halved in: what a short round does not find is left to a longer one. It proves nothing. At
reach 2, where complete searches drown soon, most good answers come from here.

Chance is counted out by a fixed rule (`chance`), so the same question goes the same way. A node of the watch is one
draw, or a part of one. Pulls are renumbered and put into the bits of numpy's integers; where they are more than these
hold, nothing is done.

Lemmas and proofs: assets/mathematics.md, "Annealed feet".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache, reduce
from operator import and_

import numpy as np

from companion.draft.masks import bit, bits_of, counts, has_bit
from companion.remap.loom.pressing import runs
from companion.remap.loom.targets import Column, Columns, Target
from companion.remap.search.chance import chances
from companion.remap.search.choices import Bools, Ints
from companion.remap.search.engine import Found, number_to_ask
from companion.remap.search.lower_bounds import ways_to_press
from companion.remap.search.watch import SearchPausedError, Watch

TURN = 24
"""Nodes of one turn: it finds soon what it finds, and proofs want the rest of the time."""

FIRST_ROUND = 40
"""Draws of a round for each target at first; twice as many once no number between the bounds was found."""

HOT, COLD = 0.5, 0.2
"""The temperatures of a round, in pulls: at its beginning, and at its end."""

SEEKS = 0.4
"""How often a target that still lacks a pull is taken, and not any of them."""

STEPS_OF_NODE = 6_000
"""Footings times targets that take as long as a node of the other engines: larger draws count as several."""

MOST_PULLS = 62
MOST_PRESSED = 4


class Annealing:
    """The engine that looks for answers between the bounds; it keeps its place between turns."""

    def __init__(self, targets: Sequence[Target], reach: int, watch: Watch) -> None:
        self._targets = tuple(targets)
        self._reach = reach
        self._watch = watch
        self._patience = FIRST_ROUND * len(targets)
        self._not_found = 0
        """So many columns were not found with this patience."""
        self._rounds = 0
        self._asked = 0
        self._draws: Iterator[Columns | None] = iter(())
        self._pulls = tuple(bits_of(reduce(lambda one, other: one | other, targets, 0)))

    def work(self, known: Found, enough: int | None) -> Found:
        """Draw for one turn; what is found has fewer columns than what is known."""
        if len(self._pulls) > MOST_PULLS:
            return known
        self._watch.allow(TURN)
        try:
            columns = self._found(known, enough)
        except SearchPausedError:
            return known
        return known.opened_by(columns)

    def _found(self, known: Found, enough: int | None) -> Columns:
        while True:
            if not known.at_least <= self._asked < known.best:
                self._begin(known, enough)
            for columns in self._draws:
                if columns is not None:
                    self._asked = 0
                    return columns
                for _ in range(1 + ways_to_press(self._asked, self._reach) * len(self._targets) // STEPS_OF_NODE):
                    self._watch.node()
            self._not_found = self._asked
            self._asked = 0

    def _begin(self, known: Found, enough: int | None) -> None:
        low = max(known.at_least, self._not_found + 1)
        if low >= known.best:
            low, self._not_found = known.at_least, 0
            self._patience *= 2
        self._asked = (low + known.best - 1) // 2 if enough is None else number_to_ask(known, enough)
        self._rounds += 1
        self._draws = _drawn(self._targets, self._pulls, self._asked, self._reach, self._patience, self._rounds)


def _drawn(
    targets: Sequence[int], pulls: Sequence[int], columns: int, reach: int, draws: int, seed: int
) -> Iterator[Columns | None]:
    """Yield None after every draw of one round, and at its end columns if these were found."""
    footings, pressed, holds = _footings(columns, reach)
    wanted = np.array([sum(bit(k) for k, pull in enumerate(pulls) if has_bit(t, pull)) for t in targets])
    every = int(np.bitwise_or.reduce(wanted))
    free = np.full((len(targets), columns + 1), every)
    free[:, columns] = 0
    rows = np.arange(len(footings))
    chance = chances(seed)
    feet = np.array([next(chance) * len(footings) for _ in targets]).astype(np.int64)
    lacking = np.arange(len(targets))
    for draw in range(draws):
        temperature = HOT * (COLD / HOT) ** (draw / draws)
        if next(chance) < SEEKS:
            at = int(lacking[int(next(chance) * len(lacking))])
        else:
            at = int(next(chance) * len(targets))
        asked = np.where(holds[feet], wanted[:, None], free)
        asked[at] = free[at]
        shared = np.bitwise_and.reduce(asked, axis=0)
        # For each footing of this target the columns that would be shared then, and what every target gets from them.
        after = np.where(holds, shared & wanted[at], shared)
        now = pressed[feet]
        brought = after[:, now[:, 0]] | after[:, now[:, 1]] | after[:, now[:, 2]] | after[:, now[:, 3]]
        own = [after[rows, pressed[:, k]] for k in range(MOST_PRESSED)]
        brought[:, at] = own[0] | own[1] | own[2] | own[3]
        lacks = counts(wanted & ~brought)
        costs = lacks.sum(axis=1, dtype=np.int64)
        odds = np.cumsum(np.exp((costs.min() - costs) / temperature))
        chosen = min(int(np.searchsorted(odds, next(chance) * odds[-1])), len(footings) - 1)
        feet[at] = chosen
        if not costs[chosen]:
            yield _shared([footings[foot] for foot in feet.tolist()], targets, columns)
            return
        lacking = np.flatnonzero(lacks[chosen])
        yield None


def _shared(feet: Sequence[tuple[int, ...]], targets: Sequence[int], columns: int) -> Columns:
    """Return for each treadle that is pressed what the targets pressing it have in common, if they have anything."""
    found = []
    for treadle in range(columns):
        users = [target for target, pressed in zip(targets, feet, strict=True) if treadle in pressed]
        found.append(Column(reduce(and_, users)) if users else Column(0))
    return tuple(column for column in found if column)


@cache
def _footings(treadles: int, reach: int) -> tuple[tuple[tuple[int, ...], ...], Ints, Bools]:
    """Return what two feet can press, each set of treadles once: as such, and as arrays.

    The first lists the treadles of each (footings x 4, int64; the number past the last where there are fewer), the
    second tells which of them it holds (footings x treadles + 1, bool).
    """
    of_one = list(runs(treadles, reach))
    sets = dict.fromkeys(of_one)
    sets.update({left + right: None for left in of_one for right in of_one if left[-1] < right[0]})
    found = tuple(sets)
    pressed = np.full((len(found), MOST_PRESSED), treadles, dtype=np.int64)
    holds = np.zeros((len(found), treadles + 1), dtype=np.bool_)
    for at, treadles_pressed in enumerate(found):
        pressed[at, : len(treadles_pressed)] = treadles_pressed
        holds[at, list(treadles_pressed)] = True
    return found, pressed, holds
