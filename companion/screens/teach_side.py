"""Teaching a pedal that acts as a keyboard: it is pressed for "next" and for "back", and its keys are kept."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from kivy.uix.boxlayout import BoxLayout

from companion.present.asking import Answer, Answered, Asked
from companion.screens.ask import AskScreen
from companion.screens.look import Look
from companion.screens.place import Place
from companion.screens.theme import Sizes
from drivers.events import Press
from drivers.keys import KeyLesson

_WORDS = {Press.ADVANCE: "Press the pedal for next", Press.BACK: "Press the pedal for back"}


class TeachSide(BoxLayout, Place):  # type: ignore[misc]
    """Takes every key; calls `taught` with the lesson when it is over, `leave` when the weaver wants none."""

    def __init__(
        self,
        look: Look,
        sizes: Sizes,
        taught: Callable[[KeyLesson], None],
        leave: Callable[[], None],
        **properties: Any,
    ) -> None:
        super().__init__(**properties)
        self._lesson = KeyLesson()
        self._taught = taught
        self._leave = leave
        self.ask = AskScreen(self._asked(), look, sizes)
        self.ask.bind(on_answer=lambda _screen, answer: self._learn(answer.leads_to().result))
        self.add_widget(self.ask)

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self.ask.sizes = sizes

    def hear_key(self, code: int) -> bool:
        """Learn the key."""
        self._learn(self._lesson.pressed(code))
        return True

    def _learn(self, lesson: KeyLesson | None) -> None:
        if lesson is None:
            self._leave()
            return
        self._lesson = lesson
        if lesson.asking is None:
            self._taught(lesson)
        else:
            self.ask.asked = self._asked()

    def _asked(self) -> Asked[KeyLesson | None]:
        asking = self._lesson.asking or Press.ADVANCE
        skip: Answer[KeyLesson | None] = Answer("It has no pedal for that", lambda: Answered(self._lesson.skipped()))
        leave: Answer[KeyLesson | None] = Answer("Never mind", lambda: Answered(None))
        return Asked(_WORDS[asking], (skip, leave), detail="A pedal of this kind plugs in, or pairs, as a keyboard")
