"""What the search for the fewest treadles can say: solved, proved impossible, or out of budget with bounds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

from companion.draft.masks import Shed
from companion.remap.loom.loom import Footing, TieUp


class Part(Enum):
    """The part of an answer that is being worked at."""

    FEWEST = "fewest treadles"
    FEET = "feet"
    STAGES = "stages"
    CONFLICT = "conflict"
    OTHER_WAYS = "other ways"


@dataclass(frozen=True, slots=True)
class Progress:
    """How far an answer has come: `best` treadles are known to do (None: none yet), `at_least` are needed."""

    best: int | None
    at_least: int
    nodes: int
    part: Part = Part.FEWEST


@dataclass(frozen=True, slots=True)
class Answer:
    """A tie-up and, for every shed it was asked for, one footing that opens exactly that shed."""

    tieup: TieUp
    sheds: tuple[Shed, ...]
    footings: tuple[Footing, ...]

    @property
    def treadles(self) -> int:
        """How many treadles are tied."""
        return len(self.tieup)

    def footing_of(self, shed: Shed) -> Footing:
        """Return the footing that opens this shed; KeyError when the answer was not asked for it."""
        if shed not in self.sheds:
            raise KeyError(shed)
        return self.footings[self.sheds.index(shed)]


@dataclass(frozen=True, slots=True)
class Solved:
    """An answer, and the number of treadles that every answer needs."""

    answer: Answer
    at_least: int
    nodes: int = 0

    @property
    def treadles(self) -> int:
        """How many treadles the answer uses."""
        return self.answer.treadles

    @property
    def proven(self) -> bool:
        """Tell whether no answer uses fewer treadles."""
        return self.treadles == self.at_least


@dataclass(frozen=True, slots=True)
class ProvedImpossible:
    """More treadles are needed than were allowed: at least `at_least`."""

    at_least: int
    nodes: int = 0


@dataclass(frozen=True, slots=True)
class OutOfBudget:
    """The search was stopped: `at_least` treadles are needed, and `best` is the best answer so far, however large."""

    at_least: int
    best: Answer | None
    nodes: int = 0


Outcome = Solved | ProvedImpossible | OutOfBudget
ShouldStop = Callable[[], bool]
OnProgress = Callable[[Progress], None]


def never_stop() -> bool:
    """Let a search run to its end."""
    return False


def tell_nobody(_progress: Progress) -> None:
    """Take a search's progress and do nothing with it."""
