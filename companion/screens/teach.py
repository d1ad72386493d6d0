"""A place that takes every key for itself, to learn what a pedal that acts as a keyboard sends."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from companion.present.asking import Asked
from companion.screens.flow_place import FlowPlace
from companion.screens.surroundings import Surroundings


class TeachPlace(FlowPlace):
    """Shows a question whose answer is a key; `key` is told its code, `answered` the result of an answer by touch."""

    def __init__(
        self,
        asked: Asked[Any],
        around: Surroundings,
        key: Callable[[int], None],
        answered: Callable[[Any], None],
        **properties: Any,
    ) -> None:
        super().__init__(asked, around, answered, **properties)
        self._key = key

    def ask_next(self, asked: Asked[Any]) -> None:
        """Ask for another key; what was learnt stays learnt, so no way leads back to the one before."""
        self._flow.begin(asked)

    def hear_key(self, code: int) -> bool:
        """Hand the key on."""
        self._key(code)
        return True

    def hear_text(self, text: str) -> bool:
        """Let no key that is taught write anything."""
        return True
