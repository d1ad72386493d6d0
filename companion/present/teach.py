"""The questions by which a pedal that acts as a keyboard is taught."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from companion.present.asking import Answer, Answered, Asked

Lesson = TypeVar("Lesson")

KNOWN_ALREADY = "This one says next already: press another, or touch below"
"""What is said to a press that has its meaning."""


def ask_key(for_next: bool, skipped: Callable[[], Lesson]) -> Asked[Lesson]:
    """Ask for a press of the pedal for "next", or for "back"; the answer by touch is to skip it."""
    skip: Answer[Lesson] = Answer("It has no pedal for that", lambda: Answered(skipped()))
    return Asked(
        f"Press the pedal for {'next' if for_next else 'back'}",
        (skip,),
        detail="A pedal of this kind plugs in, or pairs, as a keyboard",
        topic="Teaching a pedal",
    )
