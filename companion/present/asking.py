"""Questions put to the weaver as values: words, a few answers, and what each answer leads to.

A flow (fault, measure, find, resume) is a chain of questions that ends in commands; the screen that shows it knows none
of them. Answers lead on by a call, so that a flow without end (one centimetre more, one more) is never built ahead.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from companion.weaving.events import Event
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

Command = Callable[[Warp, Progress], Event]


@dataclass(frozen=True, slots=True)
class Answered:
    """The end of a flow: these commands are to be carried out, in order, and the pick is shown again."""

    commands: tuple[Command, ...] = ()


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer: its words, and what comes after it. `main`: the answer that most weavers give here."""

    words: str
    leads_to: Callable[[], Asked | Answered]
    main: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """One question; `detail` is a smaller line below it, `with_cloth` shows the rows at the fell beside it.

    `top_pick` (index) is the pick drawn as the newest row, where it is not the newest one of the journal.
    """

    words: str
    answers: tuple[Answer, ...]
    detail: str = ""
    with_cloth: bool = False
    top_pick: int | None = None


def nothing() -> Answered:
    """Go back to the pick and change nothing."""
    return Answered()


NEVER_MIND = Answer("Never mind", nothing)
