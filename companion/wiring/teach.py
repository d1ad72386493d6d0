"""Teaching a pedal that acts as a keyboard: it is pressed for "next" and for "back", and its keys are kept."""

from __future__ import annotations

from collections.abc import Callable

from companion.present.asking import Answer, Answered, Asked
from companion.screens.teach import TeachPlace
from companion.screens.window import FellsideWindow
from drivers.events import Press
from drivers.keys import KeyLesson

_WORDS = {Press.ADVANCE: "Press the pedal for next", Press.BACK: "Press the pedal for back"}


def teach(window: FellsideWindow, taught: Callable[[KeyLesson], None], leave: Callable[[], None]) -> None:
    """Ask for the keys one after another, then call `taught` with the lesson; `leave` when the weaver wants none."""
    lesson = KeyLesson()

    def learn(learnt: KeyLesson | None) -> None:
        nonlocal lesson
        if learnt is None:
            leave()
            return
        lesson = learnt
        if lesson.asking is None:
            taught(lesson)
        else:
            place.ask_next(_asked(lesson))

    place = TeachPlace(
        _asked(lesson), window.look, window.sizes, key=lambda code: learn(lesson.pressed(code)), answered=learn
    )
    window.show(place)


def _asked(lesson: KeyLesson) -> Asked[KeyLesson | None]:
    skip: Answer[KeyLesson | None] = Answer("It has no pedal for that", lambda: Answered(lesson.skipped()))
    leave: Answer[KeyLesson | None] = Answer("Never mind", lambda: Answered(None))
    return Asked(
        _WORDS[lesson.asking or Press.ADVANCE],
        (skip, leave),
        detail="A pedal of this kind plugs in, or pairs, as a keyboard",
    )
