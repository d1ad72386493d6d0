"""What the search for the fewest treadles can say: solved, proved impossible, or out of budget; always with bounds.

When each is said: assets/mathematics.md, "What proven means".
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

from companion.remap.loom.targets import Columns
from companion.remap.search.bounds import Bounds


class Part(Enum):
    """The part of an answer that is being worked at."""

    FEWEST = "fewest treadles"
    FEET = "feet"
    STAGES = "stages"
    CONFLICT = "conflict"
    OTHER_WAYS = "other ways"


@dataclass(frozen=True, slots=True)
class SearchProgress:
    """How far an answer has come, after so many nodes of the search."""

    bounds: Bounds
    nodes: int
    part: Part = Part.FEWEST


@dataclass(frozen=True, slots=True)
class Solved:
    """Columns that open every target asked for, and the bounds on their number."""

    columns: Columns
    bounds: Bounds
    nodes: int = 0


@dataclass(frozen=True, slots=True)
class ProvedImpossible:
    """More treadles are needed than were allowed."""

    bounds: Bounds
    nodes: int = 0
    columns: None = None


@dataclass(frozen=True, slots=True)
class OutOfBudget:
    """The search was stopped; `columns` are the best answer so far, however large, or None."""

    columns: Columns | None
    bounds: Bounds
    nodes: int = 0


Outcome = Solved | ProvedImpossible | OutOfBudget
ShouldStop = Callable[[], bool]
OnProgress = Callable[[SearchProgress], None]


def never_stop() -> bool:
    """Let a search run to its end."""
    return False


def tell_nobody(_progress: SearchProgress) -> None:
    """Take a search's progress and do nothing with it."""
