"""Questions put to the weaver as values: words, a few answers, and what each answer leads to.

A flow (fault, measure, find, resume, start) is a chain of questions that ends in a result; the screen that shows it
knows none of them. Answers lead on by a call, so that a flow without end (one centimetre more, one more) is never built
ahead. `Result` is what a flow ends in: for flows at the loom, commands.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from typing import Generic, TypeVar

from companion.weaving.events import Event
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

Result = TypeVar("Result")

Command = Callable[[Warp, Progress], Event]
Commands = tuple[Command, ...]
"""What a flow at the loom ends in: carried out in order, then the pick is shown again."""


class Elsewhere(Enum):
    """What a flow at the loom may end in instead: the weaver goes from the loom to something else."""

    OTHER_WARP = "another warp"
    RECORD = "the record of this warp"


AtLoom = Commands | Elsewhere


@dataclass(frozen=True, slots=True)
class Answered(Generic[Result]):
    """The end of a flow."""

    result: Result


@dataclass(frozen=True, slots=True)
class Answer(Generic[Result]):
    """One answer: its words, and what comes after it. `main`: the answer that most weavers give here."""

    words: str
    leads_to: Callable[[], Outcome[Result]]
    main: bool = False


@dataclass(frozen=True, slots=True)
class Asked(Generic[Result]):
    """One question; `detail` is a smaller line below it, `with_cloth` shows the rows at the fell beside it.

    `top_pick` (index) is the pick drawn as the newest row, where it is not the newest one of the journal.
    `lines` stand above the answers, to be read first.
    """

    words: str
    answers: tuple[Answer[Result], ...]
    detail: str = ""
    with_cloth: bool = False
    top_pick: int | None = None
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class AskedToWrite(Generic[Result]):
    """A question answered in the weaver's own words: a note, a name. `written` stands there to begin with.

    `leads_to` takes what was written, never an empty line.
    """

    words: str
    leads_to: Callable[[str], Outcome[Result]]
    written: str = ""


Outcome = Asked[Result] | AskedToWrite[Result] | Answered[Result]
"""What an answer leads to: another question, or the end of the flow."""


def nothing() -> Answered[AtLoom]:
    """Go back to the pick and change nothing."""
    return Answered(())


NEVER_MIND: Answer[AtLoom] = Answer("Never mind", nothing)
