"""Teaching a pedal that acts as a keyboard: it is pressed for "next" and for "back", and its keys are kept."""

from __future__ import annotations

from collections.abc import Callable

from companion.present.asking import Answer, Answered, Asked
from companion.screens.teach import TeachPlace
from companion.wiring.navigator import Navigator
from drivers.events import Press
from drivers.keys import KeyLesson

_WORDS = {Press.ADVANCE: "Press the pedal for next", Press.BACK: "Press the pedal for back"}


def teach(ways: Navigator, taught: Callable[[KeyLesson], None]) -> None:
    """Ask for the keys one after another, then call `taught` with the lesson; the weaver may want none and go back."""
    lesson = KeyLesson()

    def learn(learnt: KeyLesson | None) -> None:
        nonlocal lesson
        if learnt is None:
            ways.pop()
            return
        lesson = learnt
        if lesson.asking is None:
            taught(lesson)
        else:
            place.ask_next(_asked(lesson))

    place = TeachPlace(_asked(lesson), ways.around, key=lambda code: learn(lesson.pressed(code)), answered=learn)
    ways.push(lambda: place)


def _asked(lesson: KeyLesson) -> Asked[KeyLesson | None]:
    skip: Answer[KeyLesson | None] = Answer("It has no pedal for that", lambda: Answered(lesson.skipped()))
    leave: Answer[KeyLesson | None] = Answer("Never mind", lambda: Answered(None))
    return Asked(
        _WORDS[lesson.asking or Press.ADVANCE],
        (skip, leave),
        detail="A pedal of this kind plugs in, or pairs, as a keyboard",
    )
