"""The engine that climbs from below: do as few columns as are not ruled out yet? If not, one more is needed.

Which search decides that for a number of columns depends on the reach (`pairs`, `runs`).

Lemmas and proofs: assets/mathematics.md, "The portfolio".
"""

from __future__ import annotations

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


Decide = Callable[[int], Decision]
"""Begins the decision for this number of columns, which is no less than the fooling set that it starts from."""


class FromBelow:
    """Asks for the fewest columns not ruled out and, `ahead` of that, for some more that may be found sooner."""

    def __init__(self, decide: Decide, ahead: int, turn: int, watch: Watch) -> None:
        self._decide = decide
        self._ahead = ahead
        self._turn = turn
        self._watch = watch
        self._open: dict[int, Decision] = {}

    def work(self, known: Found, enough: int | None) -> Found:
        """Take one turn at each number that is asked for, until one of them is decided."""
        if enough is None:
            asked = {known.at_least, min(known.at_least + self._ahead, known.best - 1)}
        else:
            asked = {number_to_ask(known, enough)}
        for treadles in sorted(asked):
            search = self._search(treadles)
            self._watch.allow(self._turn)
            try:
                columns = search.columns()
            except SearchPausedError:
                if self._watch.stopped:
                    break
                continue
            del self._open[treadles]
            return known.answered(treadles, columns)
        return known

    def _search(self, treadles: int) -> Decision:
        if treadles not in self._open:
            self._open[treadles] = self._decide(treadles)
        return self._open[treadles]
