"""Teaching a pedal that acts as a keyboard: it is pressed for "next" and for "back", and its keys are kept."""

from __future__ import annotations

from collections.abc import Callable

from companion.present.asking import Asked
from companion.present.teach import KNOWN_ALREADY, ask_key
from companion.screens.teach import TeachPlace
from companion.wiring.navigator import Navigator
from drivers.events import Press
from drivers.keys import KeyLesson


def teach(ways: Navigator, taught: Callable[[KeyLesson], None]) -> None:
    """Ask for the keys one after another, then call `taught` with the lesson; the weaver may want none and go back."""
    lesson = KeyLesson()

    def learn(learnt: KeyLesson) -> None:
        nonlocal lesson
        known, lesson = learnt == lesson, learnt
        if lesson.asking is None:
            taught(lesson)
        elif known:
            place.say(KNOWN_ALREADY)
        else:
            place.ask_next(_asked(lesson))

    place = TeachPlace(_asked(lesson), ways.around, key=lambda code: learn(lesson.pressed(code)), answered=learn)
    ways.push(lambda: place)


def _asked(lesson: KeyLesson) -> Asked[KeyLesson]:
    return ask_key(lesson.asking is not Press.BACK, lesson.skipped)
