"""The engine that climbs from below: do as few columns as are not ruled out yet? If not, one more is needed.

Which search decides that for a number of columns depends on the reach (`pairs`, `runs`).

Lemmas and proofs: assets/mathematics.md, "The portfolio".
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from typing import Protocol

from companion.remap.loom.targets import Columns
from companion.remap.search.engine import Found, number_to_ask
from companion.remap.search.watch import SearchPausedError, Watch


class Decision(Protocol):
    """A search that decides for one set of targets and one number of columns."""

    def columns(self) -> Columns | None:
        """Return at most so many columns that open every target, or None. Raises SearchPausedError."""
        ...


LONG_AFTER = 4
"""The turn of a number that may be a long one."""

Decide = Callable[[int], Decision]
"""Begins the decision for this number of columns, which is no less than the fooling set that it starts from."""


class FromBelow:
    """Asks for the fewest columns not ruled out and, `ahead` of that, for some more that may be found sooner."""

    def __init__(self, decide: Decide, ahead: int, turn: int, watch: Watch, *, long_turn: int = 0) -> None:
        """Take turns of so many nodes; a number that some turns have not decided may have one of `long_turn` once."""
        self._decide = decide
        self._ahead = ahead
        self._turn = turn
        self._long_turn = long_turn
        self._watch = watch
        self._open: dict[int, Decision] = {}
        self._turns: Counter[int] = Counter()

    def work(self, known: Found, enough: int | None) -> Found:
        """Take one turn at each number that is asked for, until one of them is decided."""
        if enough is None:
            asked = {known.at_least, min(known.at_least + self._ahead, known.best - 1)}
        else:
            asked = {number_to_ask(known, enough)}
        for treadles in sorted(asked):
            search = self._search(treadles)
            self._watch.allow(self._turn if enough is not None else self._turn_at(treadles))
            try:
                columns = search.columns()
            except SearchPausedError:
                if self._watch.stopped:
                    break
                continue
            del self._open[treadles]
            return known.answered(treadles, columns)
        return known

    def _turn_at(self, treadles: int) -> int:
        self._turns[treadles] += 1
        return max(self._turn, self._long_turn if self._turns[treadles] == LONG_AFTER else 0)

    def _search(self, treadles: int) -> Decision:
        if treadles not in self._open:
            self._open[treadles] = self._decide(treadles)
        return self._open[treadles]
