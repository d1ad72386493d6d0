"""What the engines of the search have in common: they work a while, say what they found, and go on where they were.

An engine closes in on the fewest columns of one group of targets in a way of its own. The portfolio hands it what is
known by now and gets back what is known after its turn, so that what one proves counts for all.

Lemmas and proofs: assets/mathematics.md, "The portfolio".
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Protocol

from companion.remap.loom.targets import Columns
from companion.remap.search.bounds import Bounds


@dataclass(frozen=True, slots=True)
class Found:
    """What is known of one group: `at_least` columns are needed, and `columns` are the fewest known to open it."""

    at_least: int
    columns: Columns

    @property
    def best(self) -> int:
        """How many columns are known to do."""
        return len(self.columns)

    @property
    def bounds(self) -> Bounds:
        """The same as numbers."""
        return Bounds(self.at_least, self.best)

    def needing(self, at_least: int) -> Found:
        """Return it with so many columns proved to be needed."""
        return replace(self, at_least=at_least) if at_least > self.at_least else self

    def opened_by(self, columns: Columns) -> Found:
        """Return it with this answer, where that has fewer columns."""
        return replace(self, columns=columns) if len(columns) < self.best else self

    def answered(self, treadles: int, columns: Columns | None) -> Found:
        """Return it after the question whether so many columns do: these do, or (None) none do."""
        return self.needing(treadles + 1) if columns is None else self.opened_by(columns)


class Engine(Protocol):
    """One way to close in; it keeps its place between turns."""

    def work(self, known: Found, enough: int | None) -> Found:
        """Work for one turn and return what is known after it; `known` itself where nothing has come out.

        There is a gap in `known`. Where it only matters whether `enough` columns do, that is what is best asked.
        """
        ...


def number_to_ask(known: Found, enough: int) -> int:
    """Return for which number of columns to ask, where it matters only whether `enough` do: within the gap."""
    return min(max(enough, known.at_least), known.best - 1)
