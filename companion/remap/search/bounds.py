"""Two bounds that close in on a number of treadles: what is proved to be needed, and what is known to do.

Every part of a search, and every answer of it, says how far it came by this one value.

When they are proven: assets/mathematics.md, "What proven means".
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Bounds:
    """`at_least` treadles are needed, and `best` are known to do (None: no number is known to)."""

    at_least: int
    best: int | None

    @property
    def proven(self) -> bool:
        """Tell whether the fewest treadles are known exactly."""
        return self.best == self.at_least

    def narrowed(self, other: Bounds) -> Bounds:
        """Return all that two searches for the same number know together."""
        known = [bounds.best for bounds in (self, other) if bounds.best is not None]
        return Bounds(max(self.at_least, other.at_least), min(known, default=None))
