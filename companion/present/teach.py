"""The questions by which a pedal that acts as a keyboard is taught."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from companion.present.asking import Answer, Answered, Asked
from companion.present.button_words import NEVER_MIND

Lesson = TypeVar("Lesson")


def ask_key(for_next: bool, skipped: Callable[[], Lesson]) -> Asked[Lesson | None]:
    """Ask for a press of the pedal for "next", or for "back"; the answers by touch are to skip it, or to leave."""
    skip: Answer[Lesson | None] = Answer("It has no pedal for that", lambda: Answered(skipped()))
    leave: Answer[Lesson | None] = Answer(NEVER_MIND, lambda: Answered(None))
    return Asked(
        f"Press the pedal for {'next' if for_next else 'back'}",
        (skip, leave),
        detail="A pedal of this kind plugs in, or pairs, as a keyboard",
    )
