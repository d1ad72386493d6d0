"""What can happen while the loom is dressed: events like those of weaving (see `events`), stored for ever like them.

Ends and dents are counted in the order in which they are done: `first` is how many were done before, a cross-check.
From which side is said when a task is begun, by the ends of the draft, so that no picture can turn it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class DressingTask(Enum):
    """What is done before the first pick; winding, threading, sleying and the test weave are stepped."""

    WINDING = "winding"
    BEAMING = "beaming"
    THREADING = "threading"
    SLEYING = "sleying"
    TIE_UP = "tie-up"
    TEST_WEAVE = "test weave"
    HEADING = "heading"


class TaskState(Enum):
    """What became of a task."""

    TO_DO = "to do"
    DONE = "done"
    SKIPPED = "skipped"


@dataclass(frozen=True, slots=True)
class TaskBegun:
    """The weaver turned to this task; `from_last`: it goes from the last end (or dent) to the first."""

    task: DressingTask
    from_last: bool = False


@dataclass(frozen=True, slots=True)
class Dressed:
    """So many more ends (dents when sleying, sheds in the test weave) are done, after the `first` ones before them."""

    task: DressingTask
    first: int
    count: int = 1


@dataclass(frozen=True, slots=True)
class DressingTakenOut:
    """The newest `count` ends (dents, sheds) of a task are out again."""

    task: DressingTask
    count: int = 1


@dataclass(frozen=True, slots=True)
class TaskSettled:
    """A task is done, skipped, or to do again, whatever was counted of it."""

    task: DressingTask
    state: TaskState


@dataclass(frozen=True, slots=True)
class SleyPlanned:
    """The weaver set the plan of the dents for this warp, from the side of end 1, and the reed in dents per cm."""

    dents: tuple[int, ...]
    reed_per_cm: float | None = None


@dataclass(frozen=True, slots=True)
class ShedFoundWrong:
    """In the test weave this shed (index in the list of tests) did not open as it must; `note` says what was wrong."""

    test: int
    note: str = ""


@dataclass(frozen=True, slots=True)
class DressingMistake:
    """A mistake found while dressing: ends (dents when sleying) `first` to `last` (indices), and whether it is mended.

    It belongs to no pick and no rate of faults; `note` says what it was and how it was mended. One that is mended
    settles those that were only found in these ends, dents and no others.
    """

    task: DressingTask
    first: int
    last: int
    mended: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class ShedPutRight:
    """A shed (index in the list of tests) that was found wrong opens as it must now; `note` says how it was mended."""

    test: int
    note: str = ""


DressingEvent = (
    TaskBegun | Dressed | DressingTakenOut | TaskSettled | SleyPlanned | ShedFoundWrong | DressingMistake | ShedPutRight
)
